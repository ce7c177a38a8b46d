/** Lessons drawn without a screen, and whether what is seen agrees with the order of the layers. */
import { giveOf } from '../../src/core/contact/give.ts';
import { posePanels, shapesOf } from '../../src/core/contact/shapes.ts';
import { PaperBender } from '../../src/core/drawn/bend-aside.ts';
import { type DrawnPose, drawnPlace, drawnPose } from '../../src/core/drawn/drawn-pose.ts';
import { ToldSides } from '../../src/core/drawn/told-sides.ts';
import { BENT_FINENESS } from '../../src/core/layer/aside.ts';
import { leavesOfPanels } from '../../src/core/layer/leaves.ts';
import type { LayerOrder } from '../../src/core/layer/problem.ts';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { dot } from '../../src/core/numeric/vector.ts';
import { type Placement, panelNormal, placePanels } from '../../src/core/pose/place.ts';
import { planOfLesson } from '../../src/core/run/plan.ts';
import { type Run, runPlan } from '../../src/core/run/run.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { halfEdgeOrigin, panelRing } from '../../src/core/sheet/walk.ts';
import { leafMesh } from '../../src/scene/leaf-mesh.ts';
import { type Point, type RasterHit, type RasterTriangle, rasterise } from '../oracles/raster.ts';

export interface DrawnLesson {
  readonly run: Run;
  /** @param as `placed`: stiff panels, with their levels alone */
  readonly drawnAt: (step: number, share: number, as?: 'drawn' | 'placed') => DrawnMoment;
}

export interface DrawnMoment {
  readonly placement: Placement;
  readonly drawn: DrawnPose;
  readonly triangles: readonly RasterTriangle[];
}

/** Along the axes of the sheet, and once from a corner above. */
export const sevenViews: readonly Point[] = [
  [0, 0, -1],
  [0, 0, 1],
  [0, 1, 0],
  [0, -1, 0],
  [1, 0, 0],
  [-1, 0, 0],
  [-0.55, 0.7, -0.46],
];

export function drawnLesson(lesson: Lesson): DrawnLesson {
  const { sheet: built } = sheetOfLesson(lesson);
  const plan = planOfLesson(lesson, built!);
  const { sheet, still, sheetSize, thickness } = plan;
  const run = runPlan(plan, { bend: false, free: false });
  const give = giveOf(shapesOf(sheet), { sheetSize: sheetSize ?? undefined, thickness });
  const steps = run.steps.map(({ track, look }) => ({ poses: track.poses, order: look?.order }));
  const bender = new PaperBender(give);
  const sides = new ToldSides(sheet, still, () => steps, give);
  const spacing = thickness / (sheetSize ?? 200);
  const shapes = shapesOf(sheet);
  const drawnAt: DrawnLesson['drawnAt'] = (step, share, as = 'drawn') => {
    const angle = anglesAt(run, step, share);
    const placement = placePanels(sheet, angle, still);
    const posed = posePanels(shapes, placement);
    const told = sides.at(step, share, posed);
    const bent = drawnPose({ sheet, angle, posed, before: () => null }, told, bender);
    const drawn = as === 'drawn' ? bent : { ...bent, aside: null };
    return { placement, drawn, triangles: trianglesOf(run, placement, drawn, spacing) };
  };
  return { run, drawnAt };
}

/** Angles blended between the poses of a track, as on the slider. */
export function anglesAt(run: Run, step: number, share: number): Float64Array {
  const { poses } = run.steps[step]!.track;
  const k = Math.max(
    1,
    poses.findIndex(({ at }) => at >= share),
  );
  const [a, b] = [poses[k - 1]!, poses[k]!];
  const part = (share - a.at) / (b.at - a.at);
  return a.angle.map((angle, e) => angle + part * (b.angle[e]! - angle));
}

function trianglesOf(run: Run, placement: Placement, { levels, aside }: DrawnPose, spacing: number) {
  const { sheet } = run.plan;
  const { leaves } = leavesOfPanels(sheet, levels);
  const mesh = leafMesh(sheet, leavesOfPanels(sheet, levels), aside ? BENT_FINENESS : 0);
  const corner = (k: number, panel: number) => {
    const at = [mesh.flat[2 * k]!, mesh.flat[2 * k + 1]!] as const;
    return drawnPlace(placement, aside, panel, at, levels[panel]! * spacing);
  };
  return leaves.flatMap(({ panel }, leaf) => {
    const triangles: RasterTriangle[] = [];
    for (let t = mesh.firstTriangle[leaf]!; t < mesh.firstTriangle[leaf + 1]!; t++) {
      const [a, b, c] = mesh.triangles.subarray(3 * t, 3 * t + 3) as unknown as [number, number, number];
      triangles.push({ id: panel, corners: [corner(a, panel), corner(b, panel), corner(c, panel)] });
    }
    return triangles;
  });
}

