/** Opens lessons, has their tracks computed, and keeps the shown pose true. The hinge between screen and worker. */
import type { Finding } from '../core/finding/finding.ts';
import type { Lesson } from '../core/lesson/lesson.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { panelContaining } from '../core/sheet/walk.ts';
import type { LineMapping } from '../core/storage/mapping.ts';
import { startSolver } from '../worker/client.ts';
import type { Answer, FileFormat, ReadyLesson } from '../worker/protocol.ts';
import { carryOut, opened } from './edits.ts';
import { askLayers, askShape, forgetLayers } from './layers.ts';
import { stop } from './player.ts';
import { playhead } from './playhead.ts';
import { get, type LessonEntry, type StepState, set, setStep } from './store.ts';
import { TrackBoard } from './track-board.ts';
import { words } from './words.ts';

export const solver = startSolver();

/** Waits this long after the last move of the slider before the pose is made exact. */
const REST_MILLISECONDS = 120;

let baking: number | null = null;
let restTimer = 0;
/** Called when a step's track is finished, so that its picture can be taken. */
export const onStepEnd: { call: (step: number) => void } = { call: () => {} };
/** Called when another lesson is on the table. */
export const onLesson: { call: () => void } = { call: () => {} };

/** Fetches the list of lessons and opens the first. */
export async function begin(): Promise<void> {
  try {
    const answer = await fetch('lessons/index.json');
    if (!answer.ok) throw new Error(answer.statusText);
    const lessons = (await answer.json()) as LessonEntry[];
    set({ lessons });
    if (lessons[0] && !get().lesson) await openLesson(lessons[0]);
  } catch {
    say(words.lessonMissing);
  }
}

export async function openLesson(entry: LessonEntry): Promise<void> {
  try {
    const answer = await fetch(`lessons/${entry.file}`);
    if (!answer.ok) throw new Error(answer.statusText);
    await openBytes(entry.file, new Uint8Array(await answer.arrayBuffer()));
  } catch {
    say(words.lessonMissing);
  }
}

/** Opens a file of any kind. A bad one leaves everything as it is and says why. */
export async function openBytes(name: string, bytes: Uint8Array): Promise<void> {
  receive(await solver.open(name, bytes));
}

export async function takeMapping(mapping: LineMapping): Promise<void> {
  set({ mapping: null });
  receive(await solver.map(mapping));
}

export async function trueUp(): Promise<void> {
  const { lesson, sheet } = get();
  if (lesson && sheet) receive(await solver.trueUp({ lesson, sheet }));
}

function receive(answer: Answer): void {
  switch (answer.kind) {
    case 'ready':
      opened(answer.ready);
      show(answer.ready);
      break;
    case 'asks-mapping':
      set({ mapping: answer, notice: null });
      break;
    case 'refused':
      say(refusal(answer.findings));
      break;
    case 'broke':
      say(words.broke(answer.message));
  }
}

function refusal(findings: readonly Finding[]): string {
  const worst = findings.find((one) => one.severity === 'error') ?? findings[0];
  return worst?.message ?? words.refusedPlain;
}

export function say(text: string, tone: 'trouble' | 'plain' = 'trouble'): void {
  set({ notice: { text, tone } });
}

