import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexOutline, marginInside } from '../../src/core/numeric/plane.ts';
import type { Space } from '../../src/core/numeric/vector.ts';
import { placePanels } from '../../src/core/pose/place.ts';
import { judge } from '../../src/core/pose/stands.ts';
import { buildSheet } from '../../src/core/sheet/build.ts';
import type { Segment } from '../../src/core/sheet/segment.ts';
import { panelContaining } from '../../src/core/sheet/walk.ts';
import { letFall, setOnTable } from '../../src/scene/table/set-on-table.ts';
import { type Quaternion, type Triangle, weigh } from '../../src/scene/table/solid.ts';

const upright: Quaternion = [0, 0, 0, 1];
const nothing = { panels: [], side: null, flat: false } as const;

/** Walls of a box with its lower left front corner at the origin; `lid` false leaves the top open. */
function box(w: number, d: number, h: number, lid = true): Triangle[] {
  return prism(
    [
      [0, 0],
      [w, 0],
      [w, d],
      [0, d],
    ],
    [0, 0],
    h,
    lid,
  );
}

/** A prism over a convex outline, its top pushed sideways. */
function prism(
  outline: readonly (readonly [number, number])[],
  lean: readonly [number, number],
  h: number,
  lid = true,
): Triangle[] {
  const low = outline.map(([x, y]): Space => [x, y, 0]);
  const high = outline.map(([x, y]): Space => [x + lean[0], y + lean[1], h]);
  const sides: Triangle[] = low.flatMap((a, k): Triangle[] => {
    const next = (k + 1) % low.length;
    return [
      [a, low[next]!, high[next]!],
      [a, high[next]!, high[k]!],
    ];
  });
  const fan = (ring: Space[]): Triangle[] => ring.slice(2).map((p, k) => [ring[0]!, ring[k + 1]!, p]);
  return [...sides, ...fan(low), ...(lid ? fan(high) : [])];
}

function drop(triangles: Triangle[]) {
  const solid = weigh(triangles);
  const fallen = letFall(solid, upright);
  const last = fallen.moments[fallen.moments.length - 1]!;
  return {
    solid,
    ...fallen,
    last,
    verdict: judge(fallen.points, last.position, fallen.turnDegrees, 2.5e-3, nothing),
  };
}

/** How far the centre of mass lies inside the outline of the lowest points, as the body was set down. */
function margin(triangles: Triangle[]): { inside: number; height: number } {
  const { centre } = weigh(triangles);
  const points = triangles.flat();
  const low = Math.min(...points.map((p) => p[2]));
  const support = convexOutline(points.filter((p) => p[2] < low + 1e-6).map((p) => [p[0], p[1]]));
  return { inside: marginInside(support, [centre[0], centre[1]]), height: centre[2] - low };
}

describe('weighing thin panels', () => {
  it('puts the centre of an open box lower than half its height (walls 4·h/2 over 4 + 1 faces: 0.4 h, by hand)', () => {
    const { centre } = weigh(box(1, 1, 1, false));
    expect(centre[0]).toBeCloseTo(0.5, 12);
    expect(centre[2]).toBeCloseTo(0.4, 12);
  });

  it('gives a thin square plate the moments a²/12, a²/12, a²/6 (textbook mechanics)', () => {
    const { inertia } = weigh([
      [
        [0, 0, 0],
        [1, 0, 0],
        [1, 1, 0],
      ],
      [
        [0, 0, 0],
        [1, 1, 0],
        [0, 1, 0],
      ],
    ]);
    const sorted = [...inertia].sort((a, b) => a - b);
    expect(sorted[0]).toBeCloseTo(1 / 12, 5);
    expect(sorted[1]).toBeCloseTo(1 / 12, 5);
    expect(sorted[2]).toBeCloseTo(1 / 6, 5);
  });

  it('turned bodies keep their principal moments (mechanics: they do not depend on the frame)', () => {
    const straight = weigh(box(0.5, 0.3, 0.2)).inertia;
    const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
    const turned = box(0.5, 0.3, 0.2).map((t) =>
      t.map(([x, y, z]): Space => [x, c * y - s * z, s * y + c * z]),
    ) as unknown as Triangle[];
    const a = [...straight].sort();
    const b = [...weigh(turned).inertia].sort();
    for (let k = 0; k < 3; k++) expect(b[k]).toBeCloseTo(a[k]!, 10);
  });
});

