/** What can be done with kept lessons. Deleting can be taken back. */
import type { Lesson } from '../../core/lesson/lesson.ts';
import { parseJson } from '../../core/storage/parse-json.ts';
import { readLesson } from '../../core/storage/read-lesson.ts';
import type { Kept, KeptLesson, Version } from '../../keep/shelf.ts';
import { editLesson } from './edits.ts';
import { homeNow, keepNow, newId, openKept, shelf, shelfChanged, unhome } from './keeping.ts';
import { say } from './opening.ts';
import { showPanel, useShelf } from './shelf-panels.ts';
import { get } from '../store.ts';
import { words } from '../../words/words.ts';

export async function openFromLibrary({ id }: KeptLesson): Promise<void> {
  if (homeNow()?.id === id || (await openKept(id))) showPanel(null);
}

export async function rename({ id }: KeptLesson, name: string): Promise<void> {
  const title = name.trim();
  if (!title) return;
  if (homeNow()?.id === id) editLesson('title', (lesson) => ({ ...lesson, title }));
  else tellOf(await shelf.change(id, (one) => ({ ...one, text: retitled(one.text, title) })));
  shelfChanged();
}

export async function duplicate(lesson: KeptLesson): Promise<void> {
  const id = newId();
  const text = retitled(lesson.text, words.copyOf(lesson.title));
  tellOf(await shelf.put({ id, text, changed: Date.now() }, { writer: id, known: 0, revision: 1 }));
  const picture = await shelf.picture(lesson.id);
  if (picture) await shelf.putPicture(id, picture);
  shelfChanged();
  // a browser short of room may drop what a page keeps, unless it was asked not to
  void navigator.storage?.persist?.();
}

export async function remove(lesson: KeptLesson): Promise<void> {
  const kept = await shelf.change(lesson.id, (one) => ({ ...one, deleted: Date.now() }));
  if (kept.kind !== 'kept') return tellOf(kept);
  unhome(lesson.id);
  useShelf.setState({ deleted: lesson });
  shelfChanged();
}

/** Takes a deletion back. */
export async function haveBack({ id }: KeptLesson): Promise<void> {
  useShelf.setState({ deleted: null });
  tellOf(await shelf.change(id, ({ deleted: _gone, ...one }) => one));
  shelfChanged();
}

/** Keeps the lesson on the table as it is under a name. */
export async function keepVersion(name: string): Promise<void> {
  const { lesson, steps } = get();
  if (!lesson) return;
  const of = await keepNow(lesson);
  const picture = steps.findLast((one) => one.picture)?.picture ?? null;
  tellOf(await shelf.putVersion({ of, name, at: Date.now(), text: JSON.stringify(lesson), picture }));
  shelfChanged();
  void navigator.storage?.persist?.();
}

/** Makes the lesson what it was: an edit like others. */
export function goBackTo({ name, text }: Version): void {
  const { lesson } = readLesson(parseJson(text));
  if (!lesson) {
    say(words.refusedPlain);
    return;
  }
  editLesson('version', () => lesson);
  showPanel(null);
  say(words.wentBack(name), 'plain');
}

export async function removeVersion({ key }: Version): Promise<void> {
  await shelf.removeVersion(key);
  shelfChanged();
}

function retitled(text: string, title: string): string {
  return JSON.stringify({ ...(JSON.parse(text) as Lesson), title });
}

function tellOf(kept: Kept): void {
  if (kept.kind === 'full') say(words.diskFull);
  if (kept.kind === 'closed') say(words.shelfClosed);
}
