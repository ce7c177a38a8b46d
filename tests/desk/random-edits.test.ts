/**
 * Whatever is done to a lesson, undo and redo bring back the same bytes at every depth, and what is written is read back
 * as it was.
 */
import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { readLesson } from '../../src/core/storage/lesson/read.ts';
import { writeLesson } from '../../src/core/storage/lesson/write.ts';
import { parseJson } from '../../src/core/storage/parse-json.ts';
import { keptText } from '../../src/desk/document/undo-states.ts';
import { fixture } from '../core/storage/help.ts';
import { clock, desk, editNames, forgetEarlier, makeEdit } from '../support/random-edits.ts';

const soak = process.env.CREASEWAY_SOAK === '1';
const EDITS = soak ? 10_000 : 400;
/** Deeds of a run at most; of each run about a quarter of them are edits that change something. */
const A_RUN = 90;
const SEED = Number(process.env.CREASEWAY_SEED ?? 20261129);

const files = ['every-entry', 'ticket-wallet', 'pencil-case'].map((name) =>
  new TextDecoder().decode(fixture(`lessons/version-1-${name}.json`)),
);

/** Everything that an edit may change, as bytes. */
function bytesNow(): string {
  const { lesson, turned, bend, free } = desk.edits.settings!;
  return JSON.stringify({ file: writeLesson(lesson), turned, bend, free });
}

/** Does a lesson's pattern make a sheet? One that makes none is taken back. */
const makesSheet = (lesson: Lesson) => sheetOfLesson(lesson).sheet !== null;

// the tools are fetched once; a lesson that is opened puts them away, but they stay fetched
beforeAll(async () => {
  open(files[0]!);
  await desk.drawing.begin();
  await import('../../src/core/lesson/sheet-of-lesson.ts');
});

function open(file: string): void {
  const lesson = readLesson(parseJson(file)).lesson!;
  const sheet = sheetOfLesson(lesson).sheet!;
  desk.store.put({ run: { bend: false, free: false } });
  desk.edits.open({ lesson, sheet, stages: [], findings: [], trueUp: null });
  forgetEarlier();
}

function expectReadAsWritten(): void {
  const lesson = desk.store.document.lesson!;
  const text = writeLesson(lesson);
  for (const kept of [text, keptText(lesson)]) {
    const read = readLesson(parseJson(kept));
    expect(read.findings).toEqual([]);
    expect(writeLesson(read.lesson!)).toBe(text);
  }
}

/** What undo and redo are held against: all states as bytes, and where among them the lesson is. */
class Told {
  states = [bytesNow()];
  at = 0;
  /** Edits that changed something, by their names. */
  static edits = new Map<string, number>();

  edit(name: string, seed: number): void {
    clock.pass(1000);
    const before = desk.edits.settings!;
    makeEdit(name, seed);
    const after = desk.edits.settings!;
    const keys = ['lesson', 'turned', 'bend', 'free'] as const;
    if (keys.every((key) => after[key] === before[key])) return;
    this.states = [...this.states.slice(0, this.at + 1), bytesNow()];
    this.at++;
    if (!makesSheet(after.lesson)) this.step(-1);
    else Told.edits.set(name, (Told.edits.get(name) ?? 0) + 1);
    expectReadAsWritten();
  }

  step(by: 1 | -1): void {
    const to = this.at + by;
    expect(by < 0 ? desk.store.document.canUndo : desk.store.document.canRedo).toBe(
      to >= 0 && to < this.states.length,
    );
    (by < 0 ? desk.edits.undo : desk.edits.redo)();
    this.at = Math.max(0, Math.min(this.states.length - 1, to));
    expect(bytesNow()).toBe(this.states[this.at]);
  }

  allTheWay(by: 1 | -1): void {
    while (by < 0 ? desk.store.document.canUndo : desk.store.document.canRedo) this.step(by);
    expect(this.at).toBe(by < 0 ? 0 : this.states.length - 1);
  }
}

const deed = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.record({ name: fc.constantFrom(...editNames), seed: fc.nat({ max: 2 ** 31 - 1 }) }),
  },
  { weight: 1, arbitrary: fc.constant('undo' as const) },
  { weight: 1, arbitrary: fc.constant('redo' as const) },
);

test(`${EDITS} random edits with undo and redo come back to the same bytes (seed ${SEED})`, () => {
  const run = fc.array(deed, { maxLength: A_RUN, size: 'max' });
  fc.assert(
    fc.property(fc.nat({ max: files.length - 1 }), run, (file, deeds) => {
      open(files[file]!);
      const told = new Told();
      for (const one of deeds) {
        if (one === 'undo') told.step(-1);
        else if (one === 'redo') told.step(1);
        else told.edit(one.name, one.seed);
      }
      told.allTheWay(-1);
      told.allTheWay(1);
    }),
    { seed: SEED, numRuns: Math.ceil((4 * EDITS) / A_RUN) + 10 },
  );
  // an edit that never changes anything would prove nothing
  const never = editNames.filter((name) => !Told.edits.has(name));
  expect(never).toEqual([]);
  const made = [...Told.edits.values()].reduce((sum, count) => sum + count, 0);
  expect(made).toBeGreaterThanOrEqual(EDITS);
});
