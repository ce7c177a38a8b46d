/** What paper gives, by plane geometry: raw edges that graze, panels a hair open, and how deep is deep. */

import { describe, expect, test } from 'vitest';
import { askAtRest, describeAtRest } from '../../../src/core/contact/at-rest.ts';
import { bowOf, giveOf, type PaperFacts } from '../../../src/core/contact/give.ts';
import { shapesOf } from '../../../src/core/contact/shapes.ts';
import { contactsOfTrack } from '../../../src/core/contact/track.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { layerOracle } from '../../oracles/layers.ts';
import { stripSheet } from '../../support/faces.ts';
import { radians } from '../../support/patterns.ts';
import { hingedStrip, runOf } from '../../support/strips.ts';

const seed = Number(process.env.CREASEWAY_SEED ?? 5);

describe('the bow of a panel', () => {
  test('an arc whose ends have come nearer by the thickness is longer than its chord by as much', () => {
    for (const [length, thickness] of [
      [60, 0.1],
      [200, 0.1],
      [100, 0.3],
    ] as const) {
      const rise = bowOf(length, thickness);
      // a circle over the chord: radius from rise, arc from radius
      const chord = length - thickness;
      const radius = (chord ** 2 / 4 + rise ** 2) / (2 * rise);
      const arc = 2 * radius * Math.asin(chord / 2 / radius);
      expect(arc).toBeCloseTo(length, 2);
    }
    expect(bowOf(60, 0.1)).toBeCloseTo(1.5, 9);
  });

  test('a short panel bows no more sharply than 100 thicknesses in radius', () => {
    const [length, thickness] = [4, 0.1];
    const rise = bowOf(length, thickness);
    // over a shallow arc, within the rise's own square
    expect(length ** 2 / 8 / rise).toBeCloseTo(100 * thickness, 9);
    expect(rise).toBeLessThan(Math.sqrt((3 * thickness * length) / 8));
  });
});

function atRest(lengths: readonly number[], degrees: readonly number[], paper: PaperFacts = {}) {
  const sheet = stripSheet(lengths, degrees);
  const angle = sheet.creaseAngle.map((one) => (Number.isNaN(one) ? 0 : one));
  const answer = askAtRest(sheet, angle, placePanels(sheet, angle, 0));
  const findings = describeAtRest(answer, { sheet, ...paper });
  return { sheet, answer, findings, codes: findings.map(({ code, severity }) => `${code} ${severity}`) };
}

