/** What belongs to the sheet of a drawing, and what stands round and beside it. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Drawing, DrawingBuilder, type StrokeLook } from '../../../src/core/storage/drawing/drawing.ts';
import { setAside, sheetsIn } from '../../../src/core/storage/drawing/sheets-in.ts';
import { openFile } from '../../../src/core/storage/open.ts';
import { fixture, sheetOf } from './help.ts';

const open = (name: string, region?: number | 'all') =>
  openFile(name, fixture(`drawings/${name}`), { region });

// tests/fixtures/README.md has what each holds: a square of 100 mm with four creases from one corner
describe('drawings of one square with four creases', () => {
  test.each([
    ['f-page-frame.svg', 4, 0, 0],
    ['j-white-background-rect.svg', 4, 0, 0],
    ['ze-legend.svg', 0, 2, 0],
    ['n-curve-label.svg', 0, 0, 1],
  ])('%s', (name, round, beside, curves) => {
    const opened = open(name);
    expect(opened.findings).toContainEqual(
      expect.objectContaining({
        code: 'line-ignored',
        values: { how: 'not-of-sheet', round, beside, curves },
      }),
    );
    const sheet = sheetOf(opened);
    expect(sheet.panelRings).toHaveLength(4);
    expect(sheet.frame.scale).toBe(100);
  });

  test('with every line asked for, the frame is the sheet again', () => {
    expect(sheetOf(open('f-page-frame.svg', 'all')).frame.scale).toBe(297);
  });

  test('of two sheets one has to be chosen, from the left to the right', () => {
    const opened = open('zc-two-sheets.svg');
    expect(opened.kind).toBe('several');
    if (opened.kind !== 'several') return;
    expect(opened.sheets.map(({ creases, strokes }) => [creases, strokes.length])).toEqual([
      [4, 8],
      [4, 8],
    ]);
    expect(sheetOf(open('zc-two-sheets.svg', 1)).frame.x).toBe(0);
    expect(sheetOf(open('zc-two-sheets.svg', 2)).frame.x).toBe(120);
    expect(open('zc-two-sheets.svg', 3)).toMatchObject({
      kind: 'refused',
      findings: [{ values: { how: 'region', region: 3, sheets: 2 } }],
    });
  });
});

type Corner = readonly [number, number];

/** Draws polylines with a look, and remembers which strokes are the pattern's. */
class Pen {
  readonly builder = new DrawingBuilder();
  readonly own: number[] = [];
  private count = 0;
  constructor(private readonly place: (at: Corner) => Corner) {}

  draw(dash: StrokeLook['dash'], isOwn: boolean, ...corners: readonly Corner[]): void {
    const look = { colour: '#000000', dash, width: 1, layer: '' };
    this.builder.addChain(corners.map(this.place), false, look, { how: 'stroke', index: this.count });
    for (let k = 1; k < corners.length; k++) {
      if (isOwn) this.own.push(this.count);
      this.count++;
    }
  }

  finish = (): Drawing => this.builder.finish(null, []);
}

const box = (left: number, low: number, right: number, high: number): Corner[] => [
  [left, low],
  [right, low],
  [right, high],
  [left, high],
  [left, low],
];

const share = fc.double({ min: 0.05, max: 0.95, noNaN: true });

/** A sheet 1 wide: dashed lines across it, some that end on the first of them, a pinch in the middle of a panel. */
const pattern = fc.record({
  high: fc.double({ min: 0.4, max: 1.6, noNaN: true }),
  across: fc.array(fc.tuple(share, share), { minLength: 1, maxLength: 6 }),
  inner: fc.array(share, { maxLength: 3 }),
  pinch: fc.boolean(),
});
const round = fc.record({
  frame: fc.boolean(),
  titleBlock: fc.boolean(),
  background: fc.boolean(),
  legend: fc.nat(4),
  labels: fc.nat(3),
  dimensions: fc.boolean(),
});
const way = fc.record({
  turn: fc.double({ min: 0, max: 6.28, noNaN: true }),
  mirror: fc.boolean(),
  size: fc.constantFrom(0.01, 1, 300),
});

