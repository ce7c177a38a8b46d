/**
 * Models that no demonstration shows, at random proportions, renumbered, turned and mirrored: counts by Euler's
 * relation, finished sizes by the plain geometry of tests/support/models.ts, twists by the rule of Hull and
 * Urbanski 2018. CREASEWAY_SEED=n runs other models, CREASEWAY_SOAK=1 many more.
 */
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { DRAWN } from '../../../src/core/numeric/tolerance.ts';
import type { StepTrack } from '../../../src/core/pose/track.ts';
import { checkSheet } from '../../../src/core/sheet/check.ts';
import { trueUp } from '../../../src/core/sheet/true-up.ts';
import { creasesAround, interiorVertices } from '../../../src/core/sheet/walk.ts';
import { loopResidual } from '../../oracles/closure.ts';
import classics from '../../outside/values/classics.json';
import {
  type Built,
  boxOf,
  buildModel,
  endOf,
  foldThrough,
  runStep,
  sizeOf,
  stagesOf,
  withVertices,
  worstOf,
} from '../../support/folded-models.ts';
import {
  between,
  cuffedTray,
  type Disguise,
  disguise,
  flare,
  flareAngles,
  hingedCase,
  type Model,
  pick,
  squareTwist,
  twistSides,
  wallet,
} from '../../support/models.ts';
import { radians } from '../../support/patterns.ts';

const first = Number(process.env.CREASEWAY_SEED ?? 20);
const count = process.env.CREASEWAY_SOAK ? 200 : 20;
const seeds = Array.from({ length: count }, (_, k) => first + k);
const seedNames = `seeds ${first} to ${first + count - 1}`;

interface Made {
  readonly model: Model;
  readonly drawn: Disguise;
  readonly built: Built;
  /** Length of the sheet's longer side, mm. */
  readonly sheetSize: number;
  readonly random: () => number;
}

function make(seed: number, generate: (random: () => number) => Model): Made {
  const random = seededRandom(seed);
  const model = generate(random);
  const drawn = disguise(model, random);
  const built = buildModel(model, drawn);
  return { model, drawn, built, sheetSize: between(random, 120, 320), random };
}

/** Runs a check for each seed; what fails names its model. */
function forEachModel(generate: (random: () => number, seed: number) => Model, check: (made: Made) => void) {
  for (const seed of seeds) {
    const made = make(seed, (random) => generate(random, seed));
    try {
      check(made);
    } catch (error) {
      throw new Error(`seed ${seed}, ${made.model.name}: ${(error as Error).message}`, { cause: error });
    }
  }
}

function expectSound({ model, built, random, sheetSize }: Made): void {
  expect(built.messages).toEqual([]);
  expect(checkSheet(built.sheet)).toEqual([]);
  expect(built.sheet.panelRings.length).toBe(model.panels);
  expect(interiorVertices(built.sheet).length).toBe(model.innerVertices);
  const inside = interiorVertices(built.sheet);
  if (inside.length > 0) expectMovedVertexNamed(built, pick(random, inside), 1 / sheetSize);
}

/** Moved by a millimetre, the corner is named by the rule that it now breaks. */
function expectMovedVertexNamed({ sheet }: Built, vertex: number, millimetre: number): void {
  const halfTurns = creasesAround(sheet, vertex).every(
    (h) => Math.abs(Math.abs(sheet.creaseAngle[h >> 1]!) - Math.PI) < 1e-9,
  );
  const shift = millimetre * sheet.frame.scale;
  const moved = withVertices(sheet, (v, x, y) =>
    v === vertex ? [x + shift * Math.cos(0.3), y + shift * Math.sin(0.3)] : [x, y],
  );
  const named = checkSheet(moved).filter(({ vertices }) => vertices.includes(vertex));
  expect(named.map(({ code, severity }) => [code, severity])).toEqual([
    [halfTurns ? 'vertex-angle-sum' : 'vertex-closure', 'error'],
  ]);
  expect(named[0]!.value).toBeGreaterThan(DRAWN);
}

