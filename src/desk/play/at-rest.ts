/** The pose that is shown, made exact once the slider rests; and pulled by a corner. */
import { CLOSED } from '../../core/numeric/tolerance.ts';
import type { SolverWork } from '../../worker/work.ts';
import type { Clock, End } from '../around.ts';
import type { Store } from '../store.ts';
import type { Playhead } from './playhead.ts';

/** Waits this long after the last move of the slider before the pose is made exact. */
const REST_MILLISECONDS = 120;

export class AtRest {
  private halt: End = () => {};

  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
    private readonly solver: SolverWork,
    private readonly clock: Clock,
  ) {}

  /** Follows the slider. */
  begin(): End {
    return this.playhead.subscribe(() => {
      if (this.playhead.quiet) return;
      this.halt();
      this.halt = this.clock.later(() => void this.settle(), REST_MILLISECONDS);
      if (this.store.look.verdict) this.store.put({ look: { verdict: null } });
    });
  }

  /** Once the slider rests, the blended pose is replaced by the nearest one that closes. */
  async settle(): Promise<void> {
    const { pose, board } = this.playhead;
    if (!pose || !board || this.store.look.playing || this.store.run.byHand) return;
    const answer = await this.solver.correct(pose.step, pose.angle.slice());
    if (answer.kind !== 'corrected' || this.playhead.pose !== pose) return;
    const { freedoms, open } = answer;
    this.store.put({ run: { rest: { freedoms, open } } });
    const off = answer.angle.reduce((most, value, e) => Math.max(most, Math.abs(value - pose.angle[e]!)), 0);
    if (off < CLOSED) return;
    const { on } = board.anglesAt(this.playhead.place);
    this.playhead.showQuietly(board.place(pose.step, pose.sheet, answer.angle, on));
  }

  /** Has the solver move a corner toward a place in the still panel's frame; the rest of the sheet follows. */
  async drag(vertex: number, goal: readonly [number, number, number]): Promise<void> {
    const { pose, board } = this.playhead;
    if (!pose || !board) return;
    const answer = await this.solver.drag({
      step: pose.step,
      angle: pose.angle.slice(),
      still: board.stillPanel(pose.sheet),
      vertex,
      goal,
      free: this.store.run.free,
    });
    if (answer.kind !== 'dragged' || this.playhead.board !== board) return;
    this.store.put({
      run: { byHand: true, shapeShown: false, rest: { freedoms: answer.freedoms, open: [] } },
      look: { verdict: null },
    });
    const { on } = board.anglesAt(this.playhead.place);
    this.playhead.showPose(board.place(pose.step, pose.sheet, answer.angle, on));
  }

  /** Leaves what a hand made of the model. */
  backToTrack = (): void => {
    this.store.put({ run: { byHand: false } });
    this.playhead.refresh();
  };

  /** Shows the finished shape of a pattern that no motion was found for. */
  showShape = (): void => {
    const pose = this.playhead.board?.finishedPose();
    if (!pose) return;
    this.store.put({ run: { byHand: true, shapeShown: true }, look: { verdict: null, selection: null } });
    this.playhead.showPose(pose);
  };
}
