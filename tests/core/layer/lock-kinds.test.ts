/**
 * Locks of thirteen kinds, each in 20 sizes, against figures worked out by plane geometry (lock-kinds.ts); and the same
 * with every length changed a little: no figure jumps, and a grade changes only where a figure passes its threshold.
 */

import { describe, expect, it } from 'vitest';
import { HOLDS_FROM, type Lock } from '../../../src/core/layer/lock/lock.ts';
import { locksOf } from '../../../src/core/layer/lock/locks.ts';
import { inPlane } from '../../../src/core/layer/lock/measure.ts';
import { cellAt } from '../../../src/core/layer/pieces.ts';
import { LayerProblem } from '../../../src/core/layer/problem.ts';
import { type Stacks, stacksOf } from '../../../src/core/layer/stacks.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { dot } from '../../../src/core/numeric/vector.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import type { LineKind } from '../../../src/core/sheet/kind.ts';
import type { Segment } from '../../../src/core/sheet/segment.ts';
import { panelContaining } from '../../../src/core/sheet/walk.ts';
import { words } from '../../../src/words/words.ts';
import { said } from '../../support/said.ts';
import {
  bandWallet,
  flatRing,
  type Kind,
  kinds,
  type Lengths,
  type Pattern,
  shutBox,
  sleeve,
} from './lock-kinds.ts';

/** The one lock of a kind, found in the state in which its layers lie as wanted. Lengths in mm. */
function lockOf(kind: Kind, lengths: Lengths): Lock {
  return lockOfPattern(
    kind.pattern(lengths),
    kind.grade === 'ring',
    `${kind.name} ${JSON.stringify(lengths)}`,
  );
}

function lockOfPattern(wanted: Pattern, ring: boolean, name: string): Lock {
  const { sheet, findings } = buildSheet(wanted.segments);
  if (!sheet) throw new Error(said(findings));
  const { x, y, scale } = sheet.frame;
  const panel = ([px, py]: readonly [number, number]) =>
    panelContaining(sheet, (px - x) / scale, (py - y) / scale);
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  const placement = placePanels(sheet, angle, panel(wanted.still));
  const problem = new LayerProblem(sheet, angle, placement);
  const lies = wanted.lies.map(([one, other, way]) => [panel(one), panel(other), way] as const);
  for (const order of problem.states()) {
    const stacks = stacksOf(problem.planes, order);
    if (!lies.every(([one, other, way]) => liesBeyond(stacks, one, other, way))) continue;
    const locks = locksOf(sheet, angle, placement, stacks, scale);
    const all = [wanted.tab, ...wanted.pocket].map(panel);
    const found = locks.filter(({ tab, pocket }) =>
      all.every((one) => tab.includes(one) || pocket.includes(one)),
    );
    expect(found.length, name).toBe(1);
    const [lock] = found as [Lock];
    for (const one of lock.tab) expect(lock.pocket).not.toContain(one);
    for (const one of wanted.first.map(panel)) expect(lock.first.panels).toContain(one);
    if (!ring) expect(lock.tab).toContain(panel(wanted.tab));
    if (lock.opens === null && !ring)
      for (const one of lock.tab) expect(lock.first.panels, 'nothing lies over itself').not.toContain(one);
    expect(words.lock.sentence(lock, scale, 'units')).not.toMatch(/\bmm\b/);
    const { depth, frictionLength } = lock;
    return { ...lock, depth: depth * scale, frictionLength: frictionLength * scale };
  }
  throw new Error(`no state lies as wanted: ${name}`);
}

function liesBeyond(
  { planes, over }: Stacks,
  one: number,
  other: number,
  way: readonly [number, number, number],
): boolean {
  const group = planes.groupOf[one]!;
  const sign = Math.sign(dot(planes.groups[group]!.normal, way));
  const both = over[group]!.filter((stack) => stack.includes(one) && stack.includes(other));
  return both.length > 0 && both.every((stack) => sign * (stack.indexOf(one) - stack.indexOf(other)) > 0);
}

const holdsAtAll = ({ depth, frictionLength }: Pick<Lock, 'depth' | 'frictionLength'>) =>
  Math.min(depth, frictionLength) >= HOLDS_FROM;