describe('at rest', () => {
  // sides 3, 2, 1 at right angles, then one down on the first, too long by some mm of 200: it ends in a raw edge
  const poking = (mm: number) =>
    atRest([3, 2, 1, 2 + (8 * mm) / (200 - mm)], [90, 90, 90], { sheetSize: 200 });
  const give = 200 * giveOf(shapesOf(poking(1).sheet), { sheetSize: 200 })(0, 3);

  test('less than the thickness of paper is nothing, up to what paper gives is tight, beyond that it crosses', () => {
    const answers = [0.05, 0.15, 0.9 * give, 1.2 * give].map((mm) => {
      const { answer, codes } = poking(mm);
      return [answer.answer, ...codes];
    });
    // a crossing that is told has no order of layers, however tight
    expect(answers).toEqual([
      ['yes'],
      ['no', 'panels-tight warning', 'layer-none error'],
      ['no', 'panels-tight warning', 'layer-none error'],
      ['no', 'panels-cross error'],
    ]);
    expect(poking(1).findings[0]!.value).toBeCloseTo(1, 6);
    expect(poking(1).findings[0]!.limit).toBeCloseTo(give, 9);
  });

  test('a fold that reaches through does not end there, however little it is', () => {
    // the same, but its end is turned up: what reaches through is a fold
    const { answer } = atRest([3, 2, 1, 2 + (0.05 * 8.5) / 200, 0.5], [90, 90, 90, 90], { sheetSize: 200 });
    expect(answer.answer).toBe('no');
  });

  test('a strip rolled up a hair open runs into itself and has an order all the same, as pressed flat', () => {
    for (const open of [0.1, 0.5, 1]) {
      const { answer, codes } = atRest([2, 1, 1], [180 - open, 180 - open]);
      expect(answer.crossings.length).toBeGreaterThan(0);
      expect([answer.answer, answer.states]).toEqual(['yes', 1n]);
      expect(codes.every((code) => code === 'panels-tight warning')).toBe(true);
    }
  });

  test('two ends that would have to lie in each other have none, flat or a hair open', () => {
    for (const open of [0, 0.1, 0.5, 2]) {
      const { answer, codes } = atRest([3, 1, 1, 3], Array(3).fill(180 - open));
      expect([answer.answer, codes.at(-1)]).toEqual(['no', 'layer-none error']);
    }
    // an end that is short enough lies within the other: rolled, one order
    const { answer } = atRest([3, 1, 1, 0.9], Array(3).fill(179.5));
    expect([answer.answer, answer.states]).toEqual(['yes', 1n]);
  });

  test(`40 random strips a hair open have an order exactly where they have one folded flat; seed ${seed}`, () => {
    // what crosses nowhere however little it is open has an order in the limit; and the other way round it is pressed
    const random = seededRandom(seed);
    const answers = Array.from({ length: 40 }, () => {
      const lengths = Array.from(
        { length: 3 + Math.floor(4 * random()) },
        () => 1 + Math.floor(3 * random()),
      );
      const half = lengths.slice(1).map(() => (random() < 0.6 ? 180 : -180));
      const open = half.map((turn) => turn * (1 - 0.004 * random()));
      let x = 0;
      const ends = [0, ...lengths.map((length) => (x += length))];
      const oracle = layerOracle({
        vertices: ends.flatMap((end) => [[end, 0] as const, [end, 1] as const]),
        faces: lengths.map((_, k) => [2 * k, 2 * k + 2, 2 * k + 3, 2 * k + 1]),
        degreesOf: (a, b) => half[Math.min(a, b) / 2 - 1],
      });
      const { answer } = atRest(lengths, open).answer;
      expect(answer, `${lengths} ${open}`).toBe(oracle.states > 0 ? 'yes' : 'no');
      return answer;
    });
    expect(new Set(answers).size).toBe(2);
  });

  test('an unassigned crease a hair open goes the way it is open, folded flat it may go either way', () => {
    const strip = hingedStrip([3, 1, 1, 3], 1);
    const ask = (degrees: number) => {
      const { angle } = runOf(strip, [[degrees, degrees, degrees]])[0]!;
      return askAtRest(strip.sheet, angle, placePanels(strip.sheet, angle, 0)).answer;
    };
    expect([ask(180), ask(179.5)]).toEqual(['yes', 'no']);
  });

  test('a file without a size is judged as 200 mm, and says so', () => {
    const [unsized, sized] = [
      atRest([2, 1, 1, 1.25], [90, 90, 90]),
      atRest([2, 1, 1, 1.25], [90, 90, 90], { sheetSize: 200 }),
    ];
    expect(unsized.findings[0]!.value).toBeCloseTo(sized.findings[0]!.value!, 9);
    expect(sentenceOf(unsized.findings[0]!)).toContain('judged as a sheet of 200 mm');
    expect(sentenceOf(sized.findings[0]!)).not.toContain('judged');
  });
});

/** Ends of the sides of a strip in cross-section, x and z; the first lies along x. */
function section(lengths: readonly number[], degrees: readonly number[]): (readonly [number, number])[] {
  let [x, z, way] = [0, 0, 0];
  const ends: [number, number][] = [[0, 0]];
  lengths.forEach((length, k) => {
    if (k > 0) way += degrees[k - 1]! * radians;
    [x, z] = [x + length * Math.cos(way), z + length * Math.sin(way)];
    ends.push([x, z]);
  });
  return ends;
}

