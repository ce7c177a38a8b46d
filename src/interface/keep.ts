/**
 * Keeps what is on the table: every edit is written to the shelf at once, one writing at a time, the newest state
 * last. A sample, or a lesson that another tab holds, is never written to: the first change makes a copy of one's own.
 */
import type { Lesson } from '../core/lesson/lesson.ts';
import { hold } from '../keep/hold.ts';
import { type Last, Shelf } from '../keep/shelf.ts';
import { type Home, homes, newHome } from './homes.ts';
import { playhead } from './playhead.ts';
import { fetchSamples, openBytes, openLesson, save, say } from './session.ts';
import { get, set, useStore } from './store.ts';
import { words } from './words.ts';

export const shelf = new Shelf();

/** The place of the slider is written this long after it came to rest; small pictures likewise. */
const REST_MILLISECONDS = 250;
/** A full or closed database is tried again after this long. */
const AGAIN_MILLISECONDS = 4000;
/** A database that does not answer for this long at the start is gone on without. */
const PATIENCE_MILLISECONDS = 2000;

/** Tells other tabs that a lesson on the shelf changed. */
const channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel('creaseway shelf');
/** Called when something on the shelf changed, here or in another tab. */
export const onShelf: { call: () => void } = { call: () => {} };
if (channel) channel.onmessage = () => onShelf.call();

export function shelfChanged(): void {
  channel?.postMessage('changed');
  onShelf.call();
}

let current: Home | null = null;
/** What could not be kept, if anything: the page asks before it is left. */
let unkept: 'full' | 'closed' | null = null;

/** Home of the lesson on the table. */
export const homeNow = () => current;

/** Puts on the table what lay there last, or the first sample. */
export async function begin(): Promise<void> {
  void shelf.tidy();
  const samples = fetchSamples();
  const last = await lastHere();
  if (last?.id && (await openKept(last.id))) {
    await samples.catch(() => {});
    return;
  }
  try {
    const lessons = await samples;
    const entry = lessons.find((one) => one.file === last?.sample) ?? lessons[0];
    if (!entry || get().lesson) return;
    const look = last?.sample === entry.file ? await inTime(shelf.look(lookKey(last)!)) : null;
    await openLesson(entry, look?.place ?? 0);
  } catch {
    say(words.lessonMissing);
  }
}

/** Opens a lesson of the shelf as it was left. @returns whether it is on the table now */
export async function openKept(id: string): Promise<boolean> {
  const kept = await inTime(shelf.get(id));
  if (!kept || kept.deleted) return false;
  const { bend = false, free = false, place = 0 } = (await inTime(shelf.look(id))) ?? {};
  set({ bend, free });
  const same = current?.id === id ? current : null;
  if (same) same.revision = kept.revision;
  const home = same ?? newHome({ id, revision: kept.revision, copy: kept.copy ?? false });
  return openBytes(`${kept.title}.json`, new TextEncoder().encode(kept.text), home, place);
}

function inTime<T>(reading: Promise<T>): Promise<T | null> {
  return Promise.race([
    reading,
    new Promise<null>((resolve) => setTimeout(() => resolve(null), PATIENCE_MILLISECONDS)),
  ]);
}

/** This tab's own lesson after a reload; else the one that was open last in any tab. */
async function lastHere(): Promise<Last | null> {
  try {
    const own = sessionStorage.getItem('creaseway-open');
    if (own) return JSON.parse(own) as Last;
  } catch {
    // storage is switched off; the shelf says more
  }
  return inTime(shelf.last());
}

function remember({ id, sample }: Home): void {
  const last: Last = { id, sample };
  try {
    sessionStorage.setItem('creaseway-open', JSON.stringify(last));
  } catch {
    // without it the shelf still knows
  }
  void shelf.putLast(last);
}

const lookKey = ({ id, sample }: Last) => id ?? (sample ? `sample ${sample}` : null);

useStore.subscribe((now, before) => {
  if (now.lesson && now.lesson !== before.lesson) onTable(now.lesson);
  if (now.bend !== before.bend || now.free !== before.free) lookSoon();
  if (before.computing && !now.computing) lookSoon();
  if (now.steps !== before.steps) pictureSoon();
});

playhead.subscribe(lookSoon);

function onTable(lesson: Lesson): void {
  const home = homes.get(lesson) ?? current ?? newHome();
  homes.set(lesson, home);
  if (home === current) {
    document.title = `${lesson.title} · ${words.tool}`;
    keep(home, lesson);
    return;
  }
  if (current && !current.writing) letGo(current);
  current = home;
  if (home.id) {
    takeHold(home);
    remember(home);
  } else if (home.sample) remember(home);
  else keep(home, lesson);
}

function letGo(home: Home): void {
  home.hold?.release();
  home.hold = null;
}