/** A pixel that shows one panel although another that lies over it in contact is to be seen there. */
export interface WrongPixel {
  readonly shown: number;
  readonly hidden: number;
  readonly gap: number;
  readonly place: Point;
}

/** What is further behind, sheet units, is not in contact: 2.4 mm on 200, as much as the longest panel gives. */
const IN_CONTACT = 0.012;

/**
 * Pixels at which a panel is seen before another that the order has in front of it. Each of a pair sees the other over
 * itself there, or they do not lie over each other.
 */
export function wrongPixels(
  { run: { plan } }: DrawnLesson,
  { placement, triangles }: Pick<DrawnMoment, 'placement' | 'triangles'>,
  order: LayerOrder,
  toward: Point,
  size: number,
): WrongPixel[] {
  const hides = wronglyHides(plan.sheet, placement, order);
  return rasterise(triangles, toward, size).flatMap(([first, ...others]) =>
    first ? others.filter((other) => hides(first, other)).map((other) => wrongPixel(first, other)) : [],
  );
}

export const wrongPixel = (shown: RasterHit, hidden: RasterHit): WrongPixel => ({
  ...{ shown: shown.id, hidden: hidden.id, gap: hidden.depth - shown.depth, place: shown.place },
});

/**
 * Does the order have in front, in contact, what is hidden at a pixel by what is shown there? Both are seen from the side
 * that panels which lie so turn to one eye: a ray that grazes a bend comes out of the paper beyond it again.
 */
export function wronglyHides(
  sheet: Sheet,
  placement: Placement,
  order: LayerOrder,
): (shown: RasterHit, hidden: RasterHit) => boolean {
  const count = sheet.panelRings.length;
  /** Per pair [f, g]: the side of g on which f lies; only pairs that lie one way throughout count. */
  const sides = new Map<number, number>();
  for (const [f, g, side] of order) {
    const before = sides.get(f * count + g);
    sides.set(f * count + g, before === undefined || before === side ? side : 0);
  }
  const alike = (f: number, g: number) =>
    Math.sign(dot(panelNormal(placement, f), panelNormal(placement, g)));
  return (shown, hidden) =>
    Math.abs(hidden.depth - shown.depth) <= IN_CONTACT &&
    shown.facing * hidden.facing === alike(shown.id, hidden.id) &&
    (sides.get(hidden.id * count + shown.id) === shown.facing ||
      sides.get(shown.id * count + hidden.id) === -hidden.facing) &&
    liesOver(sheet, placement, hidden.place, shown.id) &&
    liesOver(sheet, placement, shown.place, hidden.id);
}

/** The order that steps lead to, with what lay on what before them where they do not name it. */
export function orderedStack({ run }: DrawnLesson, first: number): LayerOrder {
  const end = run.steps.at(-1)!.look!.order;
  const named = new Set(end.map(([f, g]) => `${f},${g}`));
  const before = run.steps[first - 1]?.look?.order ?? [];
  return [...end, ...before.filter(([f, g]) => !named.has(`${f},${g}`))];
}

/** What is judged: these lessons from the start of these steps (counted from 0) to their end, at so many moments. */
export const judgedLessons = [
  ['pencil-case', 4],
  ['ticket-wallet', 4],
  ['planter-sleeve', 1],
] as const;
export const MOMENTS = 100;

/** Nearer to its boundary than this a place is not said to lie over a panel: three thicknesses of paper, sheet units. */
const INSET = 1.5e-3;

/**
 * Does a place of space lie over a panel, seen along the panel's normal, and not just at its rim? By counting crossings
 * of its boundary.
 */
function liesOver(sheet: Sheet, placement: Placement, place: Point, panel: number): boolean {
  const corner = (h: number): Point => {
    const v = halfEdgeOrigin(sheet, h);
    return drawnPlace(placement, null, panel, [sheet.vertexX[v]!, sheet.vertexY[v]!], 0);
  };
  const [u, v] = axes(panelNormal(placement, panel));
  const [x, y] = [dot(place, u), dot(place, v)];
  let inside = false;
  for (const ring of sheet.panelRings[panel]!)
    for (const h of panelRing(sheet, ring)) {
      const [a, b] = [corner(h), corner(sheet.halfEdgeNext[h]!)];
      const [ax, ay, bx, by] = [dot(a, u), dot(a, v), dot(b, u), dot(b, v)];
      const square = (bx - ax) ** 2 + (by - ay) ** 2;
      const along = Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / square));
      if (Math.hypot(ax + along * (bx - ax) - x, ay + along * (by - ay) - y) < INSET) return false;
      if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
    }
  return inside;
}

function axes(normal: Point): [Point, Point] {
  const helper: Point = Math.abs(normal[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0];
  const cross = (a: Point, b: Point): Point => [
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ];
  const raw = cross(normal, helper);
  const length = Math.hypot(...raw);
  const u: Point = [raw[0] / length, raw[1] / length, raw[2] / length];
  return [u, cross(normal, u)];
}
