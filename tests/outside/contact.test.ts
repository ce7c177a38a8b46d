/**
 * The pencil case and its tapered copy, step by step, against plane geometry of our own (sevenths of 210 mm, so 30 mm a
 * unit). In cross-section the hinge stands at (3, 1), the front wall at y = 1 from z = 0 to 1, its gussets flat on it.
 * With the lid still open by `open` and the flap leaning in by `lean` from upright, the flap's crease is at
 * (3 - 2 cos open, 1 + 2 sin open): at the rim it stands off the wall by 2 (1 - cos open) - 2 sin open tan lean, its tip
 * by 2 (1 - cos open) - sin lean. Fold angles: lid 90 - open, flap 90 + open - lean.
 */

import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Finding } from '../../src/core/finding/finding.ts';
import type { Drive, Lesson, Step } from '../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { planOfLesson } from '../../src/core/run/plan.ts';
import { runPlan } from '../../src/core/run/run.ts';
import { panelContaining } from '../../src/core/sheet/walk.ts';
import { readLesson } from '../../src/core/storage/lesson/read.ts';
import { sentenceOf } from '../../src/words/findings.ts';
import { panelsInSpace, type Space } from '../oracles/contact.ts';
import { radians } from '../support/patterns.ts';
import { said } from '../support/said.ts';

function load(name: string): Lesson {
  const file = new URL(`../../public/lessons/${name}.json`, import.meta.url);
  return readLesson(JSON.parse(readFileSync(file, 'utf8'))).lesson!;
}

function check(lesson: Lesson) {
  const sheet = sheetOfLesson(lesson).sheet!;
  const plan = planOfLesson(lesson, sheet);
  expect(plan.findings.filter(({ code }) => code === 'step-misses')).toEqual([]);
  const { steps } = runPlan(plan, { bend: false, free: false });
  const tracks = steps.map(({ track }) => track);
  expect(tracks.map(({ report }) => report.outcome)).toEqual(lesson.steps.map(() => 'rigid'));
  const { x, y, scale } = sheet.frame;
  /** Panel at a point of the pattern. */
  const panel = (px: number, py: number) => panelContaining(sheet, (px - x) / scale, (py - y) / scale);
  const still = panel(...(lesson.still as [number, number]));
  const found = steps.map(({ look }) => [...look!.findings]);
  return { sheet, tracks, still, panel, found };
}

/** The angle that the last step up to one drives a line to. */
function driven({ steps }: Lesson, step: number, from: readonly number[], to: readonly number[]): number {
  const drives = steps.slice(0, step + 1).flatMap((one) => one.drives);
  return drives.findLast((d) => String([d.from, d.to]) === String([from, to]))!.angle;
}

/** Lid and flap at the end of a step (from 0), degrees. */
const lidAndFlap = (lesson: Lesson, step: number) => ({
  lid: driven(lesson, step, [1, 4], [6, 4]),
  flap: driven(lesson, step, [1, 6], [6, 6]),
});
type Closing = ReturnType<typeof lidAndFlap>;

/** Largest stand-off at the rim and deepest way of the tip through the wall, mm, from one step's angles to the next. */
function standOff(from: Closing, to: Closing): { rim: number; tip: number } {
  let [rim, tip] = [0, 0];
  for (let t = 0; t <= 1; t += 1 / 2048) {
    const lid = from.lid + t * (to.lid - from.lid);
    const flap = from.flap + t * (to.flap - from.flap);
    const open = (90 - lid) * radians;
    const lean = open - (flap - 90) * radians;
    rim = Math.max(rim, 30 * (2 * (1 - Math.cos(open)) - 2 * Math.sin(open) * Math.tan(lean)));
    tip = Math.max(tip, -30 * (2 * (1 - Math.cos(open)) - Math.sin(lean)));
  }
  return { rim, tip };
}

