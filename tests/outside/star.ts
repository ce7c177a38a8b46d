/** A sheet with one vertex in the middle, for checks of single vertices. */

import { sheetFromGraph } from '../../src/core/sheet/from-graph.ts';
import { KIND } from '../../src/core/sheet/kind.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { said } from '../support/said.ts';

/** Creases 0..n-1 run from the middle (vertex 0) at the given sectors, counted counter-clockwise, in degrees. */
export function star(sectors: readonly number[], start = 17): Sheet {
  const turns: number[] = [];
  let turn = start;
  for (const sector of sectors) {
    turns.push((turn * Math.PI) / 180);
    turn += sector;
  }
  const n = sectors.length;
  const rim = turns.map((t) => [Math.cos(t), Math.sin(t)] as [number, number]);
  // a corner between neighbours keeps the outline round the middle where a sector is wide
  const between = turns.map((t, k) => {
    const middle = t + ((sectors[k]! / 2) * Math.PI) / 180;
    return [Math.cos(middle), Math.sin(middle)] as [number, number];
  });
  const { sheet, findings } = sheetFromGraph({
    vertices: [[0, 0], ...rim, ...between],
    edges: [
      ...turns.map((_, k) => [0, k + 1] as const),
      ...turns.flatMap((_, k) => [[k + 1, n + k + 1] as const, [n + k + 1, ((k + 1) % n) + 1] as const]),
    ],
    kinds: [...turns.map(() => 'valley' as const), ...turns.flatMap(() => ['edge', 'edge'] as const)],
    angles: new Array<number>(3 * n).fill(Number.NaN),
  });
  if (sheet === null) throw new Error(said(findings));
  return sheet;
}

/** The same sheet with its first creases set by letters: M, V, or U for undecided. */
export function withLetters(sheet: Sheet, letters: string): Sheet {
  const creaseKind = sheet.creaseKind.slice();
  [...letters].forEach((letter, e) => {
    creaseKind[e] = letter === 'M' ? KIND.mountain : letter === 'V' ? KIND.valley : KIND.unassigned;
  });
  return { ...sheet, creaseKind };
}

/** The same sheet with the finished angles of its first creases given in degrees. */
export function withAngles(sheet: Sheet, degrees: readonly number[]): Sheet {
  const creaseAngle = sheet.creaseAngle.slice();
  const creaseKind = sheet.creaseKind.slice();
  degrees.forEach((angle, e) => {
    creaseAngle[e] = (angle * Math.PI) / 180;
    creaseKind[e] = angle < 0 ? KIND.mountain : KIND.valley;
  });
  return { ...sheet, creaseAngle, creaseKind };
}

/** All words of n letters M and V. */
export function allLetters(n: number): string[] {
  return Array.from({ length: 2 ** n }, (_, k) =>
    Array.from({ length: n }, (_, bit) => ((k >> bit) & 1 ? 'V' : 'M')).join(''),
  );
}
