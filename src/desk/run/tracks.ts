/**
 * Has the tracks of all steps computed in the worker and shows them as they come. After an edit the old model stays on
 * screen until the new one has got as far; steps that did not change are had again at once.
 */

import type { Step } from '../../core/lesson/lesson.ts';
import { SAME_MOMENT } from '../../core/numeric/tolerance.ts';
import { stillPointOf } from '../../core/run/stages.ts';
import type { LessonPictures } from '../../core/storage/lesson/pictures.ts';
import { words } from '../../words/words.ts';
import type { Reply, SolverWork } from '../../worker/work.ts';
import type { Clock, End, ScreenPlace } from '../around.ts';
import type { AtRest } from '../play/at-rest.ts';
import { TrackBoard } from '../play/board.ts';
import type { Painter } from '../play/painter.ts';
import type { Player } from '../play/player.ts';
import type { Playhead } from '../play/playhead.ts';
import type { StepState, Store } from '../store.ts';
import type { Looks } from './looks.ts';

/** The old model gives way after this long, however far the new one has got. */
const PATIENCE_MILLISECONDS = 600;
/** Progress is shown no more often than this. */
const PROGRESS_MILLISECONDS = 100;

interface Parts {
  readonly store: Store;
  readonly playhead: Playhead;
  readonly player: Player;
  readonly atRest: AtRest;
  readonly looks: Looks;
  readonly solver: SolverWork;
  readonly clock: Clock;
  readonly screen: ScreenPlace;
}

export class Tracks {
  /** The job that is under way. */
  private baking: number | null = null;
  /** The board that is being filled; it is on screen, or will be soon. */
  private filling: TrackBoard | null = null;
  /** Where the slider is to stand once tracks reach as far. */
  private wanted = 0;
  private patience: End = () => {};
  private progressShown = 0;
  private painter: typeof Painter | null = null;
  /** Counts what was asked for. */
  private turn = 0;

  constructor(private readonly parts: Parts) {}

  /**
   * @param place where the slider is to stand
   * @param before the steps before an edit: their pictures stay where a step is still the same; left out for a lesson
   * that was opened
   * @param brought pictures that came with its file
   */
  async compute(place: number, before?: readonly Step[], brought: LessonPictures = []): Promise<void> {
    const { store, player, looks, playhead, solver, clock } = this.parts;
    player.stop();
    const turn = ++this.turn;
    const stopped = this.baking === null ? null : this.cancel();
    this.wanted = place;
    if (stopped) {
      this.filling = null;
      await stopped;
      // an edit that came meanwhile has asked for its own
      if (turn !== this.turn) return;
    }
    const board = this.newBoard();
    const { lesson, stages } = store.document;
    if (!lesson || !board) return;
    const pictures = new Map(before?.map((step, k) => [step, store.run.steps[k]?.picture ?? null]));
    const pictureOf = (step: number) => pictures.get(lesson.steps[step]!) ?? brought[step] ?? null;
    store.put({
      run: {
        steps: stages.map((_, k) => waiting(k === 0, pictureOf(k))),
        computing: stages.length > 0,
        broke: null,
        byHand: false,
      },
      look: { verdict: null },
    });
    looks.begin(board);
    this.filling = board;
    this.patience();
    if (!before || !playhead.board || stages.length === 0) playhead.begin(board, 0);
    else this.patience = clock.later(() => this.comeOn(board, true), PATIENCE_MILLISECONDS);
    if (stages.length === 0) return;
    const { bend, free } = store.run;
    this.baking = solver.bake(lesson, { bend, free }, (answer) => this.hear(board, answer));
  }

  /** Puts the slider at a place, at once or as soon as tracks reach as far. */
  standAt(place: number): void {
    const { store, playhead } = this.parts;
    store.put({ run: { byHand: false } });
    this.wanted = place;
    if (this.filling === playhead.board) playhead.moveTo(Math.min(place, this.filling?.reached ?? 0));
  }

  /** The panel at a point stays still, on the model that is shown and on the one that is still to come. */
  keepStill(point: readonly [number, number]): void {
    for (const board of new Set([this.parts.playhead.board, this.filling])) board?.keepStill(point);
  }

