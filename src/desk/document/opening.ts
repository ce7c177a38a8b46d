/** Opens lessons, has their tracks computed, and keeps the shown pose true. The hinge between screen and worker. */

import { square } from '../../core/draw/outline.ts';
import type { Finding } from '../../core/finding/finding.ts';
import { type Lesson, lessonFormat, lessonVersion } from '../../core/lesson/lesson.ts';
import { plainSides } from '../../core/lesson/lesson-of-sheet.ts';
import type { LineMapping } from '../../core/storage/mapping.ts';
import { startSolver } from '../../worker/client.ts';
import type { Answer, FileFormat, ReadyLesson } from '../../worker/protocol.ts';
import { carryOut, opened } from './edits.ts';
import { type Home, homes, newHome } from './homes.ts';
import { stop } from '../play/player.ts';
import { playhead } from '../play/playhead.ts';
import { get, type LessonEntry, type Notice, set } from '../store.ts';
import type { PlacedPose, TrackBoard } from '../play/board.ts';
import { compute } from '../run/tracks.ts';
import { words } from '../../words/words.ts';

export const solver = startSolver();

/** Waits this long after the last move of the slider before the pose is made exact. */
const REST_MILLISECONDS = 120;

let restTimer = 0;
/** Called when a step's track is finished, so that its picture can be taken. */
export const onStepEnd: { call: (step: number) => void } = { call: () => {} };
/** Called when another lesson is on the table. */
export const onLesson: { call: () => void } = { call: () => {} };

/** Fetches the list of sample lessons. Throws where it cannot be had. */
export async function fetchSamples(): Promise<readonly LessonEntry[]> {
  const answer = await fetch('lessons/index.json');
  if (!answer.ok) throw new Error(answer.statusText);
  const lessons = (await answer.json()) as LessonEntry[];
  set({ lessons });
  return lessons;
}

export async function openLesson(entry: LessonEntry, place = 0): Promise<void> {
  try {
    const answer = await fetch(`lessons/${entry.file}`);
    if (!answer.ok) throw new Error(answer.statusText);
    const bytes = new Uint8Array(await answer.arrayBuffer());
    await openBytes(entry.file, bytes, newHome({ sample: entry.file }), place);
  } catch {
    say(words.lessonMissing);
  }
}

/**
 * Opens a file of any kind. A bad one leaves everything as it is and says why.
 * @param home where the lesson is kept; left out for one that has no place yet
 * @param place where the slider is to stand
 * @returns whether a lesson was put on the table
 */
export async function openBytes(
  name: string,
  bytes: Uint8Array,
  home: Home = newHome(),
  place = 0,
): Promise<boolean> {
  return receive(await solver.open(name, bytes), home, place);
}

/** An empty square, ready to be drawn on. */
export async function newLesson(): Promise<boolean> {
  const lesson: Lesson = {
    format: lessonFormat,
    version: lessonVersion,
    title: words.newTitle,
    place: '',
    credit: { maker: '', status: '' },
    sheet: { size: NEW_SIZE, sideUp: 'b', sides: plainSides },
    pattern: { outline: square(NEW_SIZE), lines: [] },
    steps: [],
  };
  return receive(await solver.rebuild(lesson), newHome());
}

/** Of a new sheet, mm; the pattern is in mm as well. */
const NEW_SIZE = 150;

export async function takeMapping(mapping: LineMapping): Promise<void> {
  set({ mapping: null });
  receive(await solver.map(mapping), newHome());
}

export async function trueUp(): Promise<void> {
  const { lesson } = get();
  if (lesson) receive(await solver.trueUp(lesson), homes.get(lesson) ?? newHome());
}

function receive(answer: Answer, home: Home, place = 0): boolean {
  switch (answer.kind) {
    case 'ready':
      homes.set(answer.ready.lesson, home);
      home.picture = answer.ready.pictures?.findLast((one) => one !== null) ?? null;
      opened(answer.ready);
      show(answer.ready, place);
      return true;
    case 'asks-mapping':
      set({ mapping: answer, notice: null });
      break;
    case 'refused':
      say(refusal(answer.findings));
      break;
    case 'broke':
      say(words.broke(answer.message));
  }
  return false;
}