interface Round {
  readonly frame: boolean;
  readonly titleBlock: boolean;
  readonly background: boolean;
  readonly legend: number;
  readonly labels: number;
  readonly dimensions: boolean;
}

/** What stands round and beside a sheet that is 1 wide. */
function drawRound(pen: Pen, high: number, what: Round): void {
  if (what.background) pen.draw('solid', false, ...box(-1, -1, 2.6, high + 1));
  if (what.frame) pen.draw('solid', false, ...box(-0.8, -0.8, 2.5, high + 0.8));
  if (what.frame && what.titleBlock) {
    pen.draw('solid', false, [1.8, -0.8], [1.8, -0.5], [2.5, -0.5]);
    pen.draw('solid', false, [2.1, -0.8], [2.1, -0.5]);
  }
  for (let k = 0; k < what.legend; k++) pen.draw('dashed', false, [1.3, 0.1 * k], [1.6, 0.1 * k]);
  for (let k = 0; k < what.labels; k++) pen.draw('solid', false, ...box(1.7, 0.1 * k, 1.75, 0.1 * k + 0.06));
  if (!what.dimensions) return;
  pen.draw('solid', false, [0, -0.2], [1, -0.2]);
  pen.draw('solid', false, [0.03, -0.18], [0, -0.2], [0.03, -0.22]);
}

// by construction: what was drawn as the pattern is what is kept
test('turned, mirrored and in any size, the sheet is found among frames, legends, labels and dimensions', () => {
  fc.assert(
    fc.property(pattern, round, way, ({ high, across, inner, pinch }, what, { turn, mirror, size }) => {
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      const pen = new Pen(([x, y]) => {
        const flip = mirror ? -x : x;
        return [size * (c * flip - s * y), size * (s * flip + c * y)];
      });
      drawRound(pen, high, what);
      pen.draw('solid', true, ...box(0, 0, 1, high));
      for (const [from, to] of across) pen.draw('dashed', true, [0, from * high], [1, to * high]);
      const [first] = across;
      for (const x of inner)
        pen.draw('dash-dot', true, [x, 0], [x, (first![0] + (first![1] - first![0]) * x) * high]);
      if (pinch) pen.draw('dashed', true, [0.5, 0.01 * high], [0.5, 0.02 * high]);
      const drawing = pen.finish();
      const sheets = sheetsIn(drawing);
      expect(sheets).toHaveLength(1);
      expect(sheets[0]!.strokes).toEqual([...pen.own].sort((a, b) => a - b));
      const left = setAside(drawing, sheets[0]!);
      expect(left.round + left.beside).toBe(drawing.strokes.length - pen.own.length);
    }),
    { numRuns: 400, seed: 10 },
  );
});

test('an opening in the sheet is no sheet, and a sheet without creases is taken as it is', () => {
  const pen = new Pen((at) => at);
  pen.draw('solid', true, ...box(0, 0, 10, 10));
  pen.draw('solid', true, ...box(4, 4, 6, 6));
  pen.draw('dashed', true, [0, 2], [10, 2]);
  const [sheet, ...others] = sheetsIn(pen.finish());
  expect(others).toEqual([]);
  expect(sheet!.strokes).toEqual(pen.own);

  const bare = new Pen((at) => at);
  bare.draw('solid', true, ...box(0, 0, 10, 10));
  expect(sheetsIn(bare.finish())).toEqual([]);
});

test('where colours alone tell the lines, the frame is told by the creases that do not end on it', () => {
  const pen = new Pen((at) => at);
  pen.draw('solid', false, ...box(-5, -5, 30, 40));
  pen.draw('solid', true, ...box(0, 0, 10, 10));
  pen.draw('solid', true, [0, 5], [10, 5]);
  pen.draw('solid', true, [5, 0], [5, 10]);
  const [sheet, ...others] = sheetsIn(pen.finish());
  expect(others).toEqual([]);
  expect(sheet!.strokes).toEqual(pen.own);
});
