/** Which creases keys reach on the flat sheet, and in how many presses. */
import { expect, test } from 'vitest';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import type { Selection } from '../../src/desk/store.ts';
import { leapFrom, walkFrom } from '../../src/interface/sheet/sheet-drawing.ts';
import { sampleLesson } from '../support/lessons.ts';
import { miuraSheet } from '../support/patterns.ts';

const ways = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;

/** Presses from the crease that the first arrow takes to each crease; those that no way leads to are left out. */
function pressesTo(sheet: Sheet): Map<number, number> {
  const first = walkFrom(sheet, null, 1, 0);
  const presses = new Map([[first.id, 1]]);
  for (const id of presses.keys())
    for (const walk of [walkFrom, leapFrom])
      for (const [dx, dy] of ways) {
        const from: Selection = { kind: 'crease', id };
        const next = walk(sheet, from, dx, dy);
        if (!presses.has(next.id)) presses.set(next.id, presses.get(id)! + 1);
      }
  return presses;
}

// common practice, no source: "few" is taken as twelve presses, on samples of up to some eighty lines and on a grid of 20 x 20
for (const [name, sheet] of [
  ['pencil case', sampleLesson('pencil-case').sheet],
  ['twist coaster', sampleLesson('twist-coaster').sheet],
  ['cuffed tray', sampleLesson('cuffed-tray').sheet],
  ['tapered case', sampleLesson('tapered-case').sheet],
  ['Miura sheet', miuraSheet(20, 20)],
] as const)
  test(`arrows reach every crease of the ${name}, the furthest in twelve presses`, () => {
    const presses = pressesTo(sheet);
    expect(presses.size).toBe(sheet.creaseKind.length);
    expect(Math.max(...presses.values())).toBeLessThanOrEqual(12);
  });