function expectFolded(made: Made, tracks: readonly StepTrack[], steps: number): void {
  expect(tracks.map(({ report }) => report.outcome)).toEqual(Array(steps).fill('rigid'));
  const { closure, stretch } = worstOf(tracks, made.built.still);
  expect(closure).toBeLessThan(1e-9);
  // lengths follow closure: a pose that just closes may be off by a little more over a long walk of panels
  expect(stretch).toBeLessThan(2e-9);
  expect(sizeMiss(made, made.built, tracks[steps - 1]!)).toBeLessThan(0.05);
}

/** Furthest that a side of the folded model's box is from what geometry says, mm. */
function sizeMiss(
  { model, drawn, sheetSize, built }: Made,
  folded: Pick<Built, 'sheet' | 'still'>,
  track: StepTrack,
) {
  const millimetres = (sheetSize * drawn.unit) / built.sheet.frame.scale;
  const size = sizeOf(folded, endOf(track), drawn);
  return Math.max(
    ...boxOf(model.finished).map((length, axis) => Math.abs(size[axis]! - length) * millimetres),
  );
}

/** The sheet with its corners at tenths of a millimetre, trued up by at most half of one. */
function trued({ built, sheetSize }: Made) {
  const tenth = built.sheet.frame.scale / sheetSize / 10;
  const rough = withVertices(built.sheet, (_, x, y) => [
    Math.round(x / tenth) * tenth,
    Math.round(y / tenth) * tenth,
  ]);
  return trueUp(rough, 0.5 / sheetSize);
}

const families = { 'cuffed trays': cuffedTray, 'hinged cases': hingedCase, flares: flare, wallets: wallet };

describe.each(Object.entries(families))('%s of any proportions', (_name, generate) => {
  it(`${seedNames}: sound, stiff all the way, of the size that geometry says`, () => {
    forEachModel(generate, (made) => {
      expectSound(made);
      const stages = stagesOf(made.model, made.built);
      expectFolded(made, foldThrough(made.built.sheet, stages), stages.length);
    });
  });
});

/** Trued up by little more than the rounding, stiff, of nearly the size of the model (another model, near by). */
function expectTruedAndFolded(made: Made): void {
  const { sheet, findings, moved } = trued(made);
  expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
  expect(checkSheet(sheet)).toEqual([]);
  // rounding shifts a corner by 0.0708 mm at most; corners on long lines may have to follow
  expect(moved * made.sheetSize).toBeLessThan(0.25);
  const stages = stagesOf(made.model, made.built);
  const tracks = foldThrough(sheet, stages);
  expect(tracks.map(({ report }) => report.outcome)).toEqual(stages.map(() => 'rigid'));
  // each strip of a wallet adds or takes away the rounding of its two lines
  expect(sizeMiss(made, { sheet, still: made.built.still }, tracks[stages.length - 1]!)).toBeLessThan(0.5);
}

describe('each step naming only the creases that it changes', () => {
  it.each(Object.entries(families))(`%s, ${seedNames}: ends as if all were named`, (_name, generate) => {
    forEachModel(generate, ({ model, built }) => {
      const stages = stagesOf(model, built);
      const before = (step: number, crease: number) => (step > 0 ? stages[step - 1]!.target[crease] : 0);
      const changing = stages.map(({ target }, step) => ({
        target: target.map((angle, crease) => (angle === before(step, crease) ? Number.NaN : angle)),
      }));
      const tracks = foldThrough(built.sheet, changing);
      expect(tracks.map(({ report }) => report.outcome)).toEqual(stages.map(() => 'rigid'));
      tracks.forEach((track, step) => {
        stages[step]!.target.forEach((angle, crease) => {
          if (!Number.isNaN(angle)) expect(Math.abs(endOf(track)[crease]! - angle)).toBeLessThan(1e-6);
        });
      });
    });
  });
});

