/**
 * Layer orders against published counts: stamps and maps (OEIS A000136, A001415, A001416, A001418; Koehler 1968;
 * Lunnon 1968, 1971). Counts of other patterns and of three-dimensional states were found by exhaustive search for
 * this purpose; no published source is known for them.
 */
import { describe, expect, it } from 'vitest';
import { type AskedOrder, layerOrders } from '../../src/core/layer/order.ts';
import { placePanels } from '../../src/core/pose/place.ts';
import { KIND } from '../../src/core/sheet/kind.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { mapSheet, sheetOfFaces, stripSheet } from '../support/faces.ts';
import { sampleLesson } from '../support/lessons.ts';
import { miuraSheet, vertexSheet } from '../support/patterns.ts';
import counts from './values/folding_counts.json';
import space from './values/layer_counts_3d.json';
import flat from './values/layer_counts_flat.json';
import unfoldable from './values/locally_valid_unfoldable.json';

function layers(sheet: Sheet, asked: readonly AskedOrder[] = []) {
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  return layerOrders(sheet, angle, placePanels(sheet, angle, 0), { asked });
}

const statesOf = (sheet: Sheet) => Number(layers(sheet).states);

/** Letters V and M to the creases of a value file. */
function lettersOf(creases: readonly (readonly number[])[], letters: string) {
  const degrees = new Map(
    creases.map(([a, b], k) => [[a!, b!].sort((p, q) => p - q).join(), letters[k] === 'V' ? 180 : -180]),
  );
  return (a: number, b: number) => degrees.get([a, b].sort((p, q) => p - q).join())!;
}

describe('stamps and maps', () => {
  it('strips of 1 to 12 stamps: A000136', () => {
    const known = counts.oeis_terms.A000136 as unknown as (number | readonly number[])[];
    for (let n = 1; n <= 12; n++)
      expect(statesOf(mapSheet(n, 1)), `${n} stamps`).toBe([known[n - 1]!].flat()[0]);
  });

  it('strips to 7 stamps, each string of mountains and valleys', () => {
    for (const [n, rows] of Object.entries(
      counts.strip_per_mv.table as Record<string, Record<string, number>>,
    ))
      for (const [letters, states] of Object.entries(rows)) {
        const degrees = [...letters].map((letter) => (letter === 'V' ? 180 : -180));
        expect(statesOf(stripSheet(new Array(Number(n)).fill(1), degrees)), letters).toBe(states);
      }
  });

  it('maps 2 x n to n = 6, 3 x 3, 3 x 4: A001415, A001416', () => {
    const published = {
      '2,2': 8,
      '2,3': 60,
      '2,4': 320,
      '2,5': 1980,
      '2,6': 10512,
      '3,3': 1368,
      '3,4': 15552,
    };
    for (const [size, states] of Object.entries(published)) {
      const [m, n] = size.split(',').map(Number) as [number, number];
      expect(statesOf(mapSheet(m, n)), size).toBe(states);
    }
  });

  it('map 4 x 4: A001418', () => {
    expect(statesOf(mapSheet(4, 4))).toBe(300608);
  });

  it('counts too many to visit one by one: 14 stamps, maps 2 x 7, 2 x 8, 3 x 5 (same sources)', () => {
    const known = counts.oeis_terms as unknown as Record<string, number[]>;
    expect(statesOf(mapSheet(14, 1))).toBe(known.A000136![13]);
    expect(statesOf(mapSheet(2, 7))).toBe(known.A001415![7]);
    expect(statesOf(mapSheet(2, 8))).toBe(known.A001415![8]);
    expect(statesOf(mapSheet(3, 5))).toBe(known.A001416![5]);
  });

  it('a count that runs out of time says at least, and gives a state', () => {
    const sheet = mapSheet(6, 6);
    const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
    let ticks = 0;
    const answer = layerOrders(sheet, angle, placePanels(sheet, angle, 0), { outOfTime: () => ++ticks > 3 });
    expect(answer.exact).toBe(false);
    expect(answer.states).toBeGreaterThan(0n);
    expect(answer.order.length).toBe((36 * 35) / 2);
  });
});

describe('flat patterns by exhaustive search', () => {
  for (const { name, verts, faces, creases, layer_orders, per_mv } of flat.cases)
    it(`${name}: ${layer_orders} orders, and each string of mountains and valleys`, () => {
      expect(statesOf(sheetOfFaces(verts, faces, () => undefined))).toBe(layer_orders);
      const strings = Object.entries((per_mv ?? {}) as unknown as Record<string, number>);
      for (const [letters, states] of strings.slice(0, 60))
        expect(statesOf(sheetOfFaces(verts, faces, lettersOf(creases, letters))), letters).toBe(states);
    });

  it('patterns that fold at every vertex and not as a whole are refused, with panels and creases named', () => {
    let refused = 0;
    for (const { verts, faces, creases, unfoldable: strings } of unfoldable.cases)
      for (const letters of strings as string[]) {
        const { states, conflicts } = layers(sheetOfFaces(verts, faces, lettersOf(creases, letters)));
        expect(states, letters).toBe(0n);
        expect(conflicts[0]!.panels.length).toBeGreaterThan(1);
        expect(conflicts[0]!.creases.length).toBeGreaterThan(0);
        refused++;
      }
    expect(refused).toBeGreaterThan(80);
  });

  it('the single orders of a Miura sheet folded the usual way', () => {
    expect(statesOf(miuraSheet(3, 3, 70))).toBeGreaterThan(0);
    expect(statesOf(vertexSheet([60, 90, 120, 90], [180, -180, 180, 180]))).toBe(1);
  });
});