/** How deep two sides cross in cross-section: the least of what either has on either side of the other; 0 where not. */
function depthOf(ends: ReturnType<typeof section>, i: number, j: number): number {
  const [a, b, c, d] = [ends[i]!, ends[i + 1]!, ends[j]!, ends[j + 1]!];
  const off = (p: readonly number[], q: readonly number[], r: readonly number[]) =>
    ((q[0]! - p[0]!) * (r[1]! - p[1]!) - (q[1]! - p[1]!) * (r[0]! - p[0]!)) /
    Math.hypot(q[0]! - p[0]!, q[1]! - p[1]!);
  const [ac, ad, ca, cb] = [off(a, b, c), off(a, b, d), off(c, d, a), off(c, d, b)];
  return ac * ad < 0 && ca * cb < 0 ? Math.min(...[ac, ad, ca, cb].map(Math.abs)) : 0;
}

describe('the deepest moment along a motion is the deepest', () => {
  const random = seededRandom(seed);
  const between = (low: number, high: number) => low + (high - low) * random();
  test.each(Array.from({ length: 30 }, (_, k) => k))(`chain %i of seed ${seed}`, () => {
    const lengths = Array.from({ length: 4 }, () => between(0.5, 3));
    const fixed = [between(30, 150), between(30, 150)];
    const end = between(60, 170);
    const strip = hingedStrip(lengths, 10);
    const poses = runOf(strip, [
      [...fixed, 0],
      [...fixed, end],
    ]);
    const { contacts } = contactsOfTrack({ sheet: strip.sheet, poses, still: strip.panels[0]! });
    const give = giveOf(shapesOf(strip.sheet));
    for (const [i, j] of [
      [0, 2],
      [0, 3],
      [1, 3],
    ] as const) {
      const at = Array.from({ length: 4001 }, (_, k) => section(lengths, [...fixed, (k / 4000) * end]));
      // a chain that crosses before it starts to move is none that a hand can hold
      if (depthOf(at[0]!, i, j) > 0) continue;
      const deepest = Math.max(...at.map((ends) => depthOf(ends, i, j)));
      const pair = [strip.panels[i]!, strip.panels[j]!].sort((p, q) => p - q);
      const found = contacts.find(({ panels }) => panels.join() === pair.join());
      if (deepest * strip.unit <= give(pair[0]!, pair[1]!)) continue;
      expect(found?.kind).toBe('through');
      expect(found!.depth / strip.unit).toBeCloseTo(deepest, 2);
      const there = section(lengths, [...fixed, found!.deepest * end]);
      expect(depthOf(there, i, j)).toBeCloseTo(deepest, 2);
    }
  });

  test('a panel that stands far off behind what it went through is as deep as it was in it', () => {
    // by hand: the last side, 2 long, turns through the end of the first; then it stands clear behind it
    const lengths = [1.9946, 2.2301, 1.0718, 2.4311];
    const strip = hingedStrip(lengths, 8);
    const poses = runOf(strip, [
      [48.159, 139.647, 0],
      [48.159, 139.647, 126.182],
    ]);
    const { contacts } = contactsOfTrack({ sheet: strip.sheet, poses, still: strip.panels[0]! });
    const at = Array.from({ length: 8001 }, (_, k) =>
      section(lengths, [48.159, 139.647, (k / 8000) * 126.182]),
    );
    const deepest = ([i, j]: readonly [number, number]) => Math.max(...at.map((ends) => depthOf(ends, i, j)));
    expect(contacts.map(({ panels }) => panels.map((panel) => strip.panels.indexOf(panel)).sort())).toEqual([
      [1, 3],
      [0, 3],
    ]);
    expect(contacts[0]!.depth / strip.unit).toBeCloseTo(deepest([1, 3]), 3);
    expect(contacts[1]!.depth / strip.unit).toBeCloseTo(deepest([0, 3]), 3);
  });
});
