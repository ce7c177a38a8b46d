/** What the teacher can do to the steps of a lesson. Each is one edit, taken back by undo. */

import { finishedFolds } from '../../core/lesson/check/made.ts';
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
} from '../../core/lesson/edit-steps.ts';
import { toggleLandmark } from '../../core/lesson/landmarks.ts';
import type { Step, StepKind } from '../../core/lesson/lesson.ts';
import { MOVED } from '../../core/numeric/tolerance.ts';
import { KIND } from '../../core/sheet/kind.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { creasesInLine } from '../../core/sheet/walk.ts';
import { stepKindWords, words } from '../../words/words.ts';
import type { Edits } from '../document/edits.ts';
import type { Player } from '../play/player.ts';
import { type Playhead, stepInto } from '../play/playhead.ts';
import type { StepLooks } from '../play/step-looks.ts';
import type { Proposing } from '../run/proposing.ts';
import type { Tracks } from '../run/tracks.ts';
import type { Store } from '../store.ts';
import type { Picking } from './picking.ts';

interface Parts {
  readonly store: Store;
  readonly edits: Edits;
  readonly playhead: Playhead;
  readonly player: Player;
  readonly tracks: Tracks;
  readonly stepLooks: StepLooks;
  readonly picking: Picking;
  readonly proposing: Proposing;
}

function finishedAngles(sheet: Sheet, creases: readonly number[]): Map<number, number> {
  const known = creases.filter((crease) => !Number.isNaN(sheet.creaseAngle[crease]!));
  return new Map(known.map((crease) => [crease, sheet.creaseAngle[crease]!]));
}

/** -1 for a mountain, 1 for all others. */
const turnOf = (sheet: Sheet, crease: number) => (sheet.creaseKind[crease] === KIND.mountain ? -1 : 1);

/** The ways in which creases turn; more than one where mountains and valleys are among them. */
export const turnsOf = (sheet: Sheet, creases: readonly number[]) =>
  new Set(creases.map((crease) => turnOf(sheet, crease)));

export class Steps {
  constructor(private readonly parts: Parts) {}

  /** Adds a step of a kind after the given one; -1 puts it first. */
  add(after: number, kind: StepKind): void {
    this.parts.player.stop();
    this.parts.edits.lesson('add step', (lesson) =>
      insertStep(lesson, after + 1, newStep(kind, words.newStepTitle(stepKindWords[kind]))),
    );
    this.parts.tracks.standAt(after + 2);
  }

  /** Folds creases to their finished angles in a step of its own after the given one; -1 makes it the first. */
  async foldNext(after: number, creases: readonly number[]): Promise<void> {
    const { proposing } = this.parts;
    if (!proposing.isFetched) await proposing.fetch();
    const { sheet } = this.parts.store.document;
    if (!sheet) return;
    this.parts.player.stop();
    const title = proposing.titleFor(after, creases);
    const step = newStep('fold', title || words.newStepTitle(stepKindWords.fold));
    this.parts.edits.lesson('fold', (lesson) =>
      driveCreases(insertStep(lesson, after + 1, step), after + 1, sheet, finishedAngles(sheet, creases)),
    );
    this.parts.picking.pickAll(creases, creases[0]);
    this.parts.tracks.standAt(after + 2);
  }

  /** The same for what is picked, or for the whole line of the crease that is selected, after the step that is shown. */
  foldPickedNext = (): void => {
    const { store, playhead, picking } = this.parts;
    const { sheet } = store.document;
    const { selection } = store.look;
    const picked = selection?.kind === 'crease' ? picking.picked : [];
    const creases = sheet && picked.length === 1 ? creasesInLine(sheet, picked) : picked;
    if (sheet && finishedAngles(sheet, creases).size > 0)
      void this.foldNext(stepInto(playhead.place), creases);
    else store.say(words.pickFirst);
  };

  duplicate(index: number): void {
    this.parts.edits.lesson('duplicate step', (lesson) => duplicateStep(lesson, index));
    this.parts.tracks.standAt(index + 2);
  }

  /** The first part stops where the motion is half-way. */
  split(index: number): void {
    const { sheet } = this.parts.store.document;
    const poses = this.parts.playhead.board?.steps[index]?.poses;
    if (!sheet || !poses || poses.length < 3) return;
    const midway = poses.reduce((best, pose) =>
      Math.abs(pose.at - 0.5) < Math.abs(best.at - 0.5) ? pose : best,
    );
    const ways = { start: poses[0]!.angle, midway: midway.angle };
    this.parts.edits.lesson('split step', (lesson) => splitStep(lesson, index, sheet, ways));
    this.parts.tracks.standAt(index + 1);
  }

  joinWithNext(index: number): void {
    const { sheet } = this.parts.store.document;
    if (sheet) this.parts.edits.lesson('join steps', (lesson) => joinSteps(lesson, index, sheet));
    this.parts.tracks.standAt(index + 1);
  }

  /** The same folds elsewhere on the sheet, as the next step. */
  repeat(index: number, elsewhere: Elsewhere): void {
    const { lesson, sheet } = this.parts.store.document;
    const repeated = lesson && sheet && repeatStep(lesson, index, sheet, elsewhere);
    if (!repeated) {
      this.parts.store.say(words.nothingToRepeat);
      return;
    }
    this.parts.edits.lesson('repeat step', () => repeated);
    this.parts.tracks.standAt(index + 2);
  }

