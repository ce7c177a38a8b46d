import { describe, expect, test } from 'vitest';
import { checkSheet } from '../../src/core/sheet/check.ts';
import { allLetters, star, withAngles, withLetters } from './star.ts';
import general from './values/degree4_general.json' with { type: 'json' };
import signs from './values/quaternion_sign.json' with { type: 'json' };
import counts from './values/single_vertex_counts.json' with { type: 'json' };

const folds = (sheet: ReturnType<typeof star>) => checkSheet(sheet).length === 0;

describe('which mountain-valley choices fold flat at one vertex', () => {
  // source: values/single_vertex_counts.json (exhaustive stacking; Hull 2003)
  test.each(counts.cases.map((c) => [c.angles.join(' '), c] as const))('sectors %s', (_, c) => {
    const sheet = star(c.angles);
    const accepted = allLetters(c.angles.length).filter((letters) => folds(withLetters(sheet, letters)));
    expect(accepted.length).toBe(c.mv_count);
    if (c.mv !== null) expect(accepted.sort()).toEqual([...c.mv].sort());
  });

  test.each(Object.entries(counts.equal_angles).filter(([n]) => n !== '2'))(
    '%s equal sectors: %i',
    (n, count) => {
      const sheet = star(new Array<number>(Number(n)).fill(360 / Number(n)));
      expect(allLetters(Number(n)).filter((letters) => folds(withLetters(sheet, letters))).length).toBe(
        count,
      );
    },
  );

  test.each(Object.entries(counts.degree6_values))('degree 6 realises %s', (count, angles) => {
    const sheet = star(angles);
    expect(allLetters(6).filter((letters) => folds(withLetters(sheet, letters))).length).toBe(Number(count));
  });

  // source: values/single_vertex_counts.json, degree8_values; vertices on a grid of 18 degrees, and eight equal sectors
  test('degree 8 takes the published values and no others', () => {
    const choices = (angles: number[]) => {
      const sheet = star(angles);
      return allLetters(8).filter((letters) => folds(withLetters(sheet, letters))).length;
    };
    const found = new Set([choices(new Array<number>(8).fill(45))]);
    const tried = new Set<string>();
    for (const odd of compositions(10, 4)) {
      for (const even of compositions(10, 4)) {
        const angles = odd.flatMap((a, k) => [a * 18, even[k]! * 18]);
        const turned = angles.map((_, k) => [...angles.slice(k), ...angles.slice(0, k)].join());
        if (turned.some((copy) => tried.has(copy)) || Math.max(...angles) < 54) continue;
        tried.add(angles.join());
        found.add(choices(angles));
      }
    }
    expect([...found].sort((a, b) => a - b)).toEqual(counts.degree8_values);
  });

  // a statement about any choice: must agree with trying all choices by the published counts
  test('undecided creases are accepted exactly when some choice folds', () => {
    for (const angles of [
      [60, 60, 60, 60, 60, 60],
      [45, 45, 90, 45, 45, 90],
      [40, 60, 50, 70, 90, 50],
      [30, 90, 60, 60, 90, 30],
    ]) {
      const sheet = star(angles);
      const valid = counts.cases.find((c) => c.angles.join() === angles.join())!.mv!;
      for (let k = 0; k < 3 ** 6; k++) {
        const letters = Array.from({ length: 6 }, (_, i) => 'MVU'[Math.floor(k / 3 ** i) % 3]!).join('');
        const fits = valid.some((word) => [...word].every((c, i) => letters[i] === 'U' || letters[i] === c));
        expect([letters, folds(withLetters(sheet, letters))]).toEqual([letters, fits]);
      }
    }
  });
});

/** Ways to write a sum as a list of positive whole numbers. */
function compositions(sum: number, parts: number): number[][] {
  if (parts === 1) return [[sum]];
  return Array.from({ length: sum - parts + 1 }, (_, k) => k + 1).flatMap((first) =>
    compositions(sum - first, parts - 1).map((rest) => [first, ...rest]),
  );
}

