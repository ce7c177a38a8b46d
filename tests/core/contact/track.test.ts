/** Contact along motions: closed forms by plane trigonometry, and random strips against the slow oracle. */
import { describe, expect, test } from 'vitest';
import { giveOf } from '../../../src/core/contact/give.ts';
import { shapesOf } from '../../../src/core/contact/shapes.ts';
import { contactsOfTrack, sidesOfTrack } from '../../../src/core/contact/track.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { panelsInSpace, pierces } from '../../oracles/contact.ts';
import { PatternMaker, radians } from '../../support/patterns.ts';
import { hingedStrip, runOf, type Strip } from '../../support/strips.ts';

const seed = Number(process.env.CREASEWAY_SEED ?? 61);

function contacts(strip: Strip, stops: readonly (readonly number[])[], step?: number) {
  const poses = runOf(strip, stops, step);
  const { contacts: found } = contactsOfTrack({ sheet: strip.sheet, poses, still: strip.panels[0]! });
  return found.map(({ panels, ...rest }) => ({
    ...rest,
    panels: panels.map((panel) => strip.panels.indexOf(panel)).sort((a, b) => a - b),
    mm: rest.depth / strip.unit,
  }));
}

describe('two walls and a flap', () => {
  // wall H, floor L, wall h, flap f > L: the flap turns in over the floor until its tip meets the first wall, when
  // sin(turn) = L / f; from then on it is f sin(turn) - L through it, unless another way out of it is shorter
  const random = seededRandom(seed);
  const between = (low: number, high: number) => low + (high - low) * random();
  test.each(Array.from({ length: 25 }, (_, k) => k))(
    `case %i of seed ${seed}: first meeting and depth`,
    () => {
      const floor = between(0.5, 1.5);
      const flap = floor * between(1.02, 1.5);
      const low = between(0.2, 0.8);
      // high enough for the tip to meet it, wherever
      const high = low + flap + between(0, 0.5);
      const width = between(0.5, 2);
      const strip = hingedStrip([high, floor, low, flap], width);
      const meets = Math.asin(floor / flap) / radians;
      const end = between(meets + 1, 90);
      const found = contacts(strip, [
        [90, 90, 0],
        [90, 90, end],
      ]);
      expect(found.map(({ panels }) => panels)).toEqual([[0, 3]]);
      const [one] = found;
      // within a thousandth of a frame's 4 degrees, and what TOUCH takes near the meeting
      expect(Math.abs(one!.first * end - meets)).toBeLessThan(0.1);
      const depthAt = (turn: number) => {
        const [s, c] = [Math.sin(turn * radians), Math.cos(turn * radians)];
        // distance of the first wall's foot and rim from the flap's line through (floor, low), direction (-s, c)
        const off = (y: number) => floor * c - (y - low) * s;
        return Math.min(flap * s - floor, Math.abs(off(0)), Math.abs(off(high)), width);
      };
      let deepest = 0;
      for (let turn = meets; turn <= end; turn += 0.01) deepest = Math.max(deepest, depthAt(turn));
      expect(one!.mm).toBeCloseTo(deepest, 3);
      expect(one!.kind).toBe('through');
    },
  );

  test('a flap that just fits meets nothing', () => {
    expect(
      contacts(hingedStrip([1, 1, 0.5, 1], 1), [
        [90, 90, 0],
        [90, 90, 90],
      ]),
    ).toEqual([]);
    expect(
      contacts(hingedStrip([1, 1, 1, 0.999], 1), [
        [90, 90, 0],
        [90, 90, 90],
      ]),
    ).toEqual([]);
  });

  test('frames that leap over the wall do not hide it: the flap is before it at one pose and behind it at the next', () => {
    // a low wall beside a long flap: flat fan of the flap passes a wall 0.05 high within a degree
    const strip = hingedStrip([0.06, 1, 0.03, 0.98], 1);
    const found = contacts(
      strip,
      [
        [90, 90, 60],
        [90, 90, 118],
      ],
      58,
    );
    expect(found.map(({ panels }) => panels)).toContainEqual([1, 3]);
  });
});