  remove(index: number): void {
    this.parts.edits.lesson('remove step', (lesson) => removeStep(lesson, index));
    this.parts.tracks.standAt(Math.max(0, index));
  }

  move(from: number, to: number): void {
    const count = this.parts.store.document.lesson?.steps.length ?? 0;
    if (from === to || to < 0 || to >= count) return;
    this.parts.edits.lesson('move step', (lesson) => moveStep(lesson, from, to));
    this.parts.tracks.standAt(to + 1);
  }

  toggleOff(index: number): void {
    const off = !this.parts.store.document.lesson?.steps[index]?.off;
    this.parts.edits.lesson('switch step', (lesson) => {
      const { off: _was, ...step } = lesson.steps[index]!;
      return withStep(lesson, index, off ? { ...step, off } : step);
    });
  }

  setTitle(index: number, title: string): void {
    if (title.trim() && title.trim() !== this.parts.store.document.lesson?.steps[index]?.title.trim())
      this.change(`title ${index}`, index, { title: title.trim() });
  }

  setSentence(index: number, sentence: string): void {
    if (sentence.trim() !== this.parts.store.document.lesson?.steps[index]?.sentence.trim())
      this.change(`sentence ${index}`, index, { sentence: sentence.trim() });
  }

  setLandmark(index: number, landmark: string): void {
    if (landmark.trim() !== (this.parts.store.document.lesson?.steps[index]?.landmark ?? ''))
      this.change(`landmark ${index}`, index, { landmark: landmark.trim() || undefined });
  }

  /** Has a step located by a corner, or no longer by it. */
  toggleLandmark(index: number, vertex: number): void {
    const { sheet } = this.parts.store.document;
    if (sheet) this.parts.edits.lesson('landmark', (lesson) => toggleLandmark(lesson, index, sheet, vertex));
  }

  setMinutes = (index: number, minutes: number) =>
    this.change(`minutes ${index}`, index, { minutes: minutes > 0 ? minutes : undefined });

  /** How far a step turns the model round, degrees, counter-clockwise positive. */
  setTurn = (index: number, turn: number) => this.change(`turn ${index}`, index, { turn });

  setKind = (index: number, kind: StepKind) => this.change('kind of step', index, { kind });

  /**
   * Brings creases to an angle by the end of a step, degrees; null leaves them free to follow. Mountains and valleys
   * together each turn their own way.
   */
  setAngle(index: number, creases: readonly number[], degrees: number | null): void {
    const { sheet } = this.parts.store.document;
    if (!sheet || creases.length === 0) return;
    const angle = degrees === null ? Number.NaN : (Math.max(-180, Math.min(180, degrees)) * Math.PI) / 180;
    const both = turnsOf(sheet, creases).size > 1;
    const own = (crease: number) => (both ? Math.abs(angle) * turnOf(sheet, crease) : angle);
    const angles = new Map(creases.map((crease) => [crease, own(crease)]));
    this.parts.edits.lesson('angle', (lesson) => driveCreases(lesson, index, sheet, angles));
    this.parts.tracks.standAt(index + 1);
  }

  /** Brings creases to the angles they have in the finished model. */
  finish(index: number, creases: readonly number[]): void {
    const { sheet } = this.parts.store.document;
    if (!sheet) return;
    this.parts.edits.lesson('angle', (lesson) =>
      driveCreases(lesson, index, sheet, finishedAngles(sheet, creases)),
    );
    this.parts.tracks.standAt(index + 1);
  }

  /** Creases with a finished angle that no step folds yet, neither by name nor as followers. */
  get unfolded(): number[] {
    const { document, run } = this.parts.store;
    if (!document.sheet) return [];
    const ends = [...document.stages.map(({ target }) => target), ...run.steps.map(({ end }) => end?.angle)];
    const folded = (crease: number) => ends.some((end) => Math.abs(end?.[crease] || 0) > MOVED);
    return finishedFolds(document.sheet).filter((crease) => !folded(crease));
  }

  /** Makes the pose that was pulled by hand the end of the step. */
  keepPose(index: number): void {
    const { sheet, stages } = this.parts.store.document;
    const { pose, board } = this.parts.playhead;
    const start = board?.steps[index]?.poses[0]?.angle;
    if (!sheet || !pose || !start) return;
    const target = stages[index]?.target;
    const angles = new Map<number, number>();
    for (let crease = 0; crease < sheet.creaseKind.length; crease++) {
      const angle = pose.angle[crease]!;
      const driven = target !== undefined && !Number.isNaN(target[crease]!);
      if (driven || Math.abs(angle - start[crease]!) > MOVED) angles.set(crease, angle);
    }
    this.parts.edits.lesson('pull', (lesson) => driveCreases(lesson, index, sheet, angles));
    this.parts.tracks.standAt(index + 1);
  }

  /** Keeps how the model is looked at now for a step; a second time lets it go. */
  keepLook(index: number): void {
    this.parts.edits.lesson('look', (lesson) => this.parts.stepLooks.withLook(lesson, index));
  }

  private change(what: string, index: number, part: Partial<Step>): void {
    this.parts.edits.lesson(
      what,
      (lesson) => withStep(lesson, index, { ...lesson.steps[index]!, ...part }),
      true,
    );
  }
}
