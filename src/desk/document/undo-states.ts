/** The states that undo and redo bring back, as they are kept on the shelf: a restart does not end them. */
import type { Lesson } from '../../core/lesson/lesson.ts';
import type { KeptLesson, StateChanges } from '../../keep/kept.ts';
import type { States } from './homes.ts';

/** So many states are kept each way, and of long lessons fewer: those nearest to now, up to so many letters. */
const STATES = 50;
const LETTERS = 1_000_000;

const texts = new WeakMap<Lesson, string>();

/** A lesson as it is kept. A lesson never changes, so its text is made once. */
export function keptText(lesson: Lesson): string {
  let text = texts.get(lesson);
  if (text === undefined) {
    text = JSON.stringify(lesson);
    texts.set(lesson, text);
  }
  return text;
}

/** What is to be written beside a lesson so that its undo goes on after a restart. */
interface StatesToKeep {
  readonly undo: readonly number[];
  readonly redo: readonly number[];
  readonly changes: StateChanges;
  /** What lies on the shelf once this is written. */
  readonly after: States;
}

/**
 * @param undo states that undo brings back, the next one last; `redo` likewise
 * @param before what lies on the shelf; null where that is not known, so that all is written anew
 */
export function statesToKeep(
  { undo, redo }: { readonly undo: readonly Lesson[]; readonly redo: readonly Lesson[] },
  before: States | null,
): StatesToKeep {
  const wanted = { undo: nearest(undo), redo: nearest(redo) };
  const keys = new Map<Lesson, number>();
  const come: { key: number; text: string }[] = [];
  let next = before?.next ?? 1;
  for (const lesson of [...wanted.undo, ...wanted.redo]) {
    if (keys.has(lesson)) continue;
    const known = before?.keys.get(lesson);
    if (known === undefined) come.push({ key: next, text: keptText(lesson) });
    keys.set(lesson, known ?? next++);
  }
  const gone = before
    ? [...before.keys].filter(([lesson]) => !keys.has(lesson)).map(([, key]) => key)
    : 'all';
  const keysOf = (lessons: readonly Lesson[]) => lessons.map((lesson) => keys.get(lesson)!);
  return {
    ...{ undo: keysOf(wanted.undo), redo: keysOf(wanted.redo) },
    changes: { come, gone },
    after: { keys, next },
  };
}

function nearest(lessons: readonly Lesson[]): readonly Lesson[] {
  let letters = 0;
  let first = lessons.length;
  while (first > Math.max(0, lessons.length - STATES)) {
    letters += keptText(lessons[first - 1]!).length;
    if (letters > LETTERS) break;
    first--;
  }
  return lessons.slice(first);
}

/** The states of a kept lesson, read back; from the nearest one that cannot be read on they are left out. */
export function statesRead(
  { undo = [], redo = [] }: Pick<KeptLesson, 'undo' | 'redo'>,
  found: ReadonlyMap<number, string>,
  now: Lesson,
  read: (text: string) => Lesson | null,
): { undo: Lesson[]; redo: Lesson[]; states: States | null } {
  const lessons = new Map<number, Lesson>();
  const chain = (keys: readonly number[]) => {
    const back: Lesson[] = [];
    let beside = now;
    for (const key of keys.toReversed()) {
      const text = found.get(key);
      const lesson = lessons.get(key) ?? (text === undefined ? null : read(text));
      if (!lesson) break;
      beside = lessons.get(key) ?? withSharedParts(lesson, beside);
      lessons.set(key, beside);
      back.unshift(beside);
    }
    return back;
  };
  const back = { undo: chain(undo), redo: chain(redo) };
  const keys = new Map([...lessons].map(([key, lesson]) => [lesson, key]));
  const isWhole = keys.size === new Set([...undo, ...redo]).size;
  return { ...back, states: isWhole ? { keys, next: Math.max(0, ...undo, ...redo) + 1 } : null };
}

/** The same lesson, made of the parts of another where they are alike: what stayed is then seen to have stayed. */
export function withSharedParts(lesson: Lesson, other: Lesson): Lesson {
  return sharedWith(lesson, other) as Lesson;
}

function sharedWith(part: unknown, other: unknown): unknown {
  if (typeof part !== 'object' || part === null || typeof other !== 'object' || other === null) return part;
  if (JSON.stringify(part) === JSON.stringify(other)) return other;
  if (Array.isArray(part)) {
    if (!Array.isArray(other)) return part;
    const alike = new Map(other.map((one) => [JSON.stringify(one), one]));
    return part.map((one, k) => alike.get(JSON.stringify(one)) ?? sharedWith(one, other[k]));
  }
  const beside = other as Record<string, unknown>;
  return Object.fromEntries(Object.entries(part).map(([key, one]) => [key, sharedWith(one, beside[key])]));
}
