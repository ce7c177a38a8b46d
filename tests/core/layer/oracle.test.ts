/**
 * Layer orders against an oracle that tries every assignment. Counts of A000136, A001415 (as in tests/outside) and
 * a passage worked out by hand hold the oracle itself. CREASEWAY_SEED=n runs other patterns, CREASEWAY_SOAK=1
 * many more.
 */
import { describe, expect, it } from 'vitest';
import { layerOrders } from '../../../src/core/layer/order.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { layerOracle, type Pattern } from '../../oracles/layers.ts';
import space from '../../outside/values/layer_counts_3d.json';
import { sheetOfFaces } from '../../support/faces.ts';
import { type Family, families, smallPattern } from './small-patterns.ts';

const soak = process.env.CREASEWAY_SOAK === '1';
const firstSeed = Number(process.env.CREASEWAY_SEED ?? 1);
const perFamily = soak ? 170 : 13;

function fast({ vertices, faces, degreesOf }: Pattern, still: number) {
  const sheet = sheetOfFaces(vertices, faces, degreesOf);
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  return layerOrders(sheet, angle, placePanels(sheet, angle, still));
}

function stripPattern(lengths: readonly number[], degrees: readonly (number | undefined)[]): Pattern {
  let x = 0;
  const ends = [0, ...lengths.map((length) => (x += length))];
  return {
    vertices: ends.flatMap((end) => [[end, 0] as const, [end, 1] as const]),
    faces: lengths.map((_, k) => [2 * k, 2 * k + 2, 2 * k + 3, 2 * k + 1]),
    degreesOf: (a, b) => degrees[Math.min(a, b) / 2 - 1],
  };
}

const told = ({ vertices, faces, degreesOf }: Pattern) =>
  JSON.stringify({
    vertices,
    faces,
    degrees: faces.flatMap((face, f) =>
      face.flatMap((a, k) => {
        const b = face[(k + 1) % face.length]!;
        const shared = faces.some((other, g) => g > f && other.includes(a) && other.includes(b));
        return shared ? [[a, b, degreesOf(a, b) ?? 'either']] : [];
      }),
    ),
  });

describe('the oracle against published counts', () => {
  it('strips of 1 to 6 stamps: A000136', () => {
    const states = [1, 2, 3, 4, 5, 6].map((n) => layerOracle(stripPattern(new Array(n).fill(1), [])).states);
    expect(states).toEqual([1, 2, 6, 16, 50, 144]);
  });

  it('maps 2 x 2 and 2 x 3: A001415', () => {
    const grid = (m: number, n: number): Pattern => ({
      vertices: Array.from({ length: (m + 1) * (n + 1) }, (_, k) => [k % (m + 1), Math.floor(k / (m + 1))]),
      faces: Array.from({ length: m * n }, (_, k) => {
        const corner = Math.floor(k / m) * (m + 1) + (k % m);
        return [corner, corner + 1, corner + m + 2, corner + m + 1];
      }),
      degreesOf: () => undefined,
    });
    expect(layerOracle(grid(2, 2)).states).toBe(8);
    expect(layerOracle(grid(2, 3)).states).toBe(60);
  });

  it('strips of up to six panels in space, found by enumeration elsewhere; no published source', () => {
    let compared = 0;
    for (const [lengths, degrees, states] of space.strips as unknown as [number[], number[], number][]) {
      if (lengths.length > 6) continue;
      expect(layerOracle(stripPattern(lengths, degrees)).states, `${lengths} ${degrees}`).toBe(states);
      compared++;
    }
    expect(compared).toBeGreaterThan(50);
  });

  it('a sheet cannot pass through another away from every crease: worked out by hand', () => {
    // floor from 0 to 2, up at 2, back over it, down again at 1: through the floor, or ending above it
    for (const [last, states] of [
      [2, 0],
      [0.5, 1],
    ] as const) {
      const pattern = stripPattern([2, 1, 1, last], [90, 90, 90]);
      expect(layerOracle(pattern).states).toBe(states);
      expect(Number(fast(pattern, 0).states)).toBe(states);
    }
  });
});

describe('random small patterns', () => {
  for (const family of Object.keys(families) as Family[])
    it(`${family}: ${perFamily} from seed ${firstSeed}`, () => {
      let several = 0;
      for (let seed = firstSeed; seed < firstSeed + perFamily; seed++) {
        const pattern = smallPattern(family, seed);
        const oracle = layerOracle(pattern);
        const { states, exact, order } = fast(pattern, seed % pattern.faces.length);
        const what = `${family}, seed ${seed}: ${told(pattern)}`;
        expect(exact, what).toBe(true);
        expect(Number(states), what).toBe(oracle.states);
        if (oracle.states > 0) expect(oracle.accepts(order), `${what} the state given`).toBe(true);
        if (oracle.states > 0 && oracle.pairs > 0) several++;
      }
      expect(several).toBeGreaterThan(0);
    });
});

describe('a panel whose edge runs along the line under study', () => {
  // By hand: the doubled gusset lies under the wall it doubles, on the side to which the next wall goes down; nothing
  // crosses. A ray cast along that edge once took the place beyond its end for the panel's inside.
  it('box corner, seed 5152: one state, whichever panel is still', () => {
    const pattern = smallPattern('box corner', 5152);
    expect(layerOracle(pattern).states).toBe(1);
    expect(pattern.faces.map((_, still) => Number(fast(pattern, still).states))).toEqual([1, 1, 1, 1, 1]);
  });
});
