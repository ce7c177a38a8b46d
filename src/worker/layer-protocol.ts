/** What the page and the worker of layers say to each other; numbered like the solver's jobs. */
import type { LayerOrder } from '../core/layer/problem.ts';
import type { Section } from '../core/layer/section.ts';
import type { Stacks } from '../core/layer/stacks.ts';
import type { Lesson } from '../core/lesson/lesson.ts';
import type { TrackPose } from '../core/pose/track.ts';
import type { StepLook } from '../core/run/look.ts';
import type { Sheet } from '../core/sheet/sheet.ts';

export type LayerRequest =
  | {
      readonly kind: 'look';
      readonly job: number;
      readonly lesson: Lesson;
      /** Counted from 0. */
      readonly step: number;
      readonly still: number;
      readonly track: {
        /** With bend lines; null where it is the lesson's own. */
        readonly sheet: Sheet | null;
        readonly panelOf: Int32Array | null;
        readonly poses: readonly TrackPose[];
      };
      /** The state that stands by itself, where no motion got to it. */
      readonly state: Float64Array | null;
      readonly before: LayerOrder;
    }
  /** Layers of a pose on the way; `order` is what is known of the pairs, the surest first. */
  | {
      readonly kind: 'stacks';
      readonly job: number;
      readonly sheet: Sheet;
      readonly angle: Float64Array;
      readonly still: number;
      readonly order: LayerOrder;
    }
  | {
      readonly kind: 'telling';
      readonly job: number;
      readonly sheet: Sheet;
      readonly angle: Float64Array;
      readonly still: number;
      readonly orders: readonly LayerOrder[];
    };

/** A cut that shows what tells several orders of one pose apart. */
interface Telling {
  /** Per order, all cut by the same plane. */
  readonly sections: readonly Section[];
}

export type LayerAnswer =
  | { readonly kind: 'look'; readonly job: number; readonly look: StepLook }
  | { readonly kind: 'stacks'; readonly job: number; readonly stacks: Stacks }
  | { readonly kind: 'telling'; readonly job: number; readonly telling: Telling }
  | { readonly kind: 'broke'; readonly job: number; readonly message: string };
