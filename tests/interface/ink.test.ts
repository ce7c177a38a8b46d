import { describe, expect, it } from 'vitest';
import { lineKinds } from '../../src/core/sheet/kind.ts';
import {
  contrast,
  DARK_TABLE,
  inkOn,
  inksOn,
  LIGHT_TABLE,
  LINE_CONTRAST,
} from '../../src/interface/parts/ink.ts';

type Colour = readonly [number, number, number];

const hex = (c: Colour) => `#${c.map((v) => Math.round(v).toString(16).padStart(2, '0')).join('')}`;

/** Papers on a grid of the whole colour cube. */
function* papers(): Generator<Colour> {
  for (let r = 0; r <= 255; r += 51)
    for (let g = 0; g <= 255; g += 51) for (let b = 0; b <= 255; b += 51) yield [r, g, b];
}

/**
 * Full loss of one kind of cone, in linear light: Viénot, Brettel and Mollon 1999 for red and green; for blue the
 * like of it after Brettel 1997. From memory.
 */
const losses: Record<string, readonly Colour[]> = {
  protan: [
    [0.11238, 0.88762, 0],
    [0.11238, 0.88762, 0],
    [0.00401, -0.00401, 1],
  ],
  deutan: [
    [0.29275, 0.70725, 0],
    [0.29275, 0.70725, 0],
    [-0.02234, 0.02234, 1],
  ],
  tritan: [
    [1, 0.14461, -0.14461],
    [0, 0.85924, 0.14076],
    [0, 0.85924, 0.14076],
  ],
};

function seenWith(loss: readonly Colour[], colour: string): string {
  const value = Number.parseInt(colour.slice(1), 16);
  const linear = [16, 8, 0].map((shift) => (((value >> shift) & 255) / 255) ** 2.2);
  return hex(
    loss.map((row) => {
      const sum = row[0] * linear[0]! + row[1] * linear[1]! + row[2] * linear[2]!;
      return 255 * Math.min(1, Math.max(0, sum)) ** (1 / 2.2);
    }) as unknown as Colour,
  );
}

describe('contrast', () => {
  it('is 21 for black on white and 4.48 for #777777 on white (WCAG 2 definition; well-known example)', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  });
});

describe('ink on paper', () => {
  it('keeps 3:1 for every kind of line on 216 papers over the whole colour cube (WCAG 2.2, 1.4.11)', () => {
    for (const paper of papers())
      for (const kind of lineKinds)
        expect(
          contrast(inkOn(hex(paper), kind), hex(paper)),
          `${kind} on ${hex(paper)}`,
        ).toBeGreaterThanOrEqual(LINE_CONTRAST);
  });

  it('uses our own plum and ochre on white paper', () => {
    expect(inkOn('#f6f2e8', 'mountain')).toBe('#7b2d5e');
    expect(inkOn('#f6f2e8', 'valley')).toBe('#8a6100');
  });

  for (const [name, loss] of Object.entries(losses))
    it(`lines can still be told from the sample papers with ${name}opia (at least 2.4:1; dashes tell the kind)`, () => {
      for (const paper of ['#f6f2e8', '#c9a77c', '#2f6690', '#b4532a', '#5f7a34', '#23705a', '#a8323e'])
        for (const kind of ['mountain', 'valley', 'unassigned'] as const)
          expect(
            contrast(seenWith(loss, inkOn(paper, kind)), seenWith(loss, paper)),
            `${kind} on ${paper}`,
          ).toBeGreaterThan(2.4);
    });
});

// a line on glass stands on a strip of the table's own colour, so that its ink is asked for there alone
it.each([LIGHT_TABLE, DARK_TABLE])(
  'inks of lines on glass keep 3:1 on the table %s (WCAG 2.2, 1.4.11)',
  (table) => {
    for (const [kind, ink] of inksOn(table).entries())
      expect(contrast(ink, table), lineKinds[kind]).toBeGreaterThanOrEqual(LINE_CONTRAST);
  },
);
