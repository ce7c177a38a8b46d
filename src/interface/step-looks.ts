/** How each step is looked at: turned over as the steps say, and from the place that the teacher kept for it. */
import { withStep } from '../core/lesson/edit-steps.ts';
import type { Lesson, StepLook } from '../core/lesson/lesson.ts';
import { seenAt } from '../core/lesson/seen.ts';
import type { EyePlace } from '../scene/views.ts';
import { view } from './actions.ts';
import { carryOut, editLesson } from './edits.ts';
import { inside, setInside } from './inside-store.ts';
import { motionReduced } from './player.ts';
import { playhead, stepInto } from './playhead.ts';
import { get, isTurned, set } from './store.ts';

/** The step whose look is shown; a look counts when its step is entered, so that the hand may turn the model after. */
let shown: StepLook | null = null;

/** How far the steps up to the slider have turned the model round, radians. */
let round = 0;

/** Where the eye stood when a lesson was left: steps leave it there until all is computed and the slider moves on. */
let left: { readonly lesson: Lesson | null; readonly eye: EyePlace } | null = null;

const leftNow = () => (left && left.lesson === get().lesson ? left.eye : null);
export const eyeNow = (): EyePlace | null => carryOut.eye() ?? leftNow();

/** Takes the eye to where it stood when the lesson was left, as soon as the stage is there. */
export function standAsLeft(eye: EyePlace | null = leftNow()): void {
  left = eye && { lesson: get().lesson, eye };
  if (!view.stage) return;
  lookAsStepSays();
  if (eye) view.stage.flyTo(eye, false);
}

/** Follows the slider. */
export function lookAsStepSays(): void {
  const { lesson, stepTurned, computing } = get();
  const { stage } = view;
  if (!lesson || !stage) return;
  const seen = seenAt(lesson.steps, playhead.place);
  if (seen.over !== stepTurned) {
    set({ stepTurned: seen.over });
    stage.turnOver(isTurned(), !motionReduced());
  }
  if (seen.round !== round) {
    round = seen.round;
    stage.turnTable(round, !motionReduced());
  }
  const here = Math.max(0, stepInto(playhead.place));
  const look = lesson.steps[here]?.look ?? null;
  if (look === shown) return;
  const before = shown;
  shown = look;
  const stays = computing && leftNow();
  if (look && !stays) stage.flyTo(look.eye, !motionReduced());
  if (look || before) setInside({ glass: look?.glass ?? null, fan: look?.fan ?? 0 });
}

/** Keeps how the model is looked at now for a step; a second time lets it go. */
export function keepLook(step: number): void {
  const { lesson } = get();
  const plan = lesson?.steps[step];
  const eye = carryOut.eye();
  if (!plan || !eye) return;
  const { look: _old, ...rest } = plan;
  const { glass, fan } = inside();
  const look: StepLook = {
    eye: { bearing: eye.bearing, fall: eye.fall, zoom: eye.zoom },
    ...(glass && glass !== 'chosen' ? { glass } : {}),
    ...(fan > 0 ? { fan } : {}),
  };
  shown = plan.look ? null : look;
  editLesson('look', (one) => withStep(one, step, plan.look ? rest : { ...rest, look }));
}