describe.each(kinds.map((kind) => [kind.name, kind] as const))('%s', (_, kind) => {
  const sizes = process.env.CREASEWAY_SOAK === '1' ? 200 : 20;
  it(`figures and grade by plane geometry, seeds 1 to ${sizes}`, () => {
    for (let seed = 1; seed <= sizes; seed++) {
      const lengths = kind.lengths(seededRandom(seed * 7919));
      const [lock, { depth, frictionLength, opens }] = [lockOf(kind, lengths), kind.figures(lengths)];
      const where = `seed ${seed} ${JSON.stringify(lengths)}`;
      expect(lock.depth, where).toBeCloseTo(depth, 6);
      expect(lock.frictionLength, where).toBeCloseTo(frictionLength, 6);
      expect(lock.grade, where).toBe(holdsAtAll({ depth, frictionLength }) ? kind.grade : 'none');
      if (opens) for (const k of [0, 1, 2]) expect(lock.opens![k], where).toBeCloseTo(opens[k]!, 6);
      else expect(lock.opens, where).toBeNull();
    }
  });

  it(`a length changed by 1e-6, 1e-4, 1e-2 mm changes no figure by more than twice that, seeds 1 to ${sizes}`, () => {
    for (let seed = 1; seed <= sizes; seed++) {
      const lengths = kind.lengths(seededRandom(seed * 7919));
      const before = lockOf(kind, lengths);
      for (const change of [1e-6, 1e-4, 1e-2])
        for (const name of Object.keys(lengths)) {
          const d = kind.atMost?.includes(name) ? -change : change;
          const after = lockOf(kind, { ...lengths, [name]: lengths[name]! + d });
          const where = `seed ${seed}, ${name} by ${d} ${JSON.stringify(lengths)}`;
          // twice the change, and the rounding of places
          const most = 2 * change + 1e-9;
          expect(Math.abs(after.depth - before.depth), where).toBeLessThan(most);
          expect(Math.abs(after.frictionLength - before.frictionLength), where).toBeLessThan(most);
          if (holdsAtAll(before) === holdsAtAll(after)) expect(after.grade, where).toBe(before.grade);
        }
    }
  });
});

it('a tongue folded over the top into a flap bars the way up: out of its pocket the flap goes sideways only', () => {
  // the flaps overlap by 20 + 20 - 30; the band is 8 high
  const lengths = { w: 30, left: 20, right: 20, p: 8, b: 12 };
  const open = lockOfPattern(bandWallet(lengths), false, 'without a tongue');
  expect(open.depth).toBeCloseTo(8, 9);
  expect(open.opens![1]).toBeCloseTo(1, 9);
  // the tongue hangs on the middle and reaches down to 4 above the fold of the band, into the right flap
  const barred = lockOfPattern(bandWallet({ ...lengths, u: 8, t: 9 }), false, 'with a tongue');
  expect(barred.depth).toBeCloseTo(10, 9);
  expect(barred.opens![0]).toBeCloseTo(1, 9);
});

it('flaps folded flat, each over the next, are a ring too, as deep as the shortest; a stack of them is none', () => {
  const ring = lockOfPattern(flatRing(60, [12, 20, 16, 24]), true, 'flat ring');
  expect(ring.grade).toBe('ring');
  expect(ring.depth).toBeCloseTo(12, 9);
  expect(ring.opens).toBeNull();
  const { lies, ...rest } = flatRing(60, [12, 20, 16, 24]);
  const [south, west] = [lies[0]![0], lies[3]![0]];
  // the last one under the first instead of over it
  const stack = lies.map((one, k) => (k === 3 ? ([south, west, one[2]] as const) : one));
  const covered = lockOfPattern({ ...rest, lies: stack, tab: west, pocket: [south] }, true, 'flat stack');
  expect(covered.grade).not.toBe('ring');
});

it('a flat tab through a slit: over the paper on one side of it, under it on the other', () => {
  // a plate of 40 by 40 with a slit 20 from the edge on which a tab, 30 long and 10 wide, is folded over
  const line = (x1: number, y1: number, x2: number, y2: number, kind: LineKind, angle?: number): Segment => ({
    ...{ x1, y1, x2, y2, kind },
    ...(angle === undefined ? {} : { angle }),
  });
  const rim = [
    [0, 0],
    [40, 0],
    [40, 15],
    [70, 15],
    [70, 25],
    [40, 25],
    [40, 40],
    [0, 40],
  ] as const;
  const { sheet } = buildSheet([
    ...rim.map(([x, y], k) => {
      const [nextX, nextY] = rim[(k + 1) % rim.length]!;
      return line(x, y, nextX, nextY, 'edge');
    }),
    line(40, 15, 40, 25, 'valley', Math.PI),
    line(20, 13, 20, 27, 'cut'),
  ]);
  const angle = sheet!.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  const at = (x: number) => panelContaining(sheet!, x / 70, 20 / 70);
  const [plate, tab] = [at(5), at(65)];
  const placement = placePanels(sheet!, angle, plate);
  const problem = new LayerProblem(sheet!, angle, placement);
  const over = stacksOf(problem.planes, [[tab, plate, 1]]);
  const locks = (stacks: Stacks) => locksOf(sheet!, angle, placement, stacks, 70);
  expect(locks(over)).toEqual([]);
  // beyond the slit the other way round
  const beyond = cellAt(
    problem.planes.groups[0]!,
    ...inPlane(problem.planes.groups[0]!, [15 / 70, 20 / 70, 0]),
  );
  const through = {
    ...over,
    over: [over.over[0]!.map((stack, cell) => (cell === beyond ? [...stack].reverse() : stack))],
  };
  const [lock, ...others] = locks(through);
  expect(others).toEqual([]);
  expect(lock).toMatchObject({ grade: 'friction', by: 'slit', tab: [tab], pocket: [plate] });
  // the tip lies 10 from the far edge, 10 beyond the slit
  expect(lock!.depth * 70).toBeCloseTo(10, 9);
  expect(lock!.frictionLength * 70).toBeCloseTo(10, 9);
  expect(lock!.opens![0]).toBeCloseTo(1, 9);
});