describe('rules are named', () => {
  // source: Kawasaki-Justin, Maekawa-Justin and big-little-big as surveyed by Hull, arXiv:1307.1065
  test.each([
    ['odd degree', [72, 72, 72, 72, 72], 'MVMVV', 'vertex-odd-degree'],
    ['angle sums', [60, 80, 100, 120], 'MVVV', 'vertex-angle-sum'],
    ['counts', [90, 90, 90, 90], 'MMVV', 'vertex-mountain-valley-count'],
    ['a small angle between equals', [45, 90, 135, 90], 'VVMV', 'vertex-small-angle'],
  ])('%s', (_, angles, letters, code) => {
    const [found, ...more] = checkSheet(withLetters(star(angles), letters));
    expect(more).toEqual([]);
    expect(found!.code).toBe(code);
    expect(found!.vertices).toEqual([0]);
  });

  test('a mark (flat crease) at a vertex does not count', () => {
    const sheet = star([90, 45, 45, 90, 90]);
    const creaseKind = sheet.creaseKind.slice();
    creaseKind[2] = 3;
    // four equal sectors are left: three folds alike and one other
    expect(folds(withLetters({ ...sheet, creaseKind }, 'MV'))).toBe(true);
    expect(folds(withLetters({ ...sheet, creaseKind }, 'MM'))).toBe(false);
    expect(folds(withLetters(sheet, 'MVVVV'))).toBe(false);
  });
});

describe('closure at given finished angles', () => {
  // source: values/degree4_general.json (spherical cosines, 50 digits). A row closes as rotation; whether the
  // quaternion product has the right sign is worked out here from the sectors and angles alone.
  test.each(general.cases.map((c) => [c.sectors.join(' '), c] as const))('degree 4, sectors %s', (_, c) => {
    const sheet = star(c.sectors);
    for (const row of c.rows) {
      const angles = row.slice(1, 5);
      const sign = productSign(c.sectors, angles);
      const found = checkSheet(withAngles(sheet, angles));
      expect(found.map((f) => f.code)).toEqual(sign > 0 ? [] : ['vertex-closure']);
      if (sign < 0) expect(found[0]!.value).toBeCloseTo(2 * Math.PI, 6);
      const bent = checkSheet(withAngles(sheet, [angles[0]! + 1, ...angles.slice(1)]));
      expect(bent.map((f) => f.code)).toContain('vertex-closure');
    }
  });

  test('19 of the 54 rows have the wrong sign', () => {
    const rows = general.cases.flatMap((c) => c.rows.map((r) => productSign(c.sectors, r.slice(1, 5))));
    expect([rows.length, rows.filter((s) => s < 0).length]).toEqual([54, 19]);
  });

  // source: values/quaternion_sign.json, box corner with gusset; sign -1 with sector turns is +1 without
  test.each(signs.gusset.map((r) => [r.slice(0, 5).join(' '), r] as const))('box corner %s', (_, row) => {
    const sheet = star([90, 90, 45, 45, 90], 0);
    const codes = checkSheet(withAngles(sheet, row.slice(0, 5))).map((f) => f.code);
    expect(codes).toEqual(row[5] === -1 ? [] : ['vertex-closure']);
  });
});

/**
 * Sign of the product of q_x(fold) q_z(sector), turned so that flat paper gives +1; complex 2 x 2 matrices, so that
 * nothing is shared with the code under test.
 */
function productSign(sectors: readonly number[], angles: readonly number[]): number {
  type C = [number, number];
  const mul = ([a, b]: C, [c, d]: C): C => [a * c - b * d, a * d + b * c];
  const add = ([a, b]: C, [c, d]: C): C => [a + c, b + d];
  let m: [C, C, C, C] = [
    [1, 0],
    [0, 0],
    [0, 0],
    [1, 0],
  ];
  const times = (p: [C, C, C, C]) => {
    m = [
      add(mul(m[0], p[0]), mul(m[1], p[2])),
      add(mul(m[0], p[1]), mul(m[1], p[3])),
      add(mul(m[2], p[0]), mul(m[3], p[2])),
      add(mul(m[2], p[1]), mul(m[3], p[3])),
    ];
  };
  const half = (degrees: number) => (degrees * Math.PI) / 360;
  angles.forEach((angle, k) => {
    const [c, s] = [Math.cos(half(angle)), Math.sin(half(angle))];
    times([
      [c, 0],
      [0, s],
      [0, s],
      [c, 0],
    ]);
    const [cz, sz] = [Math.cos(half(sectors[k]!)), Math.sin(half(sectors[k]!))];
    times([
      [cz, sz],
      [0, 0],
      [0, 0],
      [cz, -sz],
    ]);
  });
  return -Math.sign(m[0][0] + m[3][0]);
}