describe('the pencil case as drawn', () => {
  const lesson = load('pencil-case');
  const { found, panel } = check(lesson);
  const [bent, slid, pressed] = [3, 4, 5].map((step) => lidAndFlap(lesson, step)) as [
    Closing,
    Closing,
    Closing,
  ];

  test('its flap is tight against the front gussets while it is tucked, by about 1 mm as plane geometry has it', () => {
    expect(found.map((list) => list.map(({ code, severity }) => [code, severity]))).toEqual([
      [],
      [],
      [],
      [],
      [['panels-tight', 'warning']],
      [['panels-tight', 'warning']],
    ]);
    const [tight] = found[5] as [Finding];
    const { value, panels, at } = tight;
    const message = sentenceOf(tight);
    const { rim } = standOff(slid, pressed);
    expect(rim).toBeGreaterThan(0.9);
    expect(rim).toBeLessThan(1.2);
    expect(value).toBeCloseTo(rim, 2);
    const gussets = [panel(0.8, 0.3), panel(0.3, 0.8), panel(6.2, 0.3), panel(6.7, 0.8)];
    expect(panels).toEqual(expect.arrayContaining([panel(3.5, 6.5), ...gussets]));
    // the worst pair comes first: the flap and one of them, and where on each
    expect(panels.slice(0, 2)).toContain(panel(3.5, 6.5));
    expect(gussets).toContain(panels.slice(0, 2).find((one) => one !== panel(3.5, 6.5)));
    expect(message).toContain('Step 6 ("Press shut")');
    expect(message).toContain('at 0 % of the step');
    expect(message).toContain('paper must flex by about 1.0 mm');
    // on the flap at the rim of the wall, as far from its crease as the lid still stands open, over the gusset
    const [u, v] = at[panels.indexOf(panel(3.5, 6.5))]!.map((part) => 7 * part) as [number, number];
    expect(Math.min(u - 1, 6 - u)).toBeGreaterThan(-0.01);
    expect(Math.min(u - 1, 6 - u)).toBeLessThan(1.01);
    expect(v - 6).toBeCloseTo(2 * Math.sin((90 - slid.lid) * radians), 1);
  });

  test('on the way in its tip presses on the front wall by half a millimetre', () => {
    const [{ value }] = found[4] as [Finding];
    const { tip } = standOff(bent, slid);
    expect(value).toBeCloseTo(tip, 2);
    expect(tip).toBeLessThan(0.6);
  });
});

describe('the tapered copy', () => {
  const lesson = load('tapered-case');
  const { found, tracks, panel } = check(lesson);

  test('folds in by a fifth of a unit at the tip, goes in free, and moves nothing that no hand can reach', () => {
    const { lines } = lesson.pattern;
    for (const [from, to] of [
      [
        [1, 6],
        [1.2, 7],
      ],
      [
        [6, 6],
        [5.8, 7],
      ],
    ])
      expect(lines.filter((line) => String([line.from, line.to]) === String([from, to]))).toHaveLength(1);
    expect(found.flat()).toEqual([]);
    expect(tracks).toHaveLength(7);
  });

  test('by plane geometry: the flap keeps inside the wall, and inside the open gussets where it is as wide as they', () => {
    // at `along` from its crease the flap's side is 0.2 along off the corner, where a gusset open by 45 degrees is too
    const [poised, slid, shut] = [4, 5, 6].map((step) => lidAndFlap(lesson, step)) as [
      Closing,
      Closing,
      Closing,
    ];
    for (const [from, to] of [
      [poised, slid],
      [slid, shut],
    ] as const)
      for (let t = 0; t <= 1; t += 1 / 512) {
        const open = (90 - from.lid - t * (to.lid - from.lid)) * radians;
        const lean = open - (from.flap + t * (to.flap - from.flap) - 90) * radians;
        for (let along = (2 * Math.sin(open)) / Math.cos(lean); along <= 1; along += 1 / 64) {
          const off = 2 * (1 - Math.cos(open)) - along * Math.sin(lean);
          expect(off).toBeGreaterThan(-1e-9);
          expect(off).toBeLessThan(0.2 * along * Math.tan(45 * radians) + 1e-9);
        }
      }
  });

  test('gussets laid on the flap once the lid is shut: no hand can reach them, and the step says which', () => {
    const shut = lesson.steps[6]!;
    const drives: Drive[] = [
      { from: [1, 0], to: [1, 1], angle: 180 },
      { from: [6, 0], to: [6, 1], angle: 180 },
      { from: [0, 1], to: [1, 1], angle: 90 },
      { from: [6, 1], to: [7, 1], angle: 90 },
    ];
    const { orders: _, ...plain } = shut;
    const late: Step = { ...plain, title: 'Gussets last', kind: 'tuck', drives };
    const { found: again } = check({ ...lesson, steps: [...lesson.steps, late] });
    const reach = again[7]!.filter(({ code }) => code === 'panel-out-of-reach');
    expect(again.slice(0, 7).flat()).toEqual([]);
    expect(reach.flatMap(({ panels }) => panels).sort((a, b) => a - b)).toEqual(
      [panel(0.8, 0.3), panel(0.3, 0.8), panel(6.2, 0.3), panel(6.7, 0.8)].sort((a, b) => a - b),
    );
    expect(sentenceOf(reach[0]!)).toMatch(/^Step 8 \("Gussets last"\): panels .* no hand can reach/);
    expect(reach[0]!.severity).toBe('warning');
  });
});

