/** Maps between planes seen in perspective, as nine numbers row by row (Hartley and Zisserman, Multiple View Geometry). */
import type { Point } from '../../numeric/vector.ts';

export type Homography = readonly number[];

export const unmoved: Homography = [1, 0, 0, 0, 1, 0, 0, 0, 1];

export function apply(map: Homography, [x, y]: Point): Point {
  const far = map[6]! * x + map[7]! * y + map[8]!;
  return [(map[0]! * x + map[1]! * y + map[2]!) / far, (map[3]! * x + map[4]! * y + map[5]!) / far];
}

/** First the second map, then the first. */
export function after(first: Homography, second: Homography): Homography {
  const entry = (row: number, column: number) =>
    [0, 1, 2].reduce((sum, k) => sum + first[3 * row + k]! * second[3 * k + column]!, 0);
  return Array.from({ length: 9 }, (_, at) => entry(Math.floor(at / 3), at % 3));
}

/** The map that brings four points to four others; null when three of them lie on a line. */
export function homography(from: readonly Point[], to: readonly Point[]): Homography | null {
  const rows = from.flatMap(([x, y], k) => {
    const [u, v] = to[k]!;
    return [
      [x, y, 1, 0, 0, 0, -u * x, -u * y, u],
      [0, 0, 0, x, y, 1, -v * x, -v * y, v],
    ];
  });
  for (let column = 0; column < 8; column++) {
    let best = column;
    for (let row = column; row < 8; row++)
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[best]![column]!)) best = row;
    [rows[column], rows[best]] = [rows[best]!, rows[column]!];
    const pivot = rows[column]![column]!;
    if (Math.abs(pivot) < 1e-9) return null;
    rows.forEach((row, k) => {
      if (k === column) return;
      const factor = row[column]! / pivot;
      for (let at = column; at < 9; at++) row[at]! -= factor * rows[column]![at]!;
    });
  }
  return [...rows.map((row, k) => row[8]! / row[k]!), 1];
}
