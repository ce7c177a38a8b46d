/**
 * Models that no demonstration shows, through the command line as a teacher's drawing program would save them: an
 * SVG with kinds and angles in its names, every coordinate rounded to 0.1 mm, the sheet turned at random.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test, vi } from 'vitest';
import { main } from '../../src/command/main.ts';
import { layerOrders } from '../../src/core/layer/order.ts';
import { seededRandom } from '../../src/core/numeric/random.ts';
import { placePanels } from '../../src/core/pose/place.ts';
import { mapped, model } from '../core/sheet/drawings.ts';
import models from '../outside/values/models.json' with { type: 'json' };
import { buildModel } from '../support/folded-models.ts';
import {
  between,
  cuffedTray,
  type Disguise,
  disguise,
  hingedCase,
  type Model,
  roundedSvg,
  wallet,
} from '../support/models.ts';

const first = Number(process.env.CREASEWAY_SEED ?? 20);
const count = process.env.CREASEWAY_SOAK ? 200 : 12;

const folder = mkdtempSync(join(tmpdir(), 'creaseway-'));
afterAll(() => rmSync(folder, { recursive: true }));

async function answerOf(...words: string[]) {
  let output = '';
  const write = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    output += text;
    return true;
  });
  const code = await main([...words, '--json']);
  write.mockRestore();
  return { code, answer: JSON.parse(output) };
}

/** The model's drawing at a random size, in a file; and the size it must have when folded, mm. */
function draw(name: string, seed: number, generate: (random: () => number) => Model) {
  const random = seededRandom(seed);
  const model = generate(random);
  const drawn = disguise(model, random);
  const spans = [0, 1].map((axis) => {
    const places = model.outline.map((point) => drawn.place(point)[axis]!);
    return Math.max(...places) - Math.min(...places);
  });
  const millimetres = between(random, 120, 320) / Math.max(...spans);
  const file = join(folder, `${name}-${seed}.svg`);
  writeFileSync(file, roundedSvg(drawn, millimetres));
  return { file, model, drawn, size: spread(model.finished) * drawn.unit * millimetres };
}

/** Layers of the model as generated, before anything is rounded. */
function layersOfExact(model: Model, drawn: Disguise) {
  const { sheet, still } = buildModel(model, drawn);
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  return layerOrders(sheet, angle, placePanels(sheet, angle, still));
}

/** Largest distance between two points; the same however the model is turned. */
function spread(points: readonly (readonly number[])[]): number {
  let most = 0;
  for (const a of points)
    for (const b of points)
      most = Math.max(most, Math.hypot(...[0, 1, 2].map((k) => (a[k] ?? 0) - (b[k] ?? 0))));
  return most;
}

// Counts by Euler's relation and sizes by the plain geometry of tests/support/models.ts; sizes of a trued drawing
// are those of another model near by, half of a tenth off at each of a few corners.
describe.each([
  ['cuffed trays', cuffedTray],
  ['hinged cases', hingedCase],
  ['wallets', wallet],
] as const)('%s drawn to 0.1 mm, --true-up 0.5', (name, generate) => {
  test(`seeds ${first} to ${first + count - 1}: sound, trued by less than the rounding, stiff, of nearly that size`, async () => {
    for (let seed = first; seed < first + count; seed++) {
      const { file, model, drawn, size } = draw(name, seed, generate);
      const label = `seed ${seed}, ${model.name}`;
      const checked = await answerOf('check', file, '--true-up', '0.5');
      expect(checked.code, `${label}: ${JSON.stringify(checked.answer.findings)}`).toBe(0);
      expect(checked.answer, label).toMatchObject({
        panels: model.panels,
        interiorVertices: model.innerVertices,
      });
      // rounding shifts a point by at most 0.0708 mm; points on long lines may have to follow a little further
      expect(checked.answer.moved, label).toBeLessThan(0.1);
      const out = join(folder, 'folded.fold');
      const folded = await answerOf('fold', file, '--true-up', '0.5', '--out', out);
      // some plain wallets cannot be stacked, however exactly they are drawn
      const { states, deepest } = layersOfExact(model, drawn);
      const layers = states > 0n ? 'yes' : 'no';
      expect(folded.answer.verdict.layers, `${label}: ${JSON.stringify(folded.answer.findings)}`).toBe(
        layers,
      );
      expect(folded.code, label).toBe(states > 0n ? 0 : 1);
      expect(folded.answer, label).toMatchObject({ closes: true, outcome: 'rigid' });
      expect(folded.answer.stretch, label).toBeLessThan(1e-9);
      const { vertices_coords } = JSON.parse(readFileSync(out, 'utf8'));
      expect(Math.abs(spread(vertices_coords) - size), label).toBeLessThan(0.5);
      // of a box, edges that meet as folded meet in the trued drawing too: its layers are those of the exact one;
      // of a wallet some edges pass each other by less than a drawing tells
      if (generate === wallet) continue;
      const layered = await answerOf('layers', file, '--true-up', '0.5');
      expect(layered.code, `${label}: ${JSON.stringify(layered.answer.conflicts)}`).toBe(0);
      expect(layered.answer, label).toMatchObject({ states: String(states), exact: true, deepest });
    }
  });
});

test('a line that is short of the edge by rounding is joined by true-up, and no longer reported as loose', async () => {
  const line = (name: string, ends: string) => `<path id="${name}" d="${ends}"/>`;
  const square = line('edge', 'M0 0H100V100H0Z');
  const file = join(folder, 'short.svg');
  writeFileSync(
    file,
    `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">${square}${line('valley', 'M0 50H99.9')}</svg>`,
  );
  const loose = await answerOf('check', file);
  expect(loose.code).toBe(1);
  expect(loose.answer.findings).toContainEqual(
    expect.objectContaining({ code: 'crease-dangling', severity: 'error' }),
  );
  const { code, answer } = await answerOf('check', file, '--true-up', '0.5');
  expect(code).toBe(0);
  expect(answer).toMatchObject({ panels: 2, creases: 1 });
  expect(answer.findings).toContainEqual(expect.objectContaining({ code: 'crease-snapped' }));
});

// counts of the exact patterns: tests/core/layer/lock.test.ts; values/models.json has the coordinates
test.each([
  ['S1', 5],
  ['S2', 1],
  ['S3', 12],
  ['S4', 1],
  ['S5', 16],
] as const)(
  '%s drawn askew to 0.1 mm, angles to four decimals, has its %i layer orders',
  async (name, states) => {
    const { sheet_mm, grid } = models[name];
    for (const turn of [0, 0.3, 1.234, 2.5]) {
      const [c, s] = [(Math.cos(turn) * sheet_mm) / grid, (Math.sin(turn) * sheet_mm) / grid];
      const drawn = mapped(model(name), (x, y) => [c * x - s * y, s * x + c * y]);
      const file = join(folder, `${name}-askew.svg`);
      writeFileSync(file, roundedSvg({ segments: drawn }, 1));
      const { code, answer } = await answerOf('layers', file, '--true-up', '0.5');
      expect(code, `turned by ${turn}: ${JSON.stringify(answer.conflicts)}`).toBe(0);
      expect(answer, `turned by ${turn}`).toMatchObject({ states: String(states), exact: true });
    }
  },
);
