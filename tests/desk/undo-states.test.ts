/** Which states are kept for undo, and that they come back as they were. */
import { describe, expect, it } from 'vitest';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { readLesson } from '../../src/core/storage/lesson/read.ts';
import { parseJson } from '../../src/core/storage/parse-json.ts';
import type { States } from '../../src/desk/document/homes.ts';
import { keptText, statesRead, statesToKeep, withSharedParts } from '../../src/desk/document/undo-states.ts';
import { fixture } from '../core/storage/help.ts';

const read = (text: string) => readLesson(parseJson(text)).lesson;
const lesson = read(new TextDecoder().decode(fixture('lessons/version-1-every-entry.json')))!;
const titled = (title: string): Lesson => ({ ...lesson, title });

/** What lies on a shelf, written as `statesToKeep` says. */
class Beside {
  texts = new Map<number, string>();
  states: States | null = null;
  undo: readonly number[] = [];
  redo: readonly number[] = [];

  write(undo: readonly Lesson[], redo: readonly Lesson[] = []): number {
    const kept = statesToKeep({ undo, redo }, this.states);
    const { come, gone } = kept.changes;
    if (gone === 'all') this.texts.clear();
    else for (const key of gone) expect(this.texts.delete(key)).toBe(true);
    for (const { key, text } of come) {
      expect(this.texts.has(key)).toBe(false);
      this.texts.set(key, text);
    }
    this.states = kept.after;
    this.undo = kept.undo;
    this.redo = kept.redo;
    return come.length;
  }

  titles(keys: readonly number[]): string[] {
    return keys.map((key) => JSON.parse(this.texts.get(key)!).title);
  }
}

describe('states kept beside a lesson', () => {
  it('an edit writes one state, an undo none that is there already', () => {
    const [a, b, c] = ['a', 'b', 'c'].map(titled) as [Lesson, Lesson, Lesson];
    const beside = new Beside();
    expect(beside.write([a])).toBe(1);
    expect(beside.write([a, b])).toBe(1);
    // now at c; undo goes to b, and c waits for redo
    expect(beside.write([a], [c])).toBe(1);
    expect(beside.titles(beside.undo)).toEqual(['a']);
    expect(beside.titles(beside.redo)).toEqual(['c']);
    expect(beside.texts.size).toBe(2);
    // another edit at b: what was to be redone goes
    expect(beside.write([a, b])).toBe(1);
    expect([...beside.texts.keys()].sort()).toEqual([...beside.undo].sort());
  });

  it('fifty each way are kept, those nearest to now', () => {
    const many = Array.from({ length: 80 }, (_, k) => titled(`${k}`));
    const beside = new Beside();
    for (let k = 1; k <= many.length; k++) beside.write(many.slice(0, k));
    expect(beside.titles(beside.undo)).toEqual(many.slice(30).map(({ title }) => title));
    expect(beside.texts.size).toBe(50);
  });

  it('of long lessons fewer are kept', () => {
    const long = Array.from({ length: 10 }, (_, k) => titled(`${k}`.repeat(240_000)));
    const { undo } = statesToKeep({ undo: long, redo: [] }, null);
    expect(undo).toHaveLength(4);
  });

  it('where it is not known what lies there, all is written anew', () => {
    const states = ['a', 'b'].map(titled);
    const beside = new Beside();
    beside.write(states);
    beside.states = null;
    expect(beside.write(states)).toBe(2);
    expect(beside.texts.size).toBe(2);
  });
});

describe('states read back', () => {
  const states = ['a', 'b', 'c', 'd'].map(titled);
  const beside = new Beside();
  beside.write(states.slice(0, 2), states.slice(2));
  const now = titled('now');

  it('are the same lessons, and the next writing finds them where they are', () => {
    const back = statesRead(beside, beside.texts, now, read);
    expect(back.undo).toEqual(states.slice(0, 2));
    expect(back.redo).toEqual(states.slice(2));
    expect(statesToKeep(back, back.states).changes).toEqual({ come: [], gone: [] });
  });

  it('share with the lesson what is alike, so that only what differs is computed anew', () => {
    const [back] = statesRead(beside, beside.texts, now, read).undo;
    expect(back!.pattern).toBe(now.pattern);
    expect(back!.steps).toBe(now.steps);
  });

  it('end at the first that cannot be read', () => {
    const broken = new Map(beside.texts).set(beside.undo[0]!, '{"format": "creaseway-lesson"}');
    broken.delete(beside.redo[1]!);
    const back = statesRead(beside, broken, now, read);
    expect(back.undo.map(({ title }) => title)).toEqual(['b']);
    expect(back.redo).toEqual([]);
    expect(back.states).toBeNull();
  });
});

it('shared parts never change a lesson: steps that moved are found, others are kept as they are', () => {
  const [first, ...others] = lesson.steps;
  const moved = read(keptText({ ...lesson, steps: [...others, { ...first!, title: 'Other' }] }))!;
  const shared = withSharedParts(moved, lesson);
  expect(shared).toEqual(moved);
  expect(shared.steps[0]).toBe(lesson.steps[1]);
  expect(shared.steps.at(-1)!.title).toBe('Other');
  expect(shared.sheet).toBe(lesson.sheet);
});
