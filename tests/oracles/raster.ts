/**
 * An id picture, slow and obvious: every triangle goes into every pixel whose middle it covers, and each pixel keeps all
 * that it met, nearest first. No clipping, no rules for edges, no culling; parallel rays (common practice, no source).
 */
export type Point = readonly [number, number, number];

export interface RasterTriangle {
  readonly id: number;
  readonly corners: readonly [Point, Point, Point];
}

export interface RasterHit {
  readonly id: number;
  /** Distance along the way of looking, from the plane through the origin. */
  readonly depth: number;
  readonly place: Point;
  /** 1: the side about which its corners run counter-clockwise looks at the eye; -1: the other. */
  readonly facing: 1 | -1;
}

const dot = (a: Point, b: Point) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const unit = (a: Point): Point => {
  const length = Math.hypot(...a);
  return [a[0] / length, a[1] / length, a[2] / length];
};

/**
 * All that lies under each pixel of a square picture, nearest first.
 * @param toward the way of looking, from the eye to the model
 * @param size pixels along an edge; the picture shows the triangles' box and no more
 */
export function rasterise(triangles: readonly RasterTriangle[], toward: Point, size: number): RasterHit[][] {
  const way = unit(toward);
  const across = unit(cross(way, Math.abs(way[2]) > 0.9 ? [0, 1, 0] : [0, 0, 1]));
  const up = cross(across, way);
  const seen = triangles.map(({ corners }) => corners.map((p) => [dot(p, across), dot(p, up), dot(p, way)]));
  const all = (axis: number) => seen.flatMap((corners) => corners.map((p) => p[axis]!));
  const [left, low] = [Math.min(...all(0)), Math.min(...all(1))];
  const extent = Math.max(Math.max(...all(0)) - left, Math.max(...all(1)) - low);
  const pixels: RasterHit[][] = Array.from({ length: size * size }, () => []);
  triangles.forEach(({ id, corners }, t) => {
    const [a, b, c] = seen[t]! as [number[], number[], number[]];
    const area = turn(a, b, c[0]!, c[1]!);
    if (Math.abs(area) < 1e-12) return;
    const from = (axis: number, start: number) =>
      Math.max(0, Math.floor(((Math.min(a[axis]!, b[axis]!, c[axis]!) - start) / extent) * size) - 1);
    const to = (axis: number, start: number) =>
      Math.min(size - 1, Math.ceil(((Math.max(a[axis]!, b[axis]!, c[axis]!) - start) / extent) * size) + 1);
    for (let row = from(1, low); row <= to(1, low); row++)
      for (let column = from(0, left); column <= to(0, left); column++) {
        const x = left + ((column + 0.5) / size) * extent;
        const y = low + ((row + 0.5) / size) * extent;
        const share = [turn(b, c, x, y) / area, turn(c, a, x, y) / area, turn(a, b, x, y) / area];
        if (share.some((one) => one < 0)) continue;
        const at = (axis: 0 | 1 | 2) => share.reduce((sum, one, k) => sum + one * corners[k]![axis], 0);
        const place: Point = [at(0), at(1), at(2)];
        pixels[row * size + column]!.push({ id, depth: dot(place, way), place, facing: area > 0 ? 1 : -1 });
      }
  });
  for (const hits of pixels) hits.sort((p, q) => p.depth - q.depth);
  return pixels;
}

/** A picture in perspective: the eye, and the pixels as places before it. */
export interface Pinhole {
  readonly eye: Point;
  /** Place of the top left corner; from there a pixel across and a pixel down, square to each other. */
  readonly corner: Point;
  readonly across: Point;
  readonly down: Point;
}

const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const plus = (a: Point, b: Point, t: number): Point => [a[0] + t * b[0], a[1] + t * b[1], a[2] + t * b[2]];

/**
 * The same for a picture in perspective: all that lies under the middle of every so many pixels, across and down, nearest
 * first. Each ray is met with the plane of each triangle near it.
 * @returns rows of pixels, the uppermost first
 */
export function lookThrough(
  triangles: readonly RasterTriangle[],
  { eye, corner, across, down }: Pinhole,
  { width, height, every }: { readonly width: number; readonly height: number; readonly every: number },
): RasterHit[][][] {
  const toCorner = minus(corner, eye);
  const ahead = cross(across, down);
  const onPicture = (place: Point) => {
    const way = minus(place, eye);
    const off = minus(plus([0, 0, 0], way, dot(toCorner, ahead) / dot(way, ahead)), toCorner);
    return [dot(off, across) / dot(across, across), dot(off, down) / dot(down, down)] as const;
  };
  const pixels = Array.from({ length: Math.floor(height / every) }, () =>
    Array.from({ length: Math.floor(width / every) }, (): RasterHit[] => []),
  );
  for (const { id, corners } of triangles) {
    const normal = cross(minus(corners[1], corners[0]), minus(corners[2], corners[0]));
    if (Math.hypot(...normal) < 1e-12) continue;
    const seen = corners.map(onPicture);
    const reach = (axis: 0 | 1, count: number) => {
      const at = seen.map((place) => place[axis] / every);
      return [Math.max(0, Math.floor(Math.min(...at)) - 1), Math.min(count - 1, Math.ceil(Math.max(...at)))];
    };
    const [top, bottom] = reach(1, pixels.length) as [number, number];
    const [left, right] = reach(0, pixels[0]!.length) as [number, number];
    for (let row = top; row <= bottom; row++)
      for (let column = left; column <= right; column++) {
        const at = plus(plus(toCorner, across, column * every + 0.5), down, row * every + 0.5);
        const way = unit(at);
        const depth = dot(minus(corners[0], eye), normal) / dot(way, normal);
        const place = plus(eye, way, depth);
        const inside = corners.every((p, k) => {
          const edge = minus(corners[(k + 1) % 3]!, p);
          return dot(cross(edge, minus(place, p)), normal) >= 0;
        });
        if (inside) pixels[row]![column]!.push({ id, depth, place, facing: dot(normal, way) < 0 ? 1 : -1 });
      }
  }
  for (const row of pixels) for (const hits of row) hits.sort((p, q) => p.depth - q.depth);
  return pixels;
}

function turn(a: readonly number[], b: readonly number[], x: number, y: number): number {
  return (b[0]! - a[0]!) * (y - a[1]!) - (b[1]! - a[1]!) * (x - a[0]!);
}