function takeHold(home: Home): void {
  const { id } = home;
  if (!id || home.hold) return;
  const mine = hold(id, () => {
    if (home.hold !== mine) return;
    home.hold = { ...mine, known: Promise.resolve(true) };
    if (current === home) void readAgain(home);
  });
  home.hold = mine;
  void mine.known.then((held) => {
    if (held || current !== home || home.hold !== mine) return;
    say(words.openElsewhere, 'plain', { stays: true });
  });
}

/** The other tab has let go: what it wrote last is shown here. */
async function readAgain(home: Home): Promise<void> {
  set({ notice: null });
  const kept = home.id ? await shelf.get(home.id) : null;
  if (kept && current === home && kept.revision !== home.revision) await openKept(kept.id);
}

function keep(home: Home, lesson: Lesson): void {
  home.pending = lesson;
  if (home.writing) return;
  home.writing = true;
  void write(home).finally(() => {
    home.writing = false;
    if (home !== current) letGo(home);
  });
}

async function write(home: Home): Promise<void> {
  while (home.pending) {
    if (!home.id) await settleIn(home);
    else if (home.hold && !(await home.hold.known)) becomeCopy(home, words.copyElsewhere);
    const lesson = home.pending;
    home.pending = null;
    const text = JSON.stringify(lesson);
    const own = { id: home.id!, text, changed: Date.now(), ...(home.copy && { copy: true }) };
    const kept = await shelf.put(own, home.revision);
    if (kept.kind === 'kept') {
      home.revision = kept.revision;
      if (unkept) {
        unkept = null;
        say(words.keptAgain, 'plain');
      }
      shelfChanged();
      lookSoon();
      continue;
    }
    home.pending ??= lesson;
    if (kept.kind === 'changed-elsewhere') becomeCopy(home, words.copyChanged);
    else {
      cannotKeep(home, kept.kind);
      return;
    }
  }
}

/** A lesson that had no place on the shelf gets one; the same file opened again comes back to its own. */
async function settleIn(home: Home): Promise<void> {
  const text = home.sample ? null : JSON.stringify(home.pending);
  const before = text ? (await shelf.list()).find((one) => one.text === text) : null;
  home.id = before?.id ?? newId();
  home.revision = before?.revision ?? 0;
  takeHold(home);
  if (home === current) remember(home);
}

function becomeCopy(home: Home, why: string): void {
  letGo(home);
  home.id = newId();
  home.revision = 0;
  home.copy = true;
  takeHold(home);
  if (home === current) remember(home);
  say(why, 'plain', { stays: true });
}

/** The lesson on the table is kept no longer where it was: its place was taken off the shelf. */
export function unhome(id: string): void {
  if (current?.id !== id) return;
  letGo(current);
  current.id = null;
  current.revision = 0;
}

let again = 0;

function cannotKeep(home: Home, why: 'full' | 'closed'): void {
  if (unkept !== why) {
    const action = { label: words.saveAsFile, run: () => void save('lesson') };
    say(why === 'full' ? words.diskFull : words.shelfClosed, 'trouble', { action });
  }
  unkept = why;
  clearTimeout(again);
  again = window.setTimeout(() => {
    if (home.pending) keep(home, home.pending);
  }, AGAIN_MILLISECONDS);
}

export function newId(): string {
  const part = () => crypto.getRandomValues(new Uint32Array(1))[0]!.toString(36).padStart(7, '0');
  return `${Date.now().toString(36)}-${part()}${part()}`;
}

let lookTimer = 0;

function lookSoon(): void {
  if (playhead.quiet) return;
  clearTimeout(lookTimer);
  lookTimer = window.setTimeout(putLook, REST_MILLISECONDS);
}

function putLook(): void {
  clearTimeout(lookTimer);
  const { computing, bend, free } = get();
  const key = current && lookKey(current);
  // while tracks are computed the slider is still on its way to where it was
  if (key && !computing) void shelf.putLook(key, { place: playhead.place, bend, free });
}

let pictureTimer = 0;

function pictureSoon(): void {
  clearTimeout(pictureTimer);
  pictureTimer = window.setTimeout(async () => {
    const { computing, steps } = get();
    const picture = steps.findLast((one) => one.picture)?.picture;
    const key = current && lookKey(current);
    if (!key || computing || !picture) return;
    await shelf.putPicture(key, picture);
    onShelf.call();
  }, 4 * REST_MILLISECONDS);
}

if (typeof window !== 'undefined') {
  window.addEventListener('pagehide', putLook);
  document.addEventListener('visibilitychange', () => document.hidden && putLook());
  window.addEventListener('beforeunload', (event) => unkept && event.preventDefault());
}

/** Gives the lesson on the table its place on the shelf now. @returns its id there */
export async function keepNow(lesson: Lesson): Promise<string> {
  const home = current ?? newHome();
  if (!home.id) keep(home, lesson);
  while (!home.id) await new Promise((resolve) => setTimeout(resolve, 10));
  return home.id;
}
