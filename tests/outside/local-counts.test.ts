import { describe, expect, test } from 'vitest';
import { buildSheet } from '../../src/core/sheet/build.ts';
import { checkSheet } from '../../src/core/sheet/check.ts';
import type { Segment } from '../../src/core/sheet/segment.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { creasesAround, interiorVertices } from '../../src/core/sheet/walk.ts';
import { withLetters } from './star.ts';
import counts from './values/local_global_counts.json' with { type: 'json' };

/** A grid of m x n cells; `lean` 0 gives a map, more a Miura sheet. */
function grid(m: number, n: number, lean: number): Sheet {
  const at = (i: number, j: number): [number, number] => [i, j + (i % 2) * lean];
  const lines: Segment[] = [];
  const draw = (a: [number, number], b: [number, number], edge: boolean) =>
    lines.push({ x1: a[0], y1: a[1], x2: b[0], y2: b[1], kind: edge ? 'edge' : 'unassigned' });
  // creases first, so that they have the first numbers
  for (const edge of [false, true]) {
    for (let i = 0; i <= m; i++) {
      for (let j = 0; j <= n; j++) {
        if (i < m && (j === 0 || j === n) === edge) draw(at(i, j), at(i + 1, j), edge);
        if (j < n && (i === 0 || i === m) === edge) draw(at(i, j), at(i, j + 1), edge);
      }
    }
  }
  return buildSheet(lines).sheet!;
}

/** How many mountain-valley choices every vertex accepts, going through all of them. */
function countLocal(sheet: Sheet, creases: number): number {
  const corners = interiorVertices(sheet).map((v) => {
    const around = Array.from(creasesAround(sheet, v), (h) => h >> 1);
    // our own check says which of the choices at this vertex it accepts; the other creases are left undecided
    const accepts = Uint8Array.from({ length: 2 ** around.length }, (_, k) => {
      const letters = new Array<string>(creases).fill('U');
      around.forEach((e, bit) => {
        letters[e] = (k >> bit) & 1 ? 'V' : 'M';
      });
      const found = checkSheet(withLetters(sheet, letters.join('')));
      return found.some((f) => f.vertices.includes(v)) ? 0 : 1;
    });
    return { around, accepts };
  });
  let count = 0;
  for (let word = 0; word < 2 ** creases; word++) {
    let good = 1;
    for (const { around, accepts } of corners) {
      let k = 0;
      for (let bit = 0; bit < around.length; bit++) k |= ((word >> around[bit]!) & 1) << bit;
      good = accepts[k]!;
      if (good === 0) break;
    }
    count += good;
  }
  return count;
}

// source: values/local_global_counts.json (Ginepro and Hull 2014; A078099; brute force)
describe('locally valid mountain-valley choices of whole sheets', () => {
  test.each(
    counts.local.map(([kind, m, n, count]) => [kind, m, n, count] as [string, number, number, number]),
  )('%s %i x %i: %i', (kind, m, n, count) => {
    const sheet = grid(m, n, kind === 'Miura' ? 0.4 : 0);
    expect(countLocal(sheet, (m - 1) * n + (n - 1) * m)).toBe(count);
  });

  test('whole sheets, every choice through the check at once: Miura 3 x 3', () => {
    const sheet = grid(3, 3, 0.4);
    let count = 0;
    for (let word = 0; word < 2 ** 12; word++) {
      const letters = Array.from({ length: 12 }, (_, e) => ((word >> e) & 1 ? 'V' : 'M')).join('');
      if (checkSheet(withLetters(sheet, letters)).length === 0) count++;
    }
    expect(count).toBe(82);
  });
});
