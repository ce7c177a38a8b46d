/**
 * Entries of the database as what they should be. A browser's database can be damaged, or written by a later page: what can
 * be read of an entry is told, and nothing of it makes the page stumble.
 */
import { lessonFormat, lessonVersion } from '../core/lesson/lesson.ts';
import type { Damage, KeptLesson, Last, Look, Version } from './kept.ts';

type Entry = Readonly<Record<string, unknown>>;

const entryIn = (value: unknown): Entry =>
  typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Entry) : {};
const textIn = (value: unknown) => (typeof value === 'string' ? value : '');
const isNumber = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);
const numberIn = (value: unknown) => (isNumber(value) ? value : 0);
const numbersIn = (value: unknown) => (Array.isArray(value) && value.every(isNumber) ? value : undefined);

/** Title and place of a lesson's file, without opening it; null where the text is no lesson. */
export function titleAndPlace(text: unknown): { title: string; place: string } | null {
  const told = parsed(text);
  return told && { title: textIn(told.title), place: textIn(told.place) };
}

/** A lesson as it is kept, with what is wrong with it. */
export function keptLessonIn(value: unknown): KeptLesson {
  const entry = entryIn(value);
  const text = textIn(entry.text);
  const { title, place } = titleAndPlace(text) ?? { title: textIn(entry.title), place: textIn(entry.place) };
  const damage = damageOf(text);
  const [undo, redo] = [numbersIn(entry.undo), numbersIn(entry.redo)];
  return {
    ...{ id: textIn(entry.id), title, place, text },
    ...{ changed: numberIn(entry.changed), revision: Math.max(0, Math.floor(numberIn(entry.revision))) },
    ...(entry.copy === true && { copy: true }),
    ...(isNumber(entry.deleted) && { deleted: entry.deleted }),
    ...(undo && { undo }),
    ...(redo && { redo }),
    ...(damage && { damage }),
  };
}

function damageOf(text: string): Damage | null {
  if (text === '') return 'lost';
  const told = parsed(text);
  if (told?.format !== lessonFormat) return 'broken';
  return isNumber(told.version) && told.version > lessonVersion ? 'newer' : null;
}

export function lookIn(value: unknown): Look | null {
  const { place, bend, free, turned, eye, view } = entryIn(value);
  if (!isNumber(place)) return null;
  const { bearing, fall, zoom } = entryIn(eye);
  const isEye = isNumber(bearing) && isNumber(fall) && isNumber(zoom);
  return {
    ...{ place, bend: bend === true, free: free === true, turned: turned === true },
    eye: isEye ? { bearing, fall, zoom } : null,
    ...((view === 'model' || view === 'sheet') && { view }),
  };
}

export function lastIn(value: unknown): Last | null {
  const { id, sample } = entryIn(value);
  const [own, shown] = [textIn(id) || null, textIn(sample) || null];
  return own || shown ? { id: own, sample: shown } : null;
}

/** A small picture, or null: nothing else of an entry may become the source of a picture. */
export const pictureIn = (value: unknown): string | null =>
  typeof value === 'string' && value.startsWith('data:') ? value : null;

/** Null where it holds no text to go back to. */
export function versionIn(value: unknown): Version | null {
  const { key, of, name, at, text, picture } = entryIn(value);
  if (!isNumber(key) || textIn(text) === '') return null;
  return {
    key,
    of: textIn(of),
    name: textIn(name),
    at: numberIn(at),
    text: textIn(text),
    picture: pictureIn(picture),
  };
}

function parsed(text: unknown): Entry | null {
  if (typeof text !== 'string') return null;
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null ? (value as Entry) : null;
  } catch {
    return null;
  }
}
