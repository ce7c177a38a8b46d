/** What the page and the worker of layers say to each other; numbered like the solver's jobs. */
import type { Finding } from '../core/finding/finding.ts';
import type { Lock } from '../core/layer/lock/locks.ts';
import type { LayerConflict, LayerOrder } from '../core/layer/problem.ts';
import type { Stacks } from '../core/layer/stacks.ts';
import type { StepKind } from '../core/lesson/lesson.ts';
import type { Sheet } from '../core/sheet/sheet.ts';

/** A step whose motion is known; its layers are asked for. Angles per crease of the lesson's sheet. */
export interface StepMotion {
  /** Counted from 0. */
  readonly step: number;
  readonly title: string;
  readonly stepKind: StepKind;
  readonly sheet: Sheet;
  /** Length of the longer side, mm. */
  readonly sheetSize: number;
  readonly still: number;
  readonly poses: readonly { readonly at: number; readonly angle: Float64Array }[];
  /** Layer order at the start of the step. */
  readonly before: LayerOrder;
  /** Orders that the teacher asks for at its end. */
  readonly asked: LayerOrder;
}

/** The layers at the end of a step. */
export interface StepLayers {
  /** How many orders are possible, in decimals; "at least" when not `exact`. */
  readonly states: string;
  readonly exact: boolean;
  /** The order taken. Empty where there is none. */
  readonly order: LayerOrder;
  /** Orders to choose from, the one taken first. */
  readonly choices: readonly LayerOrder[];
  /** Per choice: its locks. */
  readonly locks: readonly (readonly Lock[])[];
  /** The teacher has to say which stacking is meant. */
  readonly asks: boolean;
  readonly deepest: number;
  readonly conflict: LayerConflict | null;
  readonly findings: readonly Finding[];
}

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
