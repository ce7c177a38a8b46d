/** What the page and the worker of layers say to each other; numbered like the solver's jobs. */
import type { LayerOrder } from '../core/layer/problem.ts';
import type { Stacks } from '../core/layer/stacks.ts';
import type { StepLayers, StepMotion } from '../core/lesson/step-layers.ts';
import type { Sheet } from '../core/sheet/sheet.ts';

export type LayerRequest =
  | { readonly kind: 'step'; readonly job: number; readonly motion: StepMotion }
  /** Layers of a pose on the way; `order` is what is known of the pairs, the surest first. */
  | {
      readonly kind: 'stacks';
      readonly job: number;
      readonly sheet: Sheet;
      readonly angle: Float64Array;
      readonly still: number;
      readonly order: LayerOrder;
    };

export type LayerAnswer =
  | { readonly kind: 'layers'; readonly job: number; readonly layers: StepLayers }
  | { readonly kind: 'stacks'; readonly job: number; readonly stacks: Stacks }
  | { readonly kind: 'broke'; readonly job: number; readonly message: string };