function show(ready: ReadyLesson): void {
  stop();
  const { lesson, sheet, stages, findings, trueUp } = ready;
  document.title = `${lesson.title} · ${words.tool}`;
  set({
    lesson,
    sheet,
    stages,
    findings,
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
  void compute(0);
}

carryOut.show = show;

/** Has the tracks of all steps computed, and shows the given place of the slider meanwhile. */
export async function compute(place: number): Promise<void> {
  stop();
  if (baking !== null) await cancel();
  const { lesson, sheet, stages, bend, free } = get();
  if (!lesson || !sheet) return;
  const board = new TrackBoard(sheet, stages.length, stillPoint(lesson, sheet));
  set({
    steps: stages.map((_, k): StepState => waiting(k === 0)),
    computing: stages.length > 0,
    byHand: false,
    verdict: null,
    shape: null,
  });
  forgetLayers();
  playhead.begin(board, 0);
  wanted = place;
  if (stages.length === 0) return;
  baking = solver.bake({ sheet, stages }, { bend, free, sheetSize: lesson.sheet.size }, (answer) =>
    hear(board, answer),
  );
}

let wanted = 0;

function hear(board: TrackBoard, answer: Answer): void {
  if (playhead.board !== board) return;
  switch (answer.kind) {
    case 'pose': {
      const before = board.reached;
      board.addPose(answer.step, answer.pose);
      sketchProgress(answer.step, answer.pose.at);
      if (wanted > before) playhead.moveTo(Math.min(wanted, board.reached));
      return;
    }
    case 'step': {
      board.endStep(answer.step, answer);
      const { report, reached } = answer;
      const failed = report.outcome === 'fails' || report.outcome === 'stopped';
      setStep(answer.step, { status: failed ? 'fails' : 'ready', reached, report });
      if (!failed && get().steps[answer.step + 1]) setStep(answer.step + 1, { status: 'computing' });
      if (wanted > 0) playhead.moveTo(Math.min(wanted, board.reached));
      else playhead.refresh();
      onStepEnd.call(answer.step);
      if (!failed) askLayers(board, answer.step);
      else askShape(board);
      return;
    }
    case 'baked':
      baking = null;
      wanted = 0;
      set({ computing: false });
      settle();
      return;
    case 'broke':
      baking = null;
      set({ computing: false });
      say(words.broke(answer.message));
  }
}

let sketched = 0;

/** Progress on screen at most ten times a second. */
function sketchProgress(step: number, reached: number): void {
  const now = performance.now();
  if (now - sketched < 100) return;
  sketched = now;
  setStep(step, { reached });
}

/** Stops computing. What has been computed stays. */
export async function cancel(): Promise<void> {
  if (baking === null) return;
  const job = baking;
  baking = null;
  wanted = 0;
  await solver.cancel(job);
  set({
    computing: false,
    steps: get().steps.map((one) => (one.status === 'computing' ? { ...one, status: 'waiting' } : one)),
  });
  playhead.refresh();
}

function waiting(first: boolean): StepState {
  return { status: first ? 'computing' : 'waiting', reached: 0, report: null, layers: null, picture: null };
}

/** A flat point of the panel that stays still, sheet coordinates. */
export function stillPoint(lesson: Lesson, sheet: Sheet): readonly [number, number] {
  const { frame } = sheet;
  if (lesson.still)
    return [(lesson.still[0] - frame.x) / frame.scale, (lesson.still[1] - frame.y) / frame.scale];
  return insideOf(sheet, 0);
}

/** A flat point well inside a panel. */
export function insideOf(sheet: Sheet, panel: number): readonly [number, number] {
  const ring = sheet.panelRings[panel]![0]!;
  let h = ring;
  let best: readonly [number, number] = [0, 0];
  do {
    const a = sheet.halfEdgeNext[h]!;
    const b = sheet.halfEdgeNext[a]!;
    const at = (half: number) =>
      (half & 1) === 0 ? sheet.creaseFrom[half >> 1]! : sheet.creaseTo[half >> 1]!;
    const [p, q, r] = [at(h), at(a), at(b)];
    best = [
      (sheet.vertexX[p]! + sheet.vertexX[q]! + sheet.vertexX[r]!) / 3,
      (sheet.vertexY[p]! + sheet.vertexY[q]! + sheet.vertexY[r]!) / 3,
    ];
    if (panelContaining(sheet, best[0], best[1]) === panel) return best;
    h = sheet.halfEdgeNext[h]!;
  } while (h !== ring);
  return best;
}

playhead.subscribe(() => {
  if (playhead.quiet) return;
  clearTimeout(restTimer);
  restTimer = window.setTimeout(settle, REST_MILLISECONDS);
  if (get().verdict) set({ verdict: null });
});

/** Once the slider rests, the blended pose is replaced by the nearest one that closes. */
async function settle(): Promise<void> {
  const { pose, board } = playhead;
  if (!pose || !board || get().playing || get().byHand || board !== playhead.board) return;
  const answer = await solver.correct(pose.step, pose.angle.slice());
  if (answer.kind !== 'corrected' || playhead.pose !== pose) return;
  const { freedoms, open } = answer;
  set({ rest: { freedoms, open } });
  const off = answer.angle.reduce((most, value, e) => Math.max(most, Math.abs(value - pose.angle[e]!)), 0);
  if (off < 1e-9) return;
  const from = board.anglesAt(playhead.place).between[0];
  playhead.showQuietly(board.place(pose.step, pose.sheet, answer.angle, from));
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
  const from = board.anglesAt(playhead.place).between[0];
  playhead.showPose(board.place(pose.step, pose.sheet, answer.angle, from));
}

/** Saves the lesson or the pose as a file. */
export async function save(format: FileFormat): Promise<void> {
  const { lesson, sheet } = get();
  const { pose, board } = playhead;
  if (!lesson || !sheet || !board) return;
  const own = pose?.angle.slice(0, sheet.creaseKind.length) ?? new Float64Array(sheet.creaseKind.length);
  const answer = await solver.write(format, { lesson, sheet, angle: own, still: board.stillPanel(sheet) });
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

function fileName(title: string): string {
  const plain = title
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
  return plain || 'lesson';
}
