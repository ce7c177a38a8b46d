/**
 * Folds that a folder takes for granted: straight through all layers, and a corner beside other creases. What a step
 * does not name stays; the state after each is known from reflections (elementary geometry).
 * CREASEWAY_SEED=n runs other folds, CREASEWAY_SOAK=1 all of them.
 */
import { describe, expect, it } from 'vitest';
import type { Lesson } from '../../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { creasesOnLine, stagesOfLesson } from '../../../src/core/lesson/stages.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { cornerBesideVertex } from '../../support/corner-folds.ts';
import { foldLesson } from '../../support/lessons.ts';
import { radians } from '../../support/patterns.ts';
import { lessonOfFolds, straightFolds } from '../../support/straight-folds.ts';

const soak = process.env.CREASEWAY_SOAK === '1';
const firstSeed = Number(process.env.CREASEWAY_SEED ?? 1);
const SAME = 1e-6;

/** Folds every step and holds each pose of it against where the lesson has its creases: moved on the way, or still. */
function expectOnlyNamedToMove(lesson: Lesson): void {
  const { sheet, findings } = sheetOfLesson(lesson);
  expect(findings.filter(({ severity }) => severity !== 'note')).toEqual([]);
  const { stages, findings: missed } = stagesOfLesson(lesson, sheet!);
  expect(missed).toEqual([]);
  const at = new Float64Array(sheet!.creaseKind.length);
  foldLesson(sheet!, stages).forEach(({ poses, report }, step) => {
    expect(report.outcome).toBe('rigid');
    const named = namedIn(lesson, step, sheet!);
    const worst = Math.max(...poses.map(({ angle }) => furthest(angle, at, (e) => !named.has(e))));
    expect(worst).toBeLessThan(SAME);
    for (const { angle } of poses.slice(0, -1)) expectTurnedAlike(angle, [...named.keys()]);
    for (const [crease, angle] of named) at[crease] = angle;
    expect(furthest(poses.at(-1)!.angle, at, (e) => named.has(e))).toBeLessThan(SAME);
  });
}

/** All layers turn about one line in space: by the same angle, to the last bit. */
function expectTurnedAlike(angle: Float64Array, creases: readonly number[]): void {
  expect(new Set(creases.map((crease) => Math.abs(angle[crease]!))).size).toBe(1);
}

const namedIn = (lesson: Lesson, step: number, sheet: Sheet) =>
  new Map(
    lesson.steps[step]!.drives.flatMap((drive) =>
      creasesOnLine(sheet, drive).map((e) => [e, drive.angle * radians]),
    ),
  );

const furthest = (angle: Float64Array, other: Float64Array, counts: (crease: number) => boolean) =>
  angle.reduce((most, a, e) => (counts(e) ? Math.max(most, Math.abs(a - other[e]!)) : most), 0);

function forSeeds(count: number, run: (random: () => number) => void): void {
  for (let seed = firstSeed; seed < firstSeed + count; seed++)
    try {
      run(seededRandom(seed));
    } catch (error) {
      throw new Error(`seed ${seed}: ${(error as Error).message}`);
    }
}

describe('straight folds through all layers', () => {
  const count = soak ? 2000 : 200;
  it(`${count} lessons from seed ${firstSeed}: rigid, and all other creases stay`, {
    timeout: 600_000,
  }, () => {
    forSeeds(count, (random) => {
      expectOnlyNamedToMove(lessonOfFolds(straightFolds(random, 1 + Math.floor(5 * random()))));
    });
  });
});

describe('a corner beside a vertex that folds flat', () => {
  const count = soak ? 1500 : 150;
  it(`${count} sheets from seed ${firstSeed}: the corner folds alone`, { timeout: 600_000 }, () => {
    forSeeds(count, (random) => expectOnlyNamedToMove(cornerBesideVertex(random)));
  });
});
