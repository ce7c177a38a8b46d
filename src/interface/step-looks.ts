/** How each step is looked at: turned over as the steps say, and from the place that the teacher kept for it. */
import { withStep } from '../core/lesson/edit-steps.ts';
import type { StepLook } from '../core/lesson/lesson.ts';
import { view } from './actions.ts';
import { carryOut, editLesson } from './edits.ts';
import { inside, setInside } from './inside-store.ts';
import { motionReduced } from './player.ts';
import { playhead } from './playhead.ts';
import { get, isTurned, set } from './store.ts';

/** The step whose look is shown; a look counts when its step is entered, so that the hand may turn the model after. */
let shown: StepLook | null = null;

/** Follows the slider. */
export function lookAsStepSays(): void {
  const { lesson, stepTurned } = get();
  const { stage } = view;
  if (!lesson || !stage) return;
  // a step that turns over does so half-way
  const turns = lesson.steps.filter(
    ({ kind, off }, k) => kind === 'turn-over' && !off && playhead.place >= k + 0.5,
  ).length;
  if ((turns % 2 === 1) !== stepTurned) {
    set({ stepTurned: !stepTurned });
    stage.turnOver(isTurned(), !motionReduced());
  }
  const here = Math.max(0, Math.ceil(playhead.place - 1e-6) - 1);
  const look = lesson.steps[here]?.look ?? null;
  if (look === shown) return;
  const left = shown;
  shown = look;
  if (look) stage.flyTo(look.eye, !motionReduced());
  if (look || left) setInside({ glass: look?.glass ?? null, fan: look?.fan ?? 0 });
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
