/** What findings on a lesson tell. Lines and places in the pattern's own unit. */
import type { Place, StepNamed } from './place.ts';

/** A step; null: before the first. */
interface InStep {
  readonly step: StepNamed | null;
}

interface OnLine extends InStep {
  readonly from: Place;
  readonly to: Place;
}

/** What a learner asks and a step leaves open. */
export type OpenQuestion = 'what' | 'flap' | 'landmark';

export interface LessonValues {
  'crease-used-before-made':
    | (InStep & { readonly how: 'none-made' | 'crease' })
    | (InStep & { readonly how: 'mark'; readonly at: Place });
  'crease-never-used': (OnLine & { readonly how: 'made' }) | { readonly how: 'drawn' };
  /** `by` in mm */
  'crease-too-long': OnLine & { readonly by: number };
  /** `all`: all of the line folds the other way */
  'crease-wrong-way': OnLine & { readonly side: 'a' | 'b'; readonly all: boolean };
  'step-unclear':
    | (OnLine & { readonly how: 'landmark' })
    | (InStep & { readonly how: 'questions'; readonly open: readonly OpenQuestion[] });
  'step-too-much':
    | (InStep & { readonly how: 'creases'; readonly count: number; readonly most: number })
    | { readonly how: 'turns'; readonly count: number; readonly most: number };
  'step-misses':
    | (InStep & { readonly how: 'order'; readonly layer: Place; readonly of: Place })
    | (OnLine & { readonly how: 'no-crease' })
    | (OnLine & { readonly how: 'two-angles'; readonly angle: number });
}
