/** The model's stage as the desk knows it. */

import type { EyePlace } from '../../core/lesson/eye.ts';
import { seenAt } from '../../core/lesson/seen.ts';
import type { Space } from '../../core/numeric/vector.ts';
import type { FallMoment, Picked, PictureWish, Screen } from '../../desk/around.ts';
import type { PlacedPose } from '../../desk/play/board.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { desk } from '../desk.ts';

/** Size of the small pictures on cards, pixels. */
const PICTURE = { width: 264, height: 176, otherSideUp: false };
/** Pictures are taken one after the other, each in a moment when nothing else waits, milliseconds. */
const MOMENT = 60;

export class StageScreen implements Screen {
  private queue: Promise<void> = Promise.resolve();

  constructor(private readonly stage: ModelStage) {}

  get eye(): EyePlace {
    return this.stage.rig.place;
  }

  get eyeInModel(): Space {
    return this.stage.eye;
  }

  get leaves() {
    return this.stage.leaves;
  }

  get extent() {
    return this.stage.extent;
  }

  pick(x: number, y: number, reach: number): Picked | null {
    return this.stage.pick(x, y, reach);
  }

  flyTo(eye: EyePlace, ease: boolean): void {
    this.stage.flyTo(eye, ease);
  }

  turnOver(turned: boolean, ease: boolean): void {
    this.stage.turnOver(turned, ease);
  }

  turnTable(angle: number, ease: boolean): void {
    this.stage.turnTable(angle, ease);
  }

  begin(): void {
    this.stage.rig.reframe();
    this.stage.turnOver(false, false);
  }

  remeasure(): void {
    this.stage.remeasure();
  }

  takePicture(step: number): void {
    const take = () => this.take(step);
    this.queue = this.queue
      .then(() => new Promise<void>((done) => setTimeout(done, MOMENT)))
      .then(take, take);
  }

  picture(pose: PlacedPose, wish: PictureWish): Promise<string | null> {
    return this.stage.picture(pose, wish);
  }

  async setOnTable(pose: PlacedPose, turned: boolean) {
    const { setOnTable } = await import('../../scene/table/set-on-table.ts');
    return setOnTable(pose.sheet, pose.placement, pose.levels, turned);
  }

  setRest(moment: FallMoment | null): void {
    this.stage.setRest(moment);
  }

  private async take(step: number): Promise<void> {
    const { board } = desk.playhead;
    // another lesson may be on the table by now
    const last = board?.steps[step]?.poses.at(-1);
    const { lesson } = desk.store.document;
    if (!board || !last || !lesson) return;
    // as it lies when the step is done, which may turn it over or round itself
    const seen = seenAt(lesson.steps, step + 1);
    const picture = await this.stage.picture(board.poseAt(step + last.at), { ...PICTURE, seen });
    if (picture && desk.playhead.board === board) desk.store.putStep(step, { picture });
  }
}
