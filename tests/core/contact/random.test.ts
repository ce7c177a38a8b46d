/**
 * Random motions against a slow and obvious oracle at poses fifty times as fine: no crossing is missed, and none is
 * told that is not there. CREASEWAY_SEED=n runs other motions, CREASEWAY_SOAK=1 many more.
 */
import { describe, expect, test } from 'vitest';
import { type Contact, contactsOfTrack } from '../../../src/core/contact/track.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { PoseCorrector } from '../../../src/core/pose/correct.ts';
import { foldStep } from '../../../src/core/pose/fold-step.ts';
import type { TrackPose } from '../../../src/core/pose/track.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { creaseMiddle, panelContaining } from '../../../src/core/sheet/walk.ts';
import { panelsInSpace, pierces } from '../../oracles/contact.ts';
import { foldLesson, sampleLesson } from '../../support/lessons.ts';
import { PatternMaker, radians } from '../../support/patterns.ts';
import { hingedStrip, runOf } from '../../support/strips.ts';

const seed = Number(process.env.CREASEWAY_SEED ?? 61);
const soak = process.env.CREASEWAY_SOAK === '1';

/** Pairs that the oracle sees cross at any of the poses: beyond doubt (by 2e-4 and more), or at all. */
function seenBy(
  sheet: Sheet,
  poses: readonly TrackPose[],
  still: number,
  beside: (a: number, b: number) => boolean,
) {
  const sure = new Set<string>();
  const maybe = new Set<string>();
  for (const { angle } of poses) {
    const placed = panelsInSpace(sheet, angle, still);
    for (let a = 0; a < placed.length; a++)
      for (let b = a + 1; b < placed.length; b++) {
        const pair = `${a},${b}`;
        if (sure.has(pair) || beside(a, b) || !pierces(placed[a]!, placed[b]!, -1e-6)) continue;
        maybe.add(pair);
        if (pierces(placed[a]!, placed[b]!, 2e-4)) sure.add(pair);
      }
  }
  return { sure, maybe };
}

/** Holds contacts against what the oracle saw; says whether there was a crossing. */
function agree(contacts: readonly Contact[], seen: ReturnType<typeof seenBy>, name: string): boolean {
  const told = contacts.map(({ panels }) => panels.join());
  for (const pair of seen.sure) expect(told, `${name}: panels ${pair} cross`).toContain(pair);
  for (const { panels, kind, depth } of contacts)
    if (kind === 'through' && depth > 2e-3)
      expect([...seen.maybe], `${name}: panels ${panels} are said to cross`).toContain(panels.join());
  return seen.sure.size > 0;
}

/** Panels on both sides of a crease. */
function besideOf(sheet: Sheet): (a: number, b: number) => boolean {
  const pairs = new Set<string>();
  for (let e = 0; e < sheet.creaseKind.length; e++)
    pairs.add([sheet.halfEdgePanel[2 * e]!, sheet.halfEdgePanel[2 * e + 1]!].sort((a, b) => a - b).join());
  return (a, b) => pairs.has(`${a},${b}`);
}

