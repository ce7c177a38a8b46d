/** What is known of a step, and the answers to its questions that follow from it. */
import { MISS } from '../numeric/tolerance.ts';
import type { StepTrack } from '../pose/track.ts';
import type { StepLook } from './look.ts';
import { type Reply, type Verdict, verdictOf } from './verdict.ts';

/** Something that failed although no finding describes it, such as a worker that could not be loaded. */
export interface Broken {
  readonly broke: string;
}

export const isBroken = (known: unknown): known is Broken =>
  typeof known === 'object' && known !== null && 'broke' in known;

/** All that is known of a step so far; null: not looked at yet. */
export interface StepKnown {
  readonly motion: MotionKnown | Broken | null;
  readonly look: StepLook | Broken | null;
}

/** What the motion of a step has to say, without its poses. */
export interface MotionKnown {
  readonly report: StepTrack['report'];
  readonly end: Omit<StepEnd, 'angle'>;
}

/**
 * The state that a step is about: where its track ends; or what was asked, where that is a state of its own and no
 * motion got there; or where paper came to rest.
 */
export interface StepEnd {
  /** Per crease of the lesson's sheet, radians. */
  readonly angle: Float64Array;
  readonly closes: boolean;
  /** Largest difference from the angles asked for, degrees. */
  readonly deviation: number;
  /** It stands by itself: no motion that was found leads to it. */
  readonly alone: boolean;
}

const degrees = 180 / Math.PI;

/** The answers of a step, from what is known of it. */
export function verdictOfStep({ motion, look }: StepKnown): Verdict {
  return verdictOf((question): Reply => {
    if (question === 'layers' || question === 'contact')
      return look === null ? 'not-looked' : isBroken(look) ? 'broke' : look.replies[question];
    if (motion === null) return 'not-looked';
    if (isBroken(motion)) return 'broke';
    const { report, end } = motion;
    if (question === 'closes') return end.closes ? 'yes' : 'no';
    if (question === 'moves') return moved[report.outcome];
    if (end.closes && end.deviation <= MISS * degrees) return 'yes';
    return report.outcome === 'stopped' ? 'gave-up' : 'no';
  });
}

const moved = { rigid: 'yes', bends: 'bends', fails: 'no', stopped: 'gave-up' } as const;