describe('corners rounded to 0.1 mm, trued up by at most 0.5 mm', () => {
  const { flares, ...boxes } = families;
  it.each(Object.entries(boxes))(`%s, ${seedNames}: stiff, of nearly the size`, (_name, generate) => {
    forEachModel(generate, expectTruedAndFolded);
  });

  // Nothing promises a stiff way to a flare whose gussets do not quite halve: one in sixty is not mended or finds none.
  it(`flares, ${seedNames}: nine in ten at least`, () => {
    const short: string[] = [];
    for (const seed of seeds) {
      const made = make(seed, flares);
      try {
        expectTruedAndFolded(made);
      } catch (error) {
        short.push(`seed ${seed}, ${made.model.name}: ${(error as Error).message}`);
      }
    }
    expect(short.length, short.join('\n')).toBeLessThanOrEqual(count / 10);
  });
});

describe('a hinge bent while the hems across it are part shut', () => {
  // Four creases at right angles: one pair folds only while the other lies flat or folded flat (derived from closure).
  it(`${seedNames}: fails, and names the hinge`, () => {
    forEachModel(hingedCase, ({ model, built }) => {
      const [walls] = stagesOf(model, built);
      const part = (crease: number) => model.creases[built.part[crease]!]?.part;
      const hem = built.part.findIndex((_, crease) => part(crease) === 'hem');
      const { poses } = runStep(built.sheet, new Float64Array(built.part.length), walls!);
      const start = poses.find(({ angle }) => angle[hem]! > 0.6 * Math.PI)!.angle;
      expect(start[hem]).toBeLessThan(0.7 * Math.PI);
      const target = start.map((angle, crease) => {
        const last = model.creases[built.part[crease]!]?.steps[2];
        return part(crease) === 'hinge' ? last! * radians : part(crease) === 'hem' ? angle : Number.NaN;
      });
      const { report } = runStep(built.sheet, start, { target });
      expect(report.outcome).toBe('fails');
      const named = report.findings.find(({ code }) => code === 'motion-fails')!;
      expect(named.creases.map(part)).toContain('hinge');
    });
  });
});

describe('square twists at any pleat angle: Hull and Urbanski 2018', () => {
  it('the rule that the generator uses is the published one', () => {
    for (const row of classics.square_twist.rows) {
      const model = squareTwist(seededRandom(1), row[1] as string);
      expect(model.rigid, row[1] as string).toBe(row[4]);
    }
  });

  it(`${seedNames}: sound; twelve of the sixteen kinds fold stiff, four fail with corners named`, () => {
    const sides = (seed: number) => twistSides[seed % 16]!;
    forEachModel(
      (random, seed) => squareTwist(random, sides(seed)),
      (made) => {
        expectSound(made);
        const tracks = foldThrough(made.built.sheet, stagesOf(made.model, made.built));
        if (made.model.rigid) return expectFolded(made, tracks, 1);
        const { outcome, findings } = tracks[0]!.report;
        expect(outcome).toBe('fails');
        const inside = new Set(interiorVertices(made.built.sheet));
        expect(findings[0]!.vertices.some((vertex) => inside.has(vertex))).toBe(true);
      },
    );
  });
});

describe('the geometry that flares are held against', () => {
  it('base 90, gusset 15: edges fold by arccos(tan 15), seams by arccos(tan^2 15), the known carton', () => {
    const found = flareAngles(90, 15);
    expect(found.edge).toBeCloseTo(74.4577, 4);
    expect(found.seam).toBeCloseTo(85.8828, 4);
  });

  it(`${seedNames}: products of plain 4 x 4 matrices round every corner close at the generator's angles`, () => {
    forEachModel(flare, ({ built }) => {
      for (const vertex of interiorVertices(built.sheet)) {
        const around = creasesAround(built.sheet, vertex);
        expect(loopResidual(built.sheet, around, built.sheet.creaseAngle).rotation).toBeLessThan(1e-7);
      }
    });
  });
});
