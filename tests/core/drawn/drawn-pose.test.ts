/** Paper that grazes: bent to its side by no more than it takes, and the same in section, picking and GLB. */
import { describe, expect, it } from 'vitest';
import { type Give, giveOf } from '../../../src/core/contact/give.ts';
import { eachPartOver } from '../../../src/core/contact/overlap.ts';
import { type PosedPanels, posePanels, shapesOf } from '../../../src/core/contact/shapes.ts';
import { PaperBender, wrongBy } from '../../../src/core/drawn/bend-aside.ts';
import { drawnPlace } from '../../../src/core/drawn/drawn-pose.ts';
import { lapOf } from '../../../src/core/drawn/lap.ts';
import type { ToldLap } from '../../../src/core/drawn/told-sides.ts';
import { asideAt, BENT_FINENESS, type BentPanel } from '../../../src/core/layer/aside.ts';
import { leavesOfPanels } from '../../../src/core/layer/leaves.ts';
import { sectionOf } from '../../../src/core/layer/section.ts';
import { dot } from '../../../src/core/numeric/vector.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { panelContaining } from '../../../src/core/sheet/walk.ts';
import { writeGlb } from '../../../src/core/storage/write-glb.ts';
import { leafMesh } from '../../../src/scene/leaf-mesh.ts';
import { pickModel } from '../../../src/scene/pick.ts';
import { rasterise } from '../../oracles/raster.ts';
import { drawnLesson } from '../../support/drawn-as-ordered.ts';
import { sampleOf } from '../../support/lessons.ts';

/** A strip 3 x 1 of 210 mm, its two end panels folded over the middle one: the left by `left`, the right by `right`. */
function strip(left: number, right: number) {
  const line = (x1: number, y1: number, x2: number, y2: number, kind: 'edge' | 'valley') => {
    return { x1, y1, x2, y2, kind, ...(kind === 'valley' ? { angle: Math.PI } : {}) };
  };
  const sheet = buildSheet([
    line(0, 0, 3, 0, 'edge'),
    line(3, 0, 3, 1, 'edge'),
    line(3, 1, 0, 1, 'edge'),
    line(0, 1, 0, 0, 'edge'),
    line(1, 0, 1, 1, 'valley'),
    line(2, 0, 2, 1, 'valley'),
  ]).sheet!;
  const angle = new Float64Array(sheet.creaseKind.length);
  const panel = (x: number) => panelContaining(sheet, x, 0.1);
  sheet.creaseKind.forEach((kind, e) => {
    if (kind !== 4) angle[e] = sheet.vertexX[sheet.creaseFrom[e]!]! < 0.5 ? left : right;
  });
  const shapes = shapesOf(sheet);
  const posed = posePanels(shapes, placePanels(sheet, angle, panel(0.5)));
  const give = giveOf(shapes, { sheetSize: 210, thickness: 0.1 });
  const told = (f: number, g: number, side: 1 | -1): ToldLap => ({ f, g, side, lap: lapOf(posed, f, g)! });
  return { posed, give, told, left: panel(0.1), middle: panel(0.5), right: panel(0.9) };
}

// strips in cross-section, by hand
describe('two flaps folded over one middle', () => {
  it('lie as they are placed where the upper one stands off', () => {
    const { posed, give, told, left, right } = strip(Math.PI, Math.PI - 0.02);
    // both are turned over: the side of the left one that faced up looks down
    expect(bent(posed, [told(right, left, -1)], give)).toBeNull();
  });

  it('are bent aside by as much as the upper one is below, to the two sides of each other', () => {
    // the left flap stands off by 70 sin(0.01) = 0.70 mm at its end, where the right one is hinged: a crossing of both
    const { posed, give, told, left, middle, right } = strip(Math.PI - 0.01, Math.PI);
    const [over, under] = [told(right, left, -1), told(left, middle, 1)];
    expect(wrongBy(over) * 210).toBeCloseTo(70 * Math.sin(0.01), 2);
    const aside = bent(posed, [over, under, told(right, middle, 1)], give)!;
    for (const { f, g, side } of [over, under])
      for (const { x, y, height } of cornersOver(posed, f, g)) {
        const [u, v] = flatOn(posed, f, g, x, y, height);
        const n = [0, 1, 2].map((k) => posed.normal[3 * g + k]!) as [number, number, number];
        const shifted = height + dot(asideAt(aside, f, u, v), n) - dot(asideAt(aside, g, x, y), n);
        expect(side * shifted).toBeGreaterThan(-3e-5);
      }
    for (const { shift } of aside.values())
      for (let k = 0; k < shift.length; k += 3)
        expect(Math.hypot(shift[k]!, shift[k + 1]!, shift[k + 2]!) * 210).toBeLessThan(0.71);
    // along a crease both panels are shifted alike: the paper stays in one piece
    for (const y of [0, 0.1, 1 / 6, 0.3]) {
      const [p, q] = [asideAt(aside, left, 1 / 3, y), asideAt(aside, middle, 1 / 3, y)];
      p.forEach((value, k) => {
        expect(value).toBeCloseTo(q[k]!, 9);
      });
    }
  });

  it('are left as they are where paper does not give as much: what runs through is shown to run through', () => {
    const { posed, give, told, left, right } = strip(Math.PI - 0.05, Math.PI);
    const over = told(right, left, -1);
    expect(wrongBy(over)).toBeGreaterThan(give(right, left));
    expect(bent(posed, [over], give)).toBeNull();
  });
});

const bent = (posed: PosedPanels, told: readonly ToldLap[], give: Give) =>
  new PaperBender(give).asideOf(posed, told);

