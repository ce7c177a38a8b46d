/**
 * Slow and obvious: do two panels pass through each other in a pose? Panels are placed by turning points about lines in
 * space, one crease after another; then every boundary line of one is held against the other: it pierces where its
 * ends lie on different sides of the other's plane and the point between them lies inside the other. No boxes, no
 * shortcuts, nothing shared with what is tested but the numbers of the sheet.
 */
import type { Sheet } from '../../src/core/sheet/sheet.ts';

export type Space = readonly [number, number, number];

const minus = (a: Space, b: Space): Space => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const plus = (a: Space, b: Space, t = 1): Space => [a[0] + t * b[0], a[1] + t * b[1], a[2] + t * b[2]];
const dot = (a: Space, b: Space) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Space, b: Space): Space => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const unit = (a: Space): Space => {
  const length = Math.hypot(...a);
  return [a[0] / length, a[1] / length, a[2] / length];
};

/** Point p turned by an angle about the line through a in unit direction d (Rodrigues' formula, from memory). */
function turned(p: Space, a: Space, d: Space, angle: number): Space {
  const v = minus(p, a);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return plus(plus(plus(a, v, c), cross(d, v), s), d, dot(d, v) * (1 - c));
}

/** Outline of each panel in space, in ring order; panels without holes only. Panel `still` stays on the table. */
export function panelsInSpace(sheet: Sheet, angle: Float64Array, still: number): Space[][] {
  const ring = (panel: number): number[] => {
    const start = sheet.panelRings[panel]![0]!;
    const list: number[] = [];
    let h = start;
    do {
      list.push(h);
      h = sheet.halfEdgeNext[h]!;
    } while (h !== start);
    return list;
  };
  const origin = (h: number) => ((h & 1) === 0 ? sheet.creaseFrom[h >> 1]! : sheet.creaseTo[h >> 1]!);
  const flat = (panel: number): Space[] =>
    ring(panel).map((h): Space => [sheet.vertexX[origin(h)]!, sheet.vertexY[origin(h)]!, 0]);
  const placed: (Space[] | undefined)[] = sheet.panelRings.map(() => undefined);
  // each panel is laid flat and then turned about the creases on its way to the still one, the nearest to it first
  const way: number[][] = sheet.panelRings.map(() => []);
  placed[still] = flat(still);
  const waiting = [still];
  while (waiting.length > 0) {
    const panel = waiting.shift()!;
    for (const h of ring(panel)) {
      const beyond = sheet.halfEdgePanel[h ^ 1]!;
      if (beyond < 0 || placed[beyond] || sheet.creaseKind[h >> 1]! >= 4) continue;
      way[beyond] = [h, ...way[panel]!];
      let points = flat(beyond);
      for (const g of way[beyond]!) {
        const [a, b] = [origin(g), origin(g ^ 1)];
        const from: Space = [sheet.vertexX[a]!, sheet.vertexY[a]!, 0];
        const to: Space = [sheet.vertexX[b]!, sheet.vertexY[b]!, 0];
        // seen along the half-edge of the nearer panel its neighbour lies on the right: a valley lifts it, so it turns
        // against the direction of the half-edge
        points = points.map((p) => turned(p, from, unit(minus(to, from)), -angle[g >> 1]!));
      }
      placed[beyond] = points;
      waiting.push(beyond);
    }
  }
  return placed as Space[][];
}

/** Area-weighted normal of a flat outline. */
function normalOf(outline: readonly Space[]): Space {
  let sum: Space = [0, 0, 0];
  outline.forEach((p, k) => {
    sum = plus(sum, cross(minus(p, outline[0]!), minus(outline[(k + 1) % outline.length]!, outline[0]!)));
  });
  return unit(sum);
}

/** Is a point of the plane of an outline inside it, and at least `margin` from its boundary? Below 0: or as near outside. */
function wellInside(point: Space, outline: readonly Space[], normal: Space, margin: number): boolean {
  let turns = 0;
  for (let k = 0; k < outline.length; k++) {
    const [a, b] = [outline[k]!, outline[(k + 1) % outline.length]!];
    const along = minus(b, a);
    const t = Math.max(0, Math.min(1, dot(minus(point, a), along) / dot(along, along)));
    const distance = Math.hypot(...minus(point, plus(a, along, t)));
    if (distance < Math.abs(margin)) return margin < 0;
    const [u, v] = [minus(a, point), minus(b, point)];
    turns += Math.atan2(dot(normal, cross(u, v)), dot(u, v));
  }
  return Math.abs(turns) > Math.PI;
}

/**
 * Does a boundary line of one pierce the other, well inside it, and do both reach at least `margin` through the other?
 * With a margin below 0 a line that pierces the other's boundary counts too.
 */
export function pierces(p: readonly Space[], q: readonly Space[], margin: number): boolean {
  return onePierces(p, q, margin) || onePierces(q, p, margin);
}

function onePierces(lines: readonly Space[], sheet: readonly Space[], margin: number): boolean {
  const normal = normalOf(sheet);
  const own = normalOf(lines);
  const height = (p: Space) => dot(normal, minus(p, sheet[0]!));
  const reach = sheet.map((p) => dot(own, minus(p, lines[0]!)));
  const least = Math.max(0, margin);
  if (Math.min(...reach) > -least || Math.max(...reach) < least) return false;
  const heights = lines.map(height);
  if (Math.min(...heights) > -least || Math.max(...heights) < least) return false;
  return lines.some((a, k) => {
    const b = lines[(k + 1) % lines.length]!;
    const [h, g] = [heights[k]!, heights[(k + 1) % lines.length]!];
    if (h > 0 === g > 0 || h === g) return false;
    const point = plus(a, minus(b, a), h / (h - g));
    return wellInside(point, sheet, normal, margin);
  });
}