describe('sides', () => {
  // a strip folded in three: which of the outer panels goes in first decides which lies inside
  const strip = hingedStrip([1, 1, 0.9], 1);
  const [p, , r] = strip.panels as [number, number, number];
  const side = (stops: readonly (readonly number[])[]) =>
    sidesOfTrack({ sheet: strip.sheet, poses: runOf(strip, stops), still: strip.panels[1]! });
  /** As the lower number stands on the higher. Both show the same side inward, so either sees the other alike. */
  const seen = (stops: readonly (readonly number[])[]) => side(stops).pairs.map(([, , s]) => s);

  test('left in first: the right one lies on its outer side, and the other way round', () => {
    expect([p, r].sort()).toEqual(
      [
        ...(side([
          [0, 0],
          [180, 0],
          [180, 180],
        ]).pairs[0] ?? []),
      ]
        .slice(0, 2)
        .sort(),
    );
    // both turn their first side down; the right panel on the left one's back: below its up side, which looks down
    expect(
      seen([
        [0, 0],
        [180, 0],
        [180, 180],
      ]),
    ).toEqual([p < r ? 1 : -1]);
    expect(
      seen([
        [0, 0],
        [0, 180],
        [180, 180],
      ]),
    ).toEqual([p < r ? -1 : 1]);
  });

  test('an order that the motion contradicts is a contact, as deep as the panel stood off', () => {
    const poses = runOf(strip, [
      [0, 0],
      [180, 0],
      [180, 180],
    ]);
    const [f, g, s] = side([
      [0, 0],
      [180, 0],
      [180, 180],
    ]).pairs[0]!;
    const task = { sheet: strip.sheet, poses, still: strip.panels[1]! };
    expect(contactsOfTrack({ ...task, endOrder: [[f, g, s as 1 | -1]] }).contacts).toEqual([]);
    const [wrong] = contactsOfTrack({ ...task, endOrder: [[f, g, s === 1 ? -1 : 1]] }).contacts;
    expect(wrong).toMatchObject({ kind: 'side', panels: [f, g] });
    expect(wrong!.depth).toBeGreaterThan(0.1);
  });

  test('leaving a stack on the wrong side is a contact too', () => {
    const poses = runOf(strip, [
      [180, 180],
      [180, 0],
    ]);
    const task = { sheet: strip.sheet, poses, still: strip.panels[1]! };
    const [f, g] = [Math.min(p, r), Math.max(p, r)];
    const both = ([1, -1] as const).map(
      (s) => contactsOfTrack({ ...task, startOrder: [[f, g, s]] }).contacts.length,
    );
    expect(both.sort()).toEqual([0, 1]);
  });

  test('a panel that goes through another face to face is found although no pose shows them crossing', () => {
    // the strip goes up at `rise`, back level, down at 60 and on level again: by 0.5 (sin rise - sin 60) over panel 0
    const link = hingedStrip([1, 0.5, 1, 0.5, 1], 1);
    const stops = [70, 50].map((rise) => [rise, 180 - rise, 60, 120]);
    const found = contacts(link, [stops[0]!, stops[1]!]);
    const level = found.find(({ panels }) => panels.join() === '0,4');
    expect(level?.kind).toBe('side');
    const off = (rise: number) => 0.5 * (Math.sin(rise * radians) - Math.sin(60 * radians));
    expect(level!.mm).toBeCloseTo(Math.min(off(70), -off(50)), 9);
  });
});

describe('what is easily missed', () => {
  test('wedges round one point: one turns its plane away from under the other, and the two meet at the rim', () => {
    const maker = new PatternMaker();
    const centre = maker.point(0, 0);
    const rim = [
      [0.7509, 0],
      [0.4787, 0.7165],
      [0.0211, 0.4675],
      [-0.3006, 0.8113],
      [-0.4568, 0.1529],
      [-0.6353, -0.4259],
    ].map(([x, y]) => maker.point(x!, y!));
    const creases = rim
      .map((end, k) => maker.line(centre, end, k === 0 || k === 5 ? 'edge' : 'unassigned'))
      .slice(1, -1);
    for (let k = 0; k < 5; k++) maker.line(rim[k]!, rim[k + 1]!, 'edge');
    const sheet = maker.sheet();
    const fan = { sheet, creases, panels: [], unit: 1 };
    const poses = runOf(fan, [
      [51.656, 5.486, -141.858, 5.088],
      [63.092, -27.896, -163.578, 29.912],
    ]);
    const placed = panelsInSpace(sheet, poses.at(-1)!.angle, 0);
    expect(pierces(placed[1]!, placed[3]!, 1e-3)).toBe(true);
    const { contacts: found } = contactsOfTrack({ sheet, poses, still: 0 });
    expect(found.map(({ panels }) => panels.join())).toContain('1,3');
  });

  test('a panel that comes down level and ever more slowly: how far off it stood is not what its last poses say', () => {
    // as above, it stands off by 0.5 (sin rise - sin 60) and lies on panel 0 in the end
    const link = hingedStrip([1, 0.5, 1, 0.5, 1], 1);
    const rises = [72, 70, 66, 62, 60.4, 60.05, 60.001, 60];
    const poses = rises.map((rise, k) => ({
      at: k / (rises.length - 1),
      angle: runOf(link, [[rise, 180 - rise, 60, 120]])[0]!.angle,
    }));
    const { pairs, clearance } = sidesOfTrack({ sheet: link.sheet, poses, still: link.panels[0]! });
    const [a, b] = [link.panels[0]!, link.panels[4]!];
    const k = pairs.findIndex((pair) => pair.includes(a) && pair.slice(0, 2).includes(b));
    const off = (rise: number) => 0.5 * link.unit * (Math.sin(rise * radians) - Math.sin(60 * radians));
    expect(clearance[k]).toBeGreaterThan(giveOf(shapesOf(link.sheet))(a, b));
    expect(rises.map(off)).toContainEqual(expect.closeTo(clearance[k]!, 9));
    // it comes from above: panel 4 on the upper side of panel 0, the other way round below or above as both face up
    expect(pairs[k]![2]).toBe(a < b ? -1 : 1);
  });
});