/** Corners of the parts of f that lie over g, flat on g. */
function cornersOver(posed: PosedPanels, f: number, g: number) {
  const corners: { x: number; y: number; height: number }[] = [];
  eachPartOver(posed, f, g, ({ count, x, y, height }) => {
    for (let k = 0; k < count; k++) corners.push({ x: x[k]!, y: y[k]!, height: height[k]! });
  });
  return corners;
}

/** The flat point of f over a flat point of g. */
function flatOn(
  { placement }: ReturnType<typeof strip>['posed'],
  f: number,
  g: number,
  x: number,
  y: number,
  height: number,
): [number, number] {
  const at = drawnPlace(placement, null, g, [x, y], height);
  const [o, a, b] = (
    [
      [0, 0],
      [1, 0],
      [0, 1],
    ] as const
  ).map((flat) => drawnPlace(placement, null, f, flat, 0));
  const minus = (p: readonly number[], q: readonly number[]) =>
    p.map((value, k) => value - q[k]!) as [number, number, number];
  return [dot(minus(at, o!), minus(a!, o!)), dot(minus(at, o!), minus(b!, o!))];
}

describe('the pencil case while its flap slides in', () => {
  const lesson = drawnLesson(sampleOf('pencil-case'));
  const { sheet } = lesson.run.plan;
  const { placement, drawn, triangles } = lesson.drawnAt(4, 0.6);
  const leaves = leavesOfPanels(sheet, drawn.levels);
  const aside = drawn.aside!;

  it('is bent alike from whichever pose the slider comes, at every twentieth of a step', () => {
    const places = Array.from({ length: 41 }, (_, k) => 4 + k / 20);
    const step = (place: number) => Math.min(5, Math.floor(place));
    const bentAt = (place: number) =>
      lesson.drawnAt(step(place), place - step(place)).drawn.aside ?? new Map<number, BentPanel>();
    const there = places.map((place) => bentAt(place));
    places.toReversed().forEach((place, k) => {
      const [one, other] = [there[places.length - 1 - k]!, bentAt(place)];
      for (const panel of new Set([...one.keys(), ...other.keys()])) {
        const [shift, back] = [one.get(panel)?.shift, other.get(panel)?.shift];
        for (let at = 0; at < (shift ?? back)!.length; at++)
          // 0.02 mm: less than can be seen
          expect(Math.abs((shift?.[at] ?? 0) - (back?.[at] ?? 0))).toBeLessThan(1e-4);
      }
    });
    expect(there.filter((bends) => bends.size > 0).length).toBeGreaterThan(30);
  });

  it('is cut where it is drawn, without a gap at creases and bends', () => {
    const plane = { normal: [1, 0, 0] as const, offset: 0.503 };
    const { cuts, joins, across, up } = sectionOf(placement, leaves, plane, aside);
    expect(cuts.some(({ panel }) => aside.has(panel))).toBe(true);
    for (const { panel, from, flatFrom, to, flatTo } of cuts)
      for (const [at, flat] of [
        [from, flatFrom],
        [to, flatTo],
      ] as const) {
        const place = drawnPlace(placement, aside, panel, flat, 0);
        expect(place[0]).toBeCloseTo(plane.offset, 4);
        expect(at[0]).toBeCloseTo(dot(place, across), 9);
        expect(at[1]).toBeCloseTo(dot(place, up), 9);
      }
    for (const { before, after } of joins) {
      const [one, other] = [cuts[before]!.to, cuts[after]!.from];
      expect(Math.hypot(one[0] - other[0], one[1] - other[1])).toBeLessThan(1e-4);
    }
    // one sheet: cut across its middle it hangs together from edge to edge
    expect(joins.length).toBe(cuts.length - 1);
  });

  it('is picked where it is drawn', () => {
    const thickness = 0.1 / 210;
    const model = {
      ...{ sheet, leaves: leaves.leaves, placement, aside },
      mesh: leafMesh(sheet, leaves, BENT_FINENESS),
      off: (leaf: number) => leaves.leaves[leaf]!.rise * thickness,
      solid: () => true,
      there: () => true,
    };
    let compared = 0;
    for (const [first] of rasterise(triangles, [0, 1, 0], 60)) {
      if (!first) continue;
      const [x, y, z] = first.place;
      expect(pickModel(model, [x, y - 3, z], [0, 1, 0], 0)?.panel).toBe(first.id);
      compared++;
    }
    expect(compared).toBeGreaterThan(800);
  });

  it('is written as GLB as it is drawn, in metres', () => {
    const facts = { size: 210, thickness: 0.1, up: '#ffffff', down: '#2f6690' };
    const bytes = writeGlb({ sheet, placement, leaves, aside }, facts);
    const view = new DataView(bytes.buffer);
    const data = 28 + view.getUint32(12, true);
    const header = JSON.parse(new TextDecoder().decode(bytes.subarray(20, data - 8)));
    const { count } = header.accessors[0];
    const places = Array.from({ length: count }, (_, k) =>
      [0, 4, 8].map((byte) => view.getFloat32(data + 12 * k + byte, true)),
    );
    const bent = triangles.filter(({ id }) => aside.has(id));
    expect(bent.length).toBeGreaterThan(20);
    for (const { corners } of bent)
      for (const [x, y, z] of corners) {
        const at = [0.21 * x, 0.21 * z, -0.21 * y];
        const nearest = places.map((place) => Math.hypot(...place.map((value, k) => value - at[k]!)));
        expect(Math.min(...nearest)).toBeLessThan(1e-7);
      }
  });
});