describe('steps in the wrong order', () => {
  const lesson = load('pencil-case');
  const [hems, front, , , , press] = lesson.steps as Step[];
  const has = (drive: Drive, y: number) => drive.from[1] === y && drive.to[1] === y;

  test('the flap bent before the lid comes down outside the front wall: step, moment and panels are named', () => {
    const flapFirst: Step = {
      ...{ title: 'Flap first', kind: 'fold', sentence: 'Bend the flap.' },
      drives: press!.drives.map((drive) => (has(drive, 4) ? { ...drive, angle: 0 } : drive)),
    };
    const { found, panel } = check({
      ...lesson,
      steps: [hems!, front!, flapFirst, { ...press!, title: 'Lid last' }],
    });
    expect(found.slice(0, 3).flat()).toEqual([]);
    const blocked = found[3]!.filter(({ code }) => code === 'tuck-blocked');
    expect(blocked).toHaveLength(1);
    const [{ panels, value }] = blocked as [Finding];
    const message = said(blocked);
    expect(message).toContain('Step 4 ("Lid last")');
    expect(panels).toEqual(expect.arrayContaining([panel(3.5, 6.5), panel(3.5, 0.5)]));
    // the tip comes below the rim where tan open = 1/2, with the lid 63.4 of its 90 degrees down; poses are 4 apart
    const moment = Number(/from (\d+) % of it/.exec(message)![1]);
    expect(Math.abs(moment - (100 * (90 - Math.atan(0.5) / radians)) / 90)).toBeLessThan(5);
    // there it stands off the wall by sqrt 5 - 2, and never further while it is below the rim
    expect(value).toBeGreaterThan(30 * (Math.sqrt(5) - 2) - 0.5);
    expect(value).toBeLessThan(30 * (Math.sqrt(5) - 2) + 1e-6);
  });

  test('the front wall raised last, with the flap in the way of its gussets: as fine sampling has it', () => {
    // the front stays as it lay after the first step while lid and flap are folded
    const last: Step = { ...front!, title: 'Front last', kind: 'tuck' };
    const steps = [hems!, ...lesson.steps.slice(2), last].map(({ orders: _, ...step }) => step);
    const { found, sheet, tracks, still, panel } = check({ ...lesson, steps });
    expect(found.slice(0, -1).flat()).toEqual([]);
    const [{ code, panels }] = found.at(-1) as [Finding];
    const message = said(found.at(-1)!);
    expect(code).toBe('tuck-blocked');
    expect(message).toContain('Step 6 ("Front last")');
    const gussets = [panel(0.8, 0.3), panel(0.3, 0.8), panel(6.2, 0.3), panel(6.7, 0.8)];
    expect(panels).toEqual(expect.arrayContaining([panel(3.5, 6.5), ...gussets]));
    // the flap should lie behind the gussets; they come in before it, so it does not get there: from the moment on at
    // which an edge of them stands before the flap, between its sides and its ends
    const { poses } = tracks.at(-1)!;
    const enters = poses.find(({ angle }) => {
      const placed = panelsInSpace(sheet, angle, still);
      return gussets.some((one) =>
        alongEdges(placed[one]!).some(([x, , z]) => Math.min(7 * x - 1, 6 - 7 * x, 7 * z, 1 - 7 * z) > 0.01),
      );
    })!;
    const first = Number(/from (\d+) % of it/.exec(message)![1]) / 100;
    expect(Math.abs(first - enters.at)).toBeLessThan(0.05);
  });
});

/** Points along the outline of a panel in space, a fiftieth of each edge apart. */
function alongEdges(outline: readonly Space[]): Space[] {
  return outline.flatMap((a, k) => {
    const b = outline[(k + 1) % outline.length]!;
    return Array.from(
      { length: 50 },
      (_, i) => a.map((v, axis) => v + (i / 50) * (b[axis]! - v)) as unknown as Space,
    );
  });
}