describe('states in space, worked out by enumeration', () => {
  it('170 strips with their angles', () => {
    for (const [lengths, degrees, states] of space.strips as unknown as [number[], number[], number][])
      expect(statesOf(stripSheet(lengths, degrees)), `${lengths} ${degrees}`).toBe(states);
  });

  it('all 775 strips of unit squares with angles 0, 90, 180: totals 27, 127, 607', () => {
    const sequences = (length: number): number[][] =>
      length === 0
        ? [[]]
        : sequences(length - 1).flatMap((start) => [0, 90, -90, 180, -180].map((last) => [...start, last]));
    const totals = [3, 4, 5].map((n) => {
      const states = sequences(n - 1).map((degrees) => statesOf(stripSheet(new Array(n).fill(1), degrees)));
      return [states.reduce((sum, one) => sum + one, 0), states.filter((one) => one > 0).length];
    });
    expect(totals).toEqual([
      [27, 25],
      [127, 119],
      [607, 547],
    ]);
  });

  it('a wall hinged over half a layer, and between two', () => {
    for (const [flap, wall, states] of space.half_hinge.rows as unknown as [number, number, number][]) {
      const { verts, faces } = space.half_hinge;
      const at = (v: number) => verts[v] as [number, number];
      const sheet = sheetOfFaces(verts, faces, (a, b) => (at(a)[1] === 2 && at(b)[1] === 2 ? flap : wall));
      expect(statesOf(sheet), `${flap} ${wall}`).toBe(states);
    }
    for (const [one, wall, two, states] of space.two_flaps.rows as unknown as [
      number,
      number,
      number,
      number,
    ][]) {
      const { verts, faces } = space.two_flaps;
      const level = (a: number, b: number) => (verts[a]![1] === verts[b]![1] ? verts[a]![1] : undefined);
      const sheet = sheetOfFaces(verts, faces, (a, b) =>
        level(a, b) === 2 ? one : level(a, b) === 0 ? two : wall,
      );
      expect(statesOf(sheet), `${one} ${wall} ${two}`).toBe(states);
    }
  });

  it('box corner: states that close as rotations and those that are paper', () => {
    const { verts, faces, rows } = space.gusset;
    const place = ['0,1', '0,3', '0,5', '0,6', '0,7'];
    for (const row of rows as unknown as number[][]) {
      const sheet = sheetOfFaces(
        verts,
        faces,
        (a, b) => row[place.indexOf([a, b].sort((p, q) => p - q).join())]!,
      );
      expect(statesOf(sheet), row.slice(0, 5).join()).toBe(row[5]);
    }
  });
});

describe('the sample models, closed', () => {
  const closed = (name: string) => layers(sampleLesson(name).sheet);

  it('deepest stacks, and the states of wallet and coaster', () => {
    expect(closed('pencil-case').deepest).toBe(5);
    expect(closed('cuffed-tray').deepest).toBe(5);
    expect(closed('ticket-wallet')).toMatchObject({ states: 12n, exact: true, deepest: 9 });
    expect(closed('twist-coaster')).toMatchObject({ states: 1n, exact: true, deepest: 6 });
  });

  it('an order that is asked for leaves the states that have it; with its opposite it leaves the others', () => {
    const { sheet } = sampleLesson('ticket-wallet');
    const { order, states } = layers(sheet);
    let split = 0;
    for (const [f, g] of order) {
      const over = layers(sheet, [{ over: f, under: g }]).states;
      const under = layers(sheet, [{ over: g, under: f }]).states;
      // asked on the side of the lower panel that faced up: the two questions are each other's opposites only where
      // both panels look the same way
      expect(over <= states && under <= states).toBe(true);
      if (over > 0n && over < states) split++;
    }
    expect(split).toBeGreaterThan(0);
    const [f, g, side] = order[0]!;
    const kept = layers(sheet, [{ over: f, under: g }]).states;
    // the state found has f on that side of g, or it is one of those that the question leaves out
    expect(side > 0 ? kept > 0n : kept < states).toBe(true);
  });

  it('no unassigned crease is left in them', () => {
    expect(sampleLesson('ticket-wallet').sheet.creaseKind.includes(KIND.unassigned)).toBe(false);
  });
});