  /** Stops computing. What has been computed stays. */
  async cancel(): Promise<void> {
    if (this.baking === null) return;
    const { store, solver, playhead } = this.parts;
    const job = this.baking;
    this.baking = null;
    this.wanted = 0;
    await solver.cancel(job);
    if (this.baking !== null) return;
    const steps = store.run.steps.map(
      (one): StepState => (one.status === 'computing' ? { ...one, status: 'waiting' } : one),
    );
    store.put({ run: { computing: false, steps } });
    playhead.refresh();
  }

  /** Fetches what says how paper is drawn; from then on poses are told so. */
  async fetchPainter(): Promise<void> {
    if (!this.painter) this.paintWith((await import('../play/painter.ts')).Painter);
  }

  paintWith(painter: typeof Painter): void {
    this.painter = painter;
    const { playhead } = this.parts;
    for (const board of new Set([this.filling, playhead.board])) board?.paintWith(painter);
    if (playhead.board) playhead.refresh();
  }

  private newBoard(): TrackBoard | null {
    const { lesson, sheet, stages } = this.parts.store.document;
    if (!lesson || !sheet) return null;
    const { size: sheetSize, thickness } = lesson.sheet;
    const still = stillPointOf(lesson, sheet);
    const board = new TrackBoard(sheet, stages.length, still, { sheetSize, thickness });
    if (this.painter) board.paintWith(this.painter);
    return board;
  }

  /** Puts the board that is being filled on screen once it reaches far enough. */
  private comeOn(board: TrackBoard, now = false): void {
    const { playhead } = this.parts;
    if (board === playhead.board || board !== this.filling) return;
    if (now || board.reached >= Math.min(this.wanted, board.steps.length) - SAME_MOMENT)
      playhead.begin(board, Math.min(this.wanted, board.reached));
  }

  private hear(board: TrackBoard, answer: Reply): void {
    if (this.filling !== board) return;
    const { store } = this.parts;
    switch (answer.kind) {
      case 'pose':
        this.takePose(board, answer);
        return;
      case 'step':
        this.takeStep(board, answer);
        return;
      case 'baked':
        this.baking = null;
        this.comeOn(board, true);
        this.wanted = 0;
        store.put({ run: { computing: false } });
        void this.parts.atRest.settle();
        return;
      case 'broke':
        this.baking = null;
        store.put({ run: { computing: false, broke: answer.message } });
        store.say(words.broke(answer.message));
    }
  }

  private takePose(board: TrackBoard, { step, pose }: Extract<Reply, { kind: 'pose' }>): void {
    const { playhead, store, clock } = this.parts;
    const before = board.reached;
    board.addPose(step, pose);
    const now = clock.now();
    if (now - this.progressShown >= PROGRESS_MILLISECONDS) {
      this.progressShown = now;
      store.putStep(step, { reached: pose.at });
    }
    this.comeOn(board);
    if (board === playhead.board && this.wanted > before)
      playhead.moveTo(Math.min(this.wanted, board.reached));
  }

  private takeStep(board: TrackBoard, answer: Extract<Reply, { kind: 'step' }>): void {
    const { playhead, store, looks, screen } = this.parts;
    const { step, report, reached, end } = answer;
    board.endStep(step, answer);
    const failed = report.outcome === 'fails' || report.outcome === 'stopped';
    store.putStep(step, { status: failed ? 'fails' : 'ready', reached, report, end });
    if (!failed && store.run.steps[step + 1]) store.putStep(step + 1, { status: 'computing' });
    this.comeOn(board, failed);
    if (board === playhead.board) {
      if (this.wanted > 0) playhead.moveTo(Math.min(this.wanted, board.reached));
      else playhead.refresh();
    }
    screen.now?.takePicture(step);
    if (end.closes) looks.ask(board, step);
  }
}

function waiting(first: boolean, picture: string | null): StepState {
  return {
    status: first ? 'computing' : 'waiting',
    ...{ reached: 0, report: null, end: null, layers: null, lookBroke: null, picture },
  };
}