function refusal(findings: readonly Finding[]): string {
  const worst = findings.find((one) => one.severity === 'error') ?? findings[0];
  return worst?.message ?? words.refusedPlain;
}

/** @param more a thing to do about it; `stays`: until it is dismissed */
export function say(
  text: string,
  tone: 'trouble' | 'plain' = 'trouble',
  more: Pick<Notice, 'action' | 'stays'> = {},
): void {
  set({ notice: { text, tone, ...more } });
}

function show(ready: ReadyLesson, place = 0): void {
  stop();
  const { lesson, sheet, stages, findings, trueUp } = ready;
  document.title = `${lesson.title} · ${words.tool}`;
  set({
    lesson,
    sheet,
    stages,
    findings,
    checked: true,
    trueUp,
    notice: null,
    selection: null,
    hover: null,
    marks: null,
    toldMore: false,
    turned: false,
    byHand: false,
    verdict: null,
    rest: null,
  });
  onLesson.call();
  void compute(place, undefined, ready.pictures);
}

carryOut.show = show;

playhead.subscribe(() => {
  if (playhead.quiet) return;
  clearTimeout(restTimer);
  restTimer = window.setTimeout(settle, REST_MILLISECONDS);
  if (get().verdict) set({ verdict: null });
});

/** Once the slider rests, the blended pose is replaced by the nearest one that closes. */
export async function settle(): Promise<void> {
  const { pose, board } = playhead;
  if (!pose || !board || get().playing || get().byHand || board !== playhead.board) return;
  const answer = await solver.correct(pose.step, pose.angle.slice());
  if (answer.kind !== 'corrected' || playhead.pose !== pose) return;
  const { freedoms, open } = answer;
  set({ rest: { freedoms, open } });
  const off = answer.angle.reduce((most, value, e) => Math.max(most, Math.abs(value - pose.angle[e]!)), 0);
  if (off < 1e-9) return;
  const { on } = board.anglesAt(playhead.place);
  playhead.showQuietly(board.place(pose.step, pose.sheet, answer.angle, on));
}

/** Has the solver move a corner toward a place in the still panel's frame; the rest of the sheet follows. */
export async function dragCorner(vertex: number, goal: readonly [number, number, number]): Promise<void> {
  const { pose, board } = playhead;
  if (!pose || !board) return;
  const answer = await solver.drag({
    step: pose.step,
    angle: pose.angle.slice(),
    still: board.stillPanel(pose.sheet),
    vertex,
    goal,
    free: get().free,
  });
  if (answer.kind !== 'dragged' || playhead.board !== board) return;
  set({ byHand: true, shapeShown: false, rest: { freedoms: answer.freedoms, open: [] }, verdict: null });
  const { on } = board.anglesAt(playhead.place);
  playhead.showPose(board.place(pose.step, pose.sheet, answer.angle, on));
}

/** Saves the lesson or the pose as a file. */
export async function save(format: FileFormat): Promise<void> {
  const { lesson, sheet, steps } = get();
  const { pose, board } = playhead;
  if (!lesson || !sheet || !board) return;
  const pictures = steps.map(({ picture }) => picture);
  const own = pose?.angle.slice(0, sheet.creaseKind.length) ?? new Float64Array(sheet.creaseKind.length);
  const still = board.stillPanel(sheet);
  const drawn = pose?.sheet === sheet ? { drawn: drawnFor(board, pose) } : {};
  const answer = await solver.write(format, { lesson, sheet, angle: own, still, pictures, ...drawn });
  if (answer.kind === 'broke') say(words.broke(answer.message));
  if (answer.kind !== 'written') return;
  const name = `${fileName(lesson.title)}.${format === 'lesson' ? 'json' : format}`;
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([answer.bytes as BlobPart], { type: answer.type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  say(words.saved(name), 'plain');
}

const drawnFor = (board: TrackBoard, pose: PlacedPose) => ({
  levels: pose.levels,
  aside: pose.aside,
  order: board.orderOfParts(pose),
});

function fileName(title: string): string {
  const plain = title
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
  return plain || 'lesson';
}