describe('random motions against poses fifty times as fine', () => {
  const chance = (offset: number) => {
    const random = seededRandom(seed + offset);
    return (low: number, high: number) => low + (high - low) * random();
  };
  /** No crease goes further than 40 degrees, so that the fine poses stay few. */
  const stops = (between: ReturnType<typeof chance>, count: number): [number[], number[]] => {
    const from = Array.from({ length: count }, () => between(-150, 150));
    return [from, from.map((a) => Math.max(-180, Math.min(180, a + between(-40, 40))))];
  };

  const strips = soak ? 10_000 : 200;
  test(`${strips} flaps of strips driven at their walls, seed ${seed}`, {
    timeout: soak ? 3_600_000 : 60_000,
  }, () => {
    const between = chance(1);
    let crossed = 0;
    for (let k = 0; k < strips; k++) {
      const lengths = Array.from({ length: 3 + Math.floor(between(0, 3)) }, () => between(0.3, 1.2));
      const lean = lengths.map(() => between(-0.14, 0.14));
      const strip = hingedStrip(lengths, between(0.4, 1.2), [...lean, 0]);
      const { sheet } = strip;
      const still = strip.panels[0]!;
      const run = stops(between, strip.creases.length);
      const { contacts } = contactsOfTrack({ sheet, poses: runOf(strip, run), still });
      const seen = seenBy(sheet, runOf(strip, run, 4 / 50), still, besideOf(sheet));
      if (agree(contacts, seen, `strip ${k} of seed ${seed}`)) crossed++;
    }
    // the strips put the question: many cross, many do not
    expect(Math.min(crossed, strips - crossed)).toBeGreaterThan(strips / 10);
  });

  const fans = soak ? 5_000 : 150;
  test(`${fans} open fans round one point, seed ${seed}`, { timeout: soak ? 3_600_000 : 60_000 }, () => {
    const between = chance(2);
    let crossed = 0;
    for (let k = 0; k < fans; k++) {
      const count = 3 + Math.floor(between(0, 3));
      const sectors = Array.from({ length: count }, () => between(20, 330 / count));
      const maker = new PatternMaker();
      const centre = maker.point(0, 0);
      let direction = 0;
      const rim = [0, ...sectors].map((sector) => {
        direction += sector * radians;
        const reach = between(0.4, 1);
        return maker.point(reach * Math.cos(direction), reach * Math.sin(direction));
      });
      const creases = rim
        .map((end, i) => maker.line(centre, end, i === 0 || i === count ? 'edge' : 'unassigned'))
        .slice(1, -1);
      for (let i = 0; i < count; i++) maker.line(rim[i]!, rim[i + 1]!, 'edge');
      const sheet = maker.sheet();
      const fan = { sheet, creases, panels: [0], unit: 1 };
      const run = stops(between, creases.length);
      const { contacts } = contactsOfTrack({ sheet, poses: runOf(fan, run), still: 0 });
      const seen = seenBy(sheet, runOf(fan, run, 4 / 50), 0, besideOf(sheet));
      if (agree(contacts, seen, `fan ${k} of seed ${seed}`)) crossed++;
    }
    expect(Math.min(crossed, fans - crossed)).toBeGreaterThan(fans / 20);
  });

  const notched = soak ? 5_000 : 150;
  test(`${notched} strips of panels with deep notches, seed ${seed}`, {
    timeout: soak ? 3_600_000 : 60_000,
  }, () => {
    const between = chance(4);
    let crossed = 0;
    for (let k = 0; k < notched; k++) {
      const count = 3 + Math.floor(between(0, 3));
      const maker = new PatternMaker();
      const at = [0];
      for (let i = 0; i < count; i++) at.push(at[i]! + between(0.4, 1.2));
      const low = at.map((x) => maker.point(x, 0));
      const high = at.map((x) => maker.point(x, 1));
      const creases = at.map((_, i) =>
        maker.line(low[i]!, high[i]!, i === 0 || i === count ? 'edge' : 'unassigned'),
      );
      for (let i = 0; i < count; i++) {
        const wide = at[i + 1]! - at[i]!;
        const notch = (from: number, to: number, y: number, deep: number) => {
          const points = [0.25, 0.35, 0.65, 0.75].map((part, n) =>
            maker.point(at[i]! + part * wide, n === 0 || n === 3 ? y : deep),
          );
          const way = [from, ...points, to];
          for (let n = 0; n + 1 < way.length; n++) maker.line(way[n]!, way[n + 1]!, 'edge');
        };
        notch(high[i]!, high[i + 1]!, 1, between(0.3, 0.9));
        maker.line(low[i]!, low[i + 1]!, 'edge');
      }
      const sheet = maker.sheet();
      const strip = { sheet, creases: creases.slice(1, -1), panels: [], unit: 1 / sheet.frame.scale };
      const still = sheet.halfEdgePanel[2 * strip.creases[0]!]!;
      const run = stops(between, strip.creases.length);
      const { contacts } = contactsOfTrack({ sheet, poses: runOf(strip, run), still });
      const seen = seenBy(sheet, runOf(strip, run, 4 / 50), still, besideOf(sheet));
      if (agree(contacts, seen, `notched strip ${k} of seed ${seed}`)) crossed++;
    }
    expect(Math.min(crossed, notched - crossed)).toBeGreaterThan(notched / 20);
  });

  const cases = soak ? 200 : 6;
  test(`${cases} motions of the pencil case to angles at random, seed ${seed}`, {
    timeout: soak ? 3_600_000 : 60_000,
  }, () => {
    // its corners have to close on the way: poses between those of the track are closed again
    const between = chance(3);
    const { sheet, stages } = sampleLesson('pencil-case');
    const open = foldLesson(sheet, stages.slice(0, 2)).at(-1)!.poses.at(-1)!.angle;
    const still = panelContaining(sheet, 3.5 / 7, 2 / 7);
    const corrector = new PoseCorrector(sheet);
    const at = (y: number) =>
      [...sheet.creaseKind.keys()].filter((e) => Math.abs(7 * creaseMiddle(sheet, e)[1] - y) < 1e-6);
    let crossed = 0;
    for (let k = 0; k < cases; k++) {
      const target = open.map(() => Number.NaN);
      const [lid, flap] = [between(60, 130), between(20, 170)];
      for (const [y, angle] of [
        [4, lid],
        [6, flap],
      ] as const)
        for (const e of at(y)) {
          const x = 7 * creaseMiddle(sheet, e)[0];
          target[e] = (x > 1 && x < 6 ? angle : -angle) * radians;
        }
      const motion = foldStep(sheet, open, { target }, { bend: false, free: false });
      let track = motion.next();
      while (!track.done) track = motion.next();
      const { poses } = track.value;
      const { contacts } = contactsOfTrack({ sheet, poses, still });
      const fine = poses.slice(1).flatMap(({ angle, at: moment }, j): TrackPose[] =>
        Array.from({ length: soak ? 50 : 10 }, (_, i) => {
          const before = poses[j]!.angle;
          const part = (i + 1) / (soak ? 50 : 10);
          const near = before.map((a, e) => a + part * (angle[e]! - a));
          return { at: moment, angle: corrector.correct(near).angle };
        }),
      );
      if (agree(contacts, seenBy(sheet, fine, still, besideOf(sheet)), `case ${k} of seed ${seed}`))
        crossed++;
    }
    expect(crossed).toBeGreaterThan(0);
  });
});
