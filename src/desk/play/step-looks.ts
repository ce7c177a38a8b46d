/** How each step is looked at: turned over as the steps say, and from the place that the teacher kept for it. */
import { withStep } from '../../core/lesson/edit-steps.ts';
import type { EyePlace } from '../../core/lesson/eye.ts';
import type { Lesson, StepLook } from '../../core/lesson/lesson.ts';
import { seenAt } from '../../core/lesson/seen.ts';
import type { Around, End, ScreenPlace } from '../around.ts';
import type { Store } from '../store.ts';
import { type Playhead, stepInto } from './playhead.ts';

export class StepLooks {
  /** The step whose look is shown; a look counts when its step is entered, so that the hand may turn the model after. */
  private shown: StepLook | null = null;
  /** How far the steps up to the slider have turned the model round, radians. */
  private round = 0;
  /** Where the eye stood when a lesson was left: it stays there until all is computed and the slider moves on. */
  private left: { readonly lesson: Lesson | null; readonly eye: EyePlace } | null = null;

  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
    private readonly screen: ScreenPlace,
    private readonly motionReduced: Around['motionReduced'],
  ) {}

  begin(): End {
    const ends = [
      this.playhead.subscribe(() => this.follow()),
      this.store.subscribe((now, before) => {
        if (now.document.lesson !== before.document.lesson) this.follow();
      }),
    ];
    return () => {
      for (const end of ends) end();
    };
  }

  eyeNow(): EyePlace | null {
    return this.screen.now?.eye ?? this.leftNow;
  }

  /** Takes the eye to where it stood when the lesson was left, as soon as the stage is there. */
  standAsLeft(eye: EyePlace | null = this.leftNow): void {
    this.left = eye && { lesson: this.store.document.lesson, eye };
    const screen = this.screen.now;
    if (!screen) return;
    this.follow();
    if (eye) screen.flyTo(eye, false);
  }

  /** Keeps how the model is looked at now for a step; a second time lets it go. @returns the lesson so changed */
  withLook(lesson: Lesson, step: number): Lesson {
    const plan = lesson.steps[step];
    const eye = this.screen.now?.eye;
    if (!plan || !eye) return lesson;
    const { look: _old, ...rest } = plan;
    const { glass, fan } = this.store.inside;
    const look: StepLook = {
      eye: { bearing: eye.bearing, fall: eye.fall, zoom: eye.zoom },
      ...(glass && glass !== 'chosen' ? { glass } : {}),
      ...(fan > 0 ? { fan } : {}),
    };
    this.shown = plan.look ? null : look;
    return withStep(lesson, step, plan.look ? rest : { ...rest, look });
  }

  private get leftNow(): EyePlace | null {
    return this.left && this.left.lesson === this.store.document.lesson ? this.left.eye : null;
  }

  private follow(): void {
    const { lesson } = this.store.document;
    const screen = this.screen.now;
    if (!lesson || !screen) return;
    const ease = !this.motionReduced();
    const { place } = this.playhead;
    const { over, round } = seenAt(lesson.steps, place);
    if (over !== this.store.look.stepTurned) {
      this.store.put({ look: { stepTurned: over } });
      screen.turnOver(this.store.isTurned, ease);
    }
    if (round !== this.round) {
      this.round = round;
      screen.turnTable(round, ease);
    }
    this.showLook(lesson.steps[Math.max(0, stepInto(place))]?.look ?? null, ease);
  }

  private showLook(look: StepLook | null, ease: boolean): void {
    if (look === this.shown) return;
    const before = this.shown;
    this.shown = look;
    const stays = this.store.run.computing && this.leftNow;
    if (look && !stays) this.screen.now?.flyTo(look.eye, ease);
    if (look || before) this.store.put({ inside: { glass: look?.glass ?? null, fan: look?.fan ?? 0 } });
  }
}
