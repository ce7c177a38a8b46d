/**
 * Keeps what is on the table: every edit is sent to the shelf the moment it is made, in order, without waiting for those
 * before it. A sample, or a lesson that another tab holds, is never written to: the first change makes a copy of one's own.
 */
import type { Lesson } from '../../core/lesson/lesson.ts';
import { parseJson } from '../../core/storage/parse-json.ts';
import { readLesson } from '../../core/storage/read-lesson.ts';
import { hold } from '../../keep/hold.ts';
import { type Kept, type KeptLesson, type Last, type Look, Shelf } from '../../keep/shelf.ts';
import type { EyePlace } from '../../core/lesson/eye.ts';
import { view as modelView } from './paper.ts';
import { putStatesAround, statesAround } from './edits.ts';
import { type Home, homes, newHome, rehome } from './homes.ts';
import { playhead } from '../play/playhead.ts';
import { fetchSamples, openBytes, openLesson, save, say } from './opening.ts';
import { eyeNow, standAsLeft } from '../play/step-looks.ts';
import { get, isTurned, set, useStore } from '../store.ts';
import { keptText, statesRead, statesToKeep } from './undo-states.ts';
import { words } from '../../words/words.ts';

export const shelf = new Shelf();

/** The place of the slider is written this long after it came to rest; small pictures likewise. */
const REST_MILLISECONDS = 250;
/** A full or closed database is tried again after this long. */
const AGAIN_MILLISECONDS = 4000;
/**
 * A database that does not answer for this long at the start is gone on without. After the browser was killed it may have
 * much to put in order, and nothing is worse than a sample in the place of one's own lesson.
 */
const PATIENCE_MILLISECONDS = 15_000;

/** Tells other tabs that a lesson on the shelf changed. */
const channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel('creaseway shelf');
/** Called when something on the shelf changed, here or in another tab. */
export const onShelf: { call: () => void } = { call: () => {} };
if (channel) channel.onmessage = () => onShelf.call();

export function shelfChanged(): void {
  channel?.postMessage('changed');
  onShelf.call();
}

/** Tells this tab's writings from those of others. */
const writer = newId();

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
    if (look) lookAsLeft(look);
  } catch {
    say(words.lessonMissing);
  }
}

/** Opens a lesson of the shelf as it was left. @returns whether it is on the table now */
export async function openKept(id: string): Promise<boolean> {
  const kept = await inTime(shelf.get(id));
  if (!kept || kept.deleted) return false;
  const { undo = [], redo = [] } = kept;
  const look = await inTime(shelf.look(id));
  const states = await inTime(shelf.states(id, [...undo, ...redo]));
  set({ bend: look?.bend ?? false, free: look?.free ?? false });
  const same = current?.id === id ? current : null;
  if (same) Object.assign(same, { revision: kept.revision, known: kept.revision, states: null });
  const home = same ?? newHome({ id, revision: kept.revision, copy: kept.copy ?? false });
  const bytes = new TextEncoder().encode(kept.text);
  if (!(await openBytes(`${kept.title}.json`, bytes, home, look?.place ?? 0))) return false;
  if (states) undoAsLeft(home, kept, states);
  if (look) lookAsLeft(look);
  return true;
}

/** After a restart undo goes on; a lesson that was opened later is undone as an opening, as any other. */
function undoAsLeft(home: Home, kept: KeptLesson, found: ReadonlyMap<number, string>): void {
  const { lesson, canUndo, canRedo } = get();
  if (!lesson || canUndo || canRedo) return;
  const { states, ...around } = statesRead(kept, found, lesson, (text) => readLesson(parseJson(text)).lesson);
  for (const state of [...around.undo, ...around.redo]) homes.set(state, home);
  home.states = states;
  putStatesAround(around);
}

function lookAsLeft({ turned = false, eye = null, view = 'model' }: Look): void {
  set({ turned, view });
  modelView.stage?.turnOver(isTurned(), false);
  standAsLeft(eye);
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
  const looks = ['bend', 'free', 'turned', 'view'] as const;
  if (looks.some((key) => now[key] !== before[key])) lookSoon();
  if (before.computing && !now.computing) lookSoon();
  if (now.steps !== before.steps) pictureSoon();
});

playhead.subscribe(lookSoon);
modelView.eyeMoved = () => {
  if (!isSameEye(eyeNow(), eyePut)) lookSoon();
};

function onTable(lesson: Lesson): void {
  const home = homes.get(lesson) ?? current ?? newHome();
  homes.set(lesson, home);
  if (home === current) {
    document.title = `${lesson.title} · ${words.tool}`;
    keep(home, lesson);
    return;
  }
  const left = current;
  current = home;
  if (left) letGo(left);
  if (home.id) {
    takeHold(home);
    remember(home);
  } else if (home.sample) remember(home);
  else keep(home, lesson);
}

