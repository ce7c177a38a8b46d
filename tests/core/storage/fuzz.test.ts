import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { applyMapping } from '../../../src/core/storage/drawing/mapping.ts';
import { openFile } from '../../../src/core/storage/open.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { fixture, sampleLesson } from './help.ts';

const names = ['s1.svg', 's4.dxf', 's5.fold', 'inkscape-layers.svg', 'ezdxf-linetypes.dxf'];
const files = [...names.map(fixture), sampleLesson('ticket-wallet.json')];
const seed = 4471;

/** Overwrites, cuts and repeats pieces of a file. */
const damage = fc.record({
  file: fc.integer({ min: 0, max: files.length - 1 }),
  cuts: fc.array(
    fc.record({
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      length: fc.nat(4),
      byte: fc.integer({ min: 32, max: 126 }),
      how: fc.nat(2),
    }),
    { minLength: 1, maxLength: 2 },
  ),
});

function damaged({
  file,
  cuts,
}: {
  file: number;
  cuts: { at: number; length: number; byte: number; how: number }[];
}): Uint8Array {
  let bytes = files[file]!;
  for (const { at, length, byte, how } of cuts) {
    const from = Math.floor(at * bytes.length);
    const piece = bytes.subarray(from, from + length);
    const middle = how === 0 ? [] : how === 1 ? [...piece, ...piece] : Array.from(piece, () => byte);
    bytes = Uint8Array.from([...bytes.subarray(0, from), ...middle, ...bytes.subarray(from + length)]);
  }
  return bytes;
}

describe(`damaged files (seed ${seed})`, () => {
  test('are opened or refused with one sentence, and never blamed on an unforeseen fault', () => {
    let refused = 0;
    fc.assert(
      fc.property(damage, (plan) => {
        const opened = openFile('file', damaged(plan));
        if (opened.kind === 'refused') {
          refused++;
          expect(sentenceOf(opened.findings[0]!)).toMatch(/^[A-Z][\s\S]*\.$/);
          expect(sentenceOf(opened.findings[0]!)).not.toContain('The file "file" cannot be read');
        } else if (opened.kind === 'drawing') {
          const { sheet, findings } = buildSheet(applyMapping(opened.drawing, opened.guess));
          if (!sheet) expect(findings.length).toBeGreaterThan(0);
        }
      }),
      { seed, numRuns: 1000 },
    );
    // the damage is neither harmless nor always deadly
    expect(refused).toBeGreaterThan(100);
    expect(refused).toBeLessThan(900);
  });
});
