/** What the teacher can do to the steps of a lesson. Each is one edit, taken back by undo. */
import {
  driveCreases,
  duplicateStep,
  type Elsewhere,
  insertStep,
  joinSteps,
  moveStep,
  newStep,
  removeStep,
  repeatStep,
  splitStep,
  withStep,
} from '../core/lesson/edit-steps.ts';
import { toggleLandmark } from '../core/lesson/landmarks.ts';
import type { Step, StepKind } from '../core/lesson/lesson.ts';
import { KIND } from '../core/sheet/kind.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { creasesInLine } from '../core/sheet/walk.ts';
import { editLesson } from './edits.ts';
import { stop } from './player.ts';
import { playhead } from './playhead.ts';
import { titleFor } from './proposed.ts';
import { say } from './session.ts';
import { get, set } from './store.ts';
import { standAt } from './tracks.ts';
import { stepKindWords, words } from './words.ts';

/** A crease that stands further than this from where the step began has been moved, radians. */
const MOVED = 0.009;

const change = (what: string, index: number, part: Partial<Step>) =>
  editLesson(what, (lesson) => withStep(lesson, index, { ...lesson.steps[index]!, ...part }), true);

function finishedAngles(sheet: Sheet, creases: readonly number[]): Map<number, number> {
  const known = creases.filter((crease) => !Number.isNaN(sheet.creaseAngle[crease]!));
  return new Map(known.map((crease) => [crease, sheet.creaseAngle[crease]!]));
}

/** -1 for a mountain, 1 for all others. */
const turnOf = (sheet: Sheet, crease: number) => (sheet.creaseKind[crease] === KIND.mountain ? -1 : 1);

/** The ways in which creases turn; more than one where mountains and valleys are among them. */
export const turnsOf = (sheet: Sheet, creases: readonly number[]) =>
  new Set(creases.map((crease) => turnOf(sheet, crease)));