describe('set on the table', () => {
  it('a pencil case of 150 x 60 x 30 on its base stands and does not turn (centre of mass over its support)', () => {
    const { verdict } = drop(box(0.714, 0.286, 0.143));
    expect(verdict.verdict).toBe('stands');
    expect(verdict.turnDegrees).toBeLessThan(1);
    // atan(half the shorter side / half the height) = atan(0.143 / 0.0715), by hand
    expect(verdict.holdDegrees).toBeCloseTo((Math.atan2(0.143, 0.0715) * 180) / Math.PI, 0);
  });

  it('a flat sheet stands', () => {
    const { verdict } = drop([
      [
        [0, 0, 0],
        [1, 0, 0],
        [1, 1, 0],
      ],
      [
        [0, 0, 0],
        [1, 1, 0],
        [0, 1, 0],
      ],
    ]);
    expect(verdict.verdict).toBe('stands');
  });

  it('a leaning prism whose centre of mass hangs over the rim tips over', () => {
    const leaning = prism(
      [
        [0, 0],
        [0.2, 0],
        [0.2, 0.2],
        [0, 0.2],
      ],
      [0.35, 0],
      0.5,
    );
    expect(margin(leaning).inside).toBeLessThan(0);
    expect(drop(leaning).verdict.verdict).toBe('tips over');
  });

  it('a box stood on a corner edge does not stay there', () => {
    const [c, s] = [Math.cos(0.6), Math.sin(0.6)];
    const edgewise = box(0.3, 0.3, 0.3).map((t) =>
      t.map(([x, y, z]): Space => [c * x - s * z, y, s * x + c * z]),
    ) as unknown as Triangle[];
    expect(drop(edgewise).verdict.verdict).toBe('tips over');
  });

  it('a tall thin box on end is shaky: it rocks (hold angle atan(0.01 / 0.4) = 1.4 degrees, by hand)', () => {
    const { verdict } = drop(box(0.02, 0.3, 0.8));
    expect(verdict.verdict).not.toBe('stands');
  });

  const seed = 20261125;
  it(`random leaning prisms tip exactly when the centre of mass is outside the support (seed ${seed})`, () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 7 }),
        fc.double({ min: 0.15, max: 0.35, noNaN: true }),
        fc.double({ min: 0.1, max: 0.5, noNaN: true }),
        fc.double({ min: 0, max: 0.6, noNaN: true }),
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        (sides, radius, height, lean, way) => {
          const outline = Array.from({ length: sides }, (_, k): [number, number] => [
            radius * Math.cos((2 * Math.PI * k) / sides),
            radius * Math.sin((2 * Math.PI * k) / sides),
          ]);
          const body = prism(outline, [lean * Math.cos(way), lean * Math.sin(way)], height);
          const { inside, height: centreHeight } = margin(body);
          // Near the balance either answer is right.
          fc.pre(Math.abs(inside) > 0.12 * centreHeight + 0.01);
          const { verdict } = drop(body);
          expect(verdict.verdict === 'stands', `margin ${inside}, turned ${verdict.turnDegrees}`).toBe(
            inside > 0,
          );
        },
      ),
      { seed, numRuns: 60 },
    );
  });

  it(`comes to rest with the centre of mass over what it rests on, whatever it is (seed ${seed + 1})`, () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(...Array.from({ length: 3 }, () => fc.double({ min: -0.3, max: 0.3, noNaN: true }))),
          {
            minLength: 6,
            maxLength: 14,
          },
        ),
        (points) => {
          const cloud = points as unknown as Space[];
          const triangles: Triangle[] = cloud.slice(2).map((p, k) => [cloud[k]!, cloud[k + 1]!, p]);
          fc.pre(Math.min(...weigh(triangles).inertia) > 2e-3);
          const { points: rest, last } = drop(triangles);
          const low = Math.min(...rest.map((p) => p[2]));
          const support = convexOutline(rest.filter((p) => p[2] < low + 6e-3).map((p) => [p[0], p[1]]));
          expect(marginInside(support, [last.position[0], last.position[1]])).toBeGreaterThan(-0.01);
          // Paper does not sink into the table: at most by 2 mm of a metre-wide sheet.
          expect(low).toBeGreaterThan(-2e-3);
        },
      ),
      { seed: seed + 1, numRuns: 40 },
    );
  });
});

describe('what it rests on', () => {
  /** A unit square with a valley across the middle, folded by the given angle; the lower half stays still. */
  function book(angle: number, over = false) {
    const lines: Segment[] = [
      { x1: 0, y1: 0, x2: 1, y2: 0, kind: 'edge' },
      { x1: 1, y1: 0, x2: 1, y2: 1, kind: 'edge' },
      { x1: 1, y1: 1, x2: 0, y2: 1, kind: 'edge' },
      { x1: 0, y1: 1, x2: 0, y2: 0, kind: 'edge' },
      { x1: 0, y1: 0.5, x2: 1, y2: 0.5, kind: 'valley', angle: Math.PI },
    ];
    const sheet = buildSheet(lines).sheet!;
    const still = panelContaining(sheet, 0.5, 0.25);
    const angles = Float64Array.from(sheet.creaseKind, (kind) => (kind === 1 ? angle : 0));
    // A valley brings the moving half over the still one: one level up, which its own normal counts as down.
    const levels = Float32Array.from(sheet.panelRings, (_, p) => (angle && p !== still ? -1 : 0));
    return { still, levels, ...setOnTable(sheet, placePanels(sheet, angles, still), levels, over) };
  }

  it('a flat sheet lies flat on the side that did not face up (common practice, no source)', () => {
    expect(book(0).verdict.base).toMatchObject({ flat: true, side: 'down' });
    expect(book(0, true).verdict.base).toMatchObject({ flat: true, side: 'up' });
  });

  it('a sheet folded in half rests on its lower layer alone, not on both (common practice, no source)', () => {
    const { still, verdict } = book(Math.PI);
    expect(verdict.base).toEqual({ flat: true, side: 'down', panels: [still] });
    expect(book(Math.PI, true).verdict.base).toMatchObject({ flat: true, side: 'down', panels: [1 - still] });
  });
});
