/** One problem, several questions: the first order, the count, each order in turn and the conflict agree. */

import { describe, expect, it } from 'vitest';
import type { Asked } from '../../../src/core/layer/asked.ts';
import { differencesOf } from '../../../src/core/layer/choices.ts';
import { LayerProblem } from '../../../src/core/layer/problem.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { conflictSentence } from '../../../src/words/findings.ts';
import { layerOracle } from '../../oracles/layers.ts';
import { mapSheet, sheetOfFaces, stripSheet } from '../../support/faces.ts';
import { sampleLesson } from '../../support/lessons.ts';
import { type Family, families, smallPattern } from './small-patterns.ts';

function problemOf(sheet: Sheet): LayerProblem {
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  return new LayerProblem(sheet, angle, placePanels(sheet, angle, 0));
}

describe('each state in turn', () => {
  it('the wallet has 12, each once; kept orders lead back to each', () => {
    const problem = problemOf(sampleLesson('ticket-wallet').sheet);
    const all = [...problem.states()];
    // 12: the demo scenario's own count by enumeration
    expect(all.length).toBe(12);
    expect(new Set(all.map((state) => JSON.stringify(state))).size).toBe(12);
    for (const keep of all) {
      expect(problem.count([{ keep }])).toEqual({ states: 1n, exact: true });
      expect(problem.first([{ keep }])).toEqual(keep);
    }
  });

  it('a strip of eight stamps: 1392 (A000136), each once', () => {
    const all = [...problemOf(mapSheet(8, 1)).states()].map((state) => JSON.stringify(state));
    expect(new Set(all).size).toBe(1392);
    expect(all.length).toBe(1392);
  });

  for (const family of Object.keys(families) as Family[])
    it(`${family}: every state is one for the oracle, none is missing`, () => {
      for (let seed = 1; seed <= 4; seed++) {
        const pattern = smallPattern(family, seed);
        const problem = problemOf(sheetOfFaces(pattern.vertices, pattern.faces, pattern.degreesOf));
        const oracle = layerOracle(pattern);
        const all = [...problem.states()];
        expect(all.length, `${family} ${seed}`).toBe(oracle.states);
        expect(new Set(all.map((state) => JSON.stringify(state))).size).toBe(oracle.states);
        for (const state of all.slice(0, 50)) if (oracle.pairs > 0) expect(oracle.accepts(state)).toBe(true);
      }
    });
});

describe('what tells one state from others', () => {
  it('in each state of the wallet as few places as tell it; where there is no other, none', () => {
    const problem = problemOf(sampleLesson('ticket-wallet').sheet);
    const all = [...problem.states()];
    all.forEach((state, chosen) => {
      const told = differencesOf(problem, all, chosen).map(({ pair }) => pair);
      const alike = all.filter((other) =>
        told.every((pair) => other.some((one) => one.join() === pair.join())),
      );
      expect(alike).toEqual([state]);
    });
    expect(differencesOf(problem, [all[0]!], 0)).toEqual([]);
    expect(differencesOf(problem, [all[0]!, all[0]!], 0)).toEqual([]);
  });
});

describe('asked orders', () => {
  const problem = problemOf(stripSheet([1, 1, 1, 1], [180, 180, 180]));
  const position = (asked: readonly Asked[]) => problem.count(asked).states;

  it('between: each of three stamps lies between the other two in a third of all orders of a strip of three', () => {
    const three = problemOf(mapSheet(3, 1));
    // by hand: all six orders of three stamps can be folded, two of them with a given stamp in the middle
    for (const [panel, g, h] of [
      [0, 1, 2],
      [1, 0, 2],
      [2, 0, 1],
    ] as const)
      expect(three.count([{ panel, between: [g, h] }]).states).toBe(2n);
  });

  it('between is asked only where all three lie together', () => {
    // by hand: the last stamp, half as long, ends before the first fold; the three still lie in all six orders
    const short = problemOf(stripSheet([2, 2, 1], []));
    expect(short.count().states).toBe(6n);
    for (const [panel, g, h] of [
      [0, 1, 2],
      [1, 0, 2],
      [1, 2, 0],
      [2, 0, 1],
    ] as const)
      expect(short.count([{ panel, between: [g, h] }]).states).toBe(2n);
  });

  it('an order and its opposite share out the states of a strip', () => {
    const all = problem.count().states;
    for (const [f, g] of [
      [0, 2],
      [1, 3],
      [0, 3],
    ] as const) {
      const one = position([{ keep: [[f, g, 1]] }]);
      const other = position([{ keep: [[f, g, -1]] }]);
      expect(one + other).toBe(all);
    }
  });

  it('contradictory: the conflict names what was asked', () => {
    const asked: Asked[] = [{ keep: [[0, 2, 1]] }, { keep: [[0, 2, -1]] }];
    expect(problem.first(asked)).toBeNull();
    expect(conflictSentence(problem.conflict(asked)!.why)).toContain(
      'asked: 0 over 2, as before and 0 under 2, as before',
    );
  });

  it('against the paper: the conflict names the one thing asked and the crease', () => {
    // by hand: a mountain brings the second half under the first, whichever of the two is asked
    const half = stripSheet([1, 1], [-180]);
    const fold = half.creaseAngle.indexOf(-Math.PI);
    for (const [over, under] of [
      [0, 1],
      [1, 0],
    ] as const) {
      const { why, panels, creases } = problemOf(half).conflict([{ over, under }])!;
      expect(conflictSentence(why)).toContain(
        `The paper does not allow what is asked: ${over} over ${under};`,
      );
      expect([panels, creases]).toEqual([[0, 1], [fold]]);
    }
    expect(problemOf(stripSheet([1, 1], [180])).conflict([{ over: 0, under: 1 }])).toBeNull();
  });

  it('panels that do not overlap: one sentence, no state', () => {
    const flat = problemOf(stripSheet([1, 1, 1], [0, 180]));
    const asked: Asked[] = [{ over: 0, under: 1 }];
    expect(flat.count(asked)).toEqual({ states: 0n, exact: true });
    expect(conflictSentence(flat.conflict(asked)!.why)).toContain('do not overlap');
  });
});
