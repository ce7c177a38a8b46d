/** Shares of a flat point in a triangle (barycentric coordinates, common practice), and paper shifted by them. */
import { describe, expect, it } from 'vitest';
import { asideAt, sharesOf } from '../../../src/core/layer/aside.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';

describe('a point as shares of three corners', () => {
  it('has the shares that it was mixed from, whichever corners of the list they are, seed 3', () => {
    const random = seededRandom(3);
    for (let trial = 0; trial < 200; trial++) {
      const flat = Float64Array.from({ length: 12 }, () => 2 * random() - 1);
      const [a, b, c] = [trial % 6, (trial + 1 + (trial % 2)) % 6, (trial + 3) % 6];
      const at = (axis: number) => [a, b, c].map((k) => flat[2 * k + axis]!);
      const [x, y] = [at(0), at(1)];
      // slivers have no room for the shares to be told to nine places
      if (Math.abs((x[1]! - x[0]!) * (y[2]! - y[0]!) - (y[1]! - y[0]!) * (x[2]! - x[0]!)) < 1e-3) continue;
      const first = 3 * random() - 1;
      const second = 3 * random() - 1;
      const share = [first, second, 1 - first - second];
      const mixed = (corners: readonly number[]) => share.reduce((sum, w, k) => sum + w * corners[k]!, 0);
      sharesOf(flat, a, b, c, mixed(x), mixed(y)).forEach((one, k) => {
        expect(one, `trial ${trial}`).toBeCloseTo(share[k]!, 9);
      });
    }
  });
});

it('paper of two triangles is shifted as its corners are, evenly in between; other panels lie where they are', () => {
  const flat = Float64Array.of(0, 0, 2, 0, 2, 1, 0, 1);
  const shift = Float64Array.of(0, 0, 0, 0, 0, 0.4, 0, 0.2, 0, 0.6, 0, 0);
  const mesh = { flat, triangles: Int32Array.of(0, 1, 2, 0, 2, 3) };
  const aside = new Map([[5, { mesh, shift }]]);
  expect(asideAt(aside, 5, 2, 0)).toEqual([0, 0, 0.4]);
  expect(asideAt(aside, 5, 0, 1)).toEqual([0.6, 0, 0]);
  // halves of edges, by hand: of the diagonal, of the lower edge, of the left one
  for (const [x, y, wanted] of [
    [1, 0.5, [0, 0.1, 0]],
    [1, 0, [0, 0, 0.2]],
    [0, 0.5, [0.3, 0, 0]],
  ] as const)
    asideAt(aside, 5, x, y).forEach((one, k) => {
      expect(one).toBeCloseTo(wanted[k]!, 12);
    });
  expect(asideAt(aside, 4, 1, 0.5)).toEqual([0, 0, 0]);
  expect(asideAt(null, 5, 1, 0.5)).toEqual([0, 0, 0]);
});