it('out of a sleeve that is open on both ends a flap is drawn toward its hinge', () => {
  const lock = lockOfPattern(sleeve(), false, 'sleeve');
  expect(lock.grade).toBe('friction');
  // 99 - 80.5 = 18.5 from the hinge, which lies 0.5 below the edge; the sleeve begins at 10. The fold of the sleeve, 1
  // beside the flap, bars the way of 6 to the right, and to the left it is 14
  expect(lock.depth).toBeCloseTo(8, 9);
  expect(lock.frictionLength).toBeCloseTo(5, 9);
  expect(lock.opens![1]).toBeCloseTo(-1, 9);
});

it('a pocket closed below opens upward, and one closed above downward', () => {
  const pattern = bandWallet({ w: 30, left: 20, right: 20, p: 8, b: 12 });
  const turned = ([x, y]: readonly [number, number]) => [x, -y] as const;
  const mirrored: Pattern = {
    segments: pattern.segments.map((one) => ({ ...one, y1: -one.y1, y2: -one.y2 })),
    still: turned(pattern.still),
    tab: turned(pattern.tab),
    pocket: pattern.pocket.map(turned),
    first: pattern.first.map(turned),
    lies: pattern.lies.map(([one, other, way]) => [turned(one), turned(other), way]),
  };
  expect(lockOfPattern(pattern, false, 'closed below').opens![1]).toBeCloseTo(1, 9);
  expect(lockOfPattern(mirrored, false, 'closed above').opens![1]).toBeCloseTo(-1, 9);
});

/** The same model seen from behind: x reflected and angles negated, so that it stands as if turned about the y axis. */
function fromBehind(pattern: Pattern): Pattern {
  const turned = ([x, y]: readonly [number, number]) => [-x, y] as const;
  const other = { valley: 'mountain', mountain: 'valley' } as const;
  return {
    segments: pattern.segments.map(({ kind, angle, ...one }) => ({
      ...{ ...one, x1: -one.x1, x2: -one.x2 },
      kind: kind === 'valley' || kind === 'mountain' ? other[kind] : kind,
      ...(angle === undefined ? {} : { angle: -angle }),
    })),
    still: turned(pattern.still),
    tab: turned(pattern.tab),
    pocket: pattern.pocket.map(turned),
    first: pattern.first.map(turned),
    lies: pattern.lies.map(([one, two, [x, y, z]]) => [turned(one), turned(two), [-x, y, -z]]),
  };
}

// what only lies on top holds by its weight, so that it matters which way up it is
const whicheverWay = kinds.filter(({ grade }) => grade !== 'gravity' && grade !== 'none');

it.each(whicheverWay.map((kind) => [kind.name, kind] as const))(
  '%s: seen from behind it is as it was',
  (_, kind) => {
    for (const seed of [1, 2]) {
      const pattern = kind.pattern(kind.lengths(seededRandom(seed * 7919)));
      const ring = kind.grade === 'ring';
      const [front, behind] = [
        lockOfPattern(pattern, ring, 'in front'),
        lockOfPattern(fromBehind(pattern), ring, 'behind'),
      ];
      expect(behind).toMatchObject({ grade: front.grade, by: front.by });
      expect(behind.depth).toBeCloseTo(front.depth, 9);
      expect(behind.frictionLength).toBeCloseTo(front.frictionLength, 9);
      expect(behind.opens === null).toBe(front.opens === null);
      const sign = [-1, 1, -1];
      behind.opens?.forEach((along, axis) => {
        expect(along).toBeCloseTo(sign[axis]! * front.opens![axis]!, 9);
      });
    }
  },
);

it('a flap slides up out of a box only where the front wall does not go on over the lid', () => {
  for (const seen of [(pattern: Pattern) => pattern, fromBehind]) {
    expect(lockOfPattern(seen(shutBox(0)), true, 'open')).toMatchObject({ grade: 'friction', by: 'wall' });
    expect(lockOfPattern(seen(shutBox(8)), true, 'shut').grade).not.toBe('friction');
  }
});