export const stepActions = {
  /** Adds a step of a kind after the given one; -1 puts it first. */
  add: (after: number, kind: StepKind) => {
    stop();
    editLesson('add step', (lesson) =>
      insertStep(lesson, after + 1, newStep(kind, words.newStepTitle(stepKindWords[kind]))),
    );
    standAt(after + 2);
  },
  /** Folds creases to their finished angles in a step of its own after the given one; -1 makes it the first. */
  foldNext: (after: number, creases: readonly number[]) => {
    const { sheet, lesson } = get();
    if (!sheet || !lesson) return;
    stop();
    const step = newStep('fold', titleFor(after, creases) || words.newStepTitle(stepKindWords.fold));
    editLesson('fold', (lesson) =>
      driveCreases(insertStep(lesson, after + 1, step), after + 1, sheet, finishedAngles(sheet, creases)),
    );
    set({ picked: creases, selection: { kind: 'crease', id: creases[0]! } });
    standAt(after + 2);
  },
  duplicate: (index: number) => {
    editLesson('duplicate step', (lesson) => duplicateStep(lesson, index));
    standAt(index + 2);
  },
  /** The first part stops where the motion is half-way. */
  split: (index: number) => {
    const { sheet } = get();
    const poses = playhead.board?.steps[index]?.poses;
    if (!sheet || !poses || poses.length < 3) return;
    const midway = poses.reduce((best, pose) =>
      Math.abs(pose.at - 0.5) < Math.abs(best.at - 0.5) ? pose : best,
    );
    const ways = { start: poses[0]!.angle, midway: midway.angle };
    editLesson('split step', (lesson) => splitStep(lesson, index, sheet, ways));
    standAt(index + 1);
  },
  joinWithNext: (index: number) => {
    const { sheet } = get();
    if (sheet) editLesson('join steps', (lesson) => joinSteps(lesson, index, sheet));
    standAt(index + 1);
  },
  /** The same folds elsewhere on the sheet, as the next step. */
  repeat: (index: number, elsewhere: Elsewhere) => {
    const { lesson, sheet } = get();
    const repeated = lesson && sheet && repeatStep(lesson, index, sheet, elsewhere);
    if (!repeated) {
      say(words.nothingToRepeat);
      return;
    }
    editLesson('repeat step', () => repeated);
    standAt(index + 2);
  },
  remove: (index: number) => {
    editLesson('remove step', (lesson) => removeStep(lesson, index));
    standAt(Math.max(0, index));
  },
  move: (from: number, to: number) => {
    const count = get().lesson?.steps.length ?? 0;
    if (from === to || to < 0 || to >= count) return;
    editLesson('move step', (lesson) => moveStep(lesson, from, to));
    standAt(to + 1);
  },
  toggleOff: (index: number) => {
    const off = !get().lesson?.steps[index]?.off;
    editLesson('switch step', (lesson) => {
      const { off: _was, ...step } = lesson.steps[index]!;
      return withStep(lesson, index, off ? { ...step, off } : step);
    });
  },
  setTitle: (index: number, title: string) => {
    if (title.trim() && title !== get().lesson?.steps[index]?.title)
      change(`title ${index}`, index, { title: title.trim() });
  },
  setSentence: (index: number, sentence: string) => {
    if (sentence !== get().lesson?.steps[index]?.sentence)
      change(`sentence ${index}`, index, { sentence: sentence.trim() });
  },
  setLandmark: (index: number, landmark: string) => {
    if (landmark.trim() !== (get().lesson?.steps[index]?.landmark ?? ''))
      change(`landmark ${index}`, index, { landmark: landmark.trim() || undefined });
  },
  /** Has a step located by a corner, or no longer by it. */
  toggleLandmark: (index: number, vertex: number) => {
    const { sheet } = get();
    if (sheet) editLesson('landmark', (lesson) => toggleLandmark(lesson, index, sheet, vertex));
  },
  setMinutes: (index: number, minutes: number) =>
    change(`minutes ${index}`, index, { minutes: minutes > 0 ? minutes : undefined }),
  /** How far a step turns the model round, degrees, counter-clockwise positive. */
  setTurn: (index: number, turn: number) => change(`turn ${index}`, index, { turn }),
  setKind: (index: number, kind: StepKind) => change('kind of step', index, { kind }),
  /**
   * Brings creases to an angle by the end of a step, degrees; null leaves them free to follow. Mountains and valleys
   * together each turn their own way.
   */
  setAngle: (index: number, creases: readonly number[], degrees: number | null) => {
    const { sheet } = get();
    if (!sheet || creases.length === 0) return;
    const angle = degrees === null ? Number.NaN : (Math.max(-180, Math.min(180, degrees)) * Math.PI) / 180;
    const both = turnsOf(sheet, creases).size > 1;
    const own = (crease: number) => (both ? Math.abs(angle) * turnOf(sheet, crease) : angle);
    const angles = new Map(creases.map((crease) => [crease, own(crease)]));
    editLesson('angle', (lesson) => driveCreases(lesson, index, sheet, angles));
    standAt(index + 1);
  },
  /** Brings creases to the angles they have in the finished model. */
  finish: (index: number, creases: readonly number[]) => {
    const { sheet } = get();
    if (!sheet) return;
    editLesson('angle', (lesson) => driveCreases(lesson, index, sheet, finishedAngles(sheet, creases)));
    standAt(index + 1);
  },
  /** Picks every crease on the line of the picked ones. */
  pickWholeLine: (creases: readonly number[]) => {
    const { sheet } = get();
    if (!sheet) return;
    const picked = creasesInLine(sheet, creases);
    set({ picked, selection: { kind: 'crease', id: creases[0]! } });
  },
  /** Makes the pose that was pulled by hand the end of the step. */
  keepPose: (index: number) => {
    const { sheet, stages } = get();
    const { pose, board } = playhead;
    const start = board?.steps[index]?.poses[0]?.angle;
    if (!sheet || !pose || !start) return;
    const target = stages[index]?.target;
    const angles = new Map<number, number>();
    for (let crease = 0; crease < sheet.creaseKind.length; crease++) {
      const angle = pose.angle[crease]!;
      const driven = target !== undefined && !Number.isNaN(target[crease]!);
      if (driven || Math.abs(angle - start[crease]!) > MOVED) angles.set(crease, angle);
    }
    editLesson('pull', (lesson) => driveCreases(lesson, index, sheet, angles));
    standAt(index + 1);
  },
};