/** A lesson that is on the table no longer may be changed by another tab, once all of it is written. */
function letGo(home: Home): void {
  if (home === current || home.settling || home.underWay > 0) return;
  home.hold?.release();
  home.hold = null;
  home.held = null;
}

function takeHold(home: Home): void {
  const { id } = home;
  if (!id || home.hold) return;
  const mine = hold(id, () => {
    if (home.hold !== mine) return;
    home.held = true;
    if (current === home) void readAgain(home);
  });
  home.hold = mine;
  void mine.known.then((held) => {
    if (home.hold !== mine) return;
    home.held ??= held;
    if (!home.held && current === home) say(words.openElsewhere, 'plain', { stays: true });
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
  if (home.settling) return;
  if (!home.id && home.sample) settleIn(home, newId());
  else if (home.id && home.held === false) becomeCopy(home, words.copyElsewhere);
  if (home.id && home.held) send(home, lesson);
  else void settle(home);
}

/** Waits until it is known where the lesson may be written. */
async function settle(home: Home): Promise<void> {
  home.settling = true;
  if (home.id) {
    takeHold(home);
    await home.hold!.known;
  } else await comeBack(home);
  home.settling = false;
  if (home.id && home.picture) void shelf.putPicture(home.id, home.picture).then(() => onShelf.call());
  home.picture = null;
  if (home.pending) keep(home, home.pending);
  letGo(home);
}

/** A lesson that had no place on the shelf gets one; the same file opened again comes back to its own. */
async function comeBack(home: Home): Promise<void> {
  const text = keptText(home.pending!);
  const before = (await shelf.list()).find((one) => one.text === text);
  if (!before) return settleIn(home, newId());
  Object.assign(home, { id: before.id, revision: before.revision, known: before.revision });
  if (keptText(home.pending!) === text) home.pending = null;
  takeHold(home);
  if (home === current) remember(home);
}

/** Takes a new place, where nobody else can write. */
function settleIn(home: Home, id: string): void {
  rehome(home, id);
  takeHold(home);
  home.held = true;
  if (home === current) remember(home);
}

function becomeCopy(home: Home, why: string): void {
  settleIn(home, newId());
  home.copy = true;
  say(why, 'plain', { stays: true });
}

function send(home: Home, lesson: Lesson): void {
  const id = home.id!;
  const revision = ++home.revision;
  const around = home === current ? statesAround() : { undo: [], redo: [] };
  const { undo, redo, changes, after } = statesToKeep(around, home.states);
  home.states = after;
  home.underWay++;
  const text = keptText(lesson);
  const own = { id, text, changed: Date.now(), undo, redo, ...(home.copy && { copy: true }) };
  void shelf.put(own, { writer, known: home.known, revision }, changes).then((kept) => {
    home.underWay--;
    // what went to a place that was left since is written again at the new one
    if (home.id === id) hear(home, lesson, kept);
    letGo(home);
  });
}

function hear(home: Home, lesson: Lesson, kept: Kept): void {
  if (kept.kind === 'kept') {
    home.known = Math.max(home.known, kept.revision);
    if (home.pending === lesson) home.pending = null;
    if (unkept) {
      unkept = null;
      say(words.keptAgain, 'plain');
    }
    shelfChanged();
    lookSoon();
    return;
  }
  home.pending ??= lesson;
  home.states = null;
  if (kept.kind === 'changed-elsewhere') {
    becomeCopy(home, words.copyChanged);
    send(home, home.pending);
  } else cannotKeep(home, kept.kind);
}

/** The lesson on the table is kept no longer where it was: its place was taken off the shelf. */
export function unhome(id: string): void {
  if (current?.id === id) rehome(current, null);
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
/** The eye as it was written last. */
let eyePut: EyePlace | null = null;

const isSameEye = (a: EyePlace | null, b: EyePlace | null) =>
  a === b || (a !== null && b !== null && a.bearing === b.bearing && a.fall === b.fall && a.zoom === b.zoom);

function lookSoon(): void {
  if (playhead.quiet) return;
  clearTimeout(lookTimer);
  lookTimer = window.setTimeout(putLook, REST_MILLISECONDS);
}

function putLook(): void {
  clearTimeout(lookTimer);
  const { computing, bend, free, turned, view } = get();
  const key = current && lookKey(current);
  // while tracks are computed the slider is still on its way to where it was
  if (!key || computing) return;
  eyePut = eyeNow();
  void shelf.putLook(key, { place: playhead.place, bend, free, turned, view, eye: eyePut });
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
