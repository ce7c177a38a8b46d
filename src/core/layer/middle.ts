/** A place well inside a cell of a plane. */
import earcut from 'earcut';
import { originOf } from '../sheet/rings.ts';
import type { PlaneGroup } from './planes.ts';

/** The middle of the largest triangle that a cell is cut into, with the area of that; in the plane's own coordinates. */
export function middleOfCell(
  { net, faces }: Pick<PlaneGroup, 'net' | 'faces'>,
  cell: number,
): { at: [number, number]; area: number } {
  const points: [number, number][] = [];
  const holes: number[] = [];
  for (const first of faces.rings[cell]!) {
    if (points.length > 0) holes.push(points.length);
    let h = first;
    do {
      const v = originOf(net, h);
      points.push([net.x[v]!, net.y[v]!]);
      h = faces.next[h]!;
    } while (h !== first);
  }
  const triangles = earcut(points.flat(), holes);
  let best: { at: [number, number]; area: number } = { at: points[0] ?? [0, 0], area: 0 };
  for (let k = 0; k < triangles.length; k += 3) {
    const [a, b, c] = [points[triangles[k]!]!, points[triangles[k + 1]!]!, points[triangles[k + 2]!]!];
    const area = Math.abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / 2;
    if (area > best.area) best = { at: [(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3], area };
  }
  return best;
}
