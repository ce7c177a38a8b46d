/**
 * What the page and the solver's worker say to each other. Every request carries the number of its job; every
 * answer names the job it belongs to. Bulk data goes as transferred buffers.
 */
import type { DrawnPose } from '../core/drawn/drawn-pose.ts';
import type { Finding } from '../core/finding/finding.ts';
import type { LayerOrder } from '../core/layer/problem.ts';
import type { Lesson } from '../core/lesson/lesson.ts';
import type { LessonNames } from '../core/lesson/lesson-of-sheet.ts';
import type { MotionReport, Stage, TrackPose } from '../core/pose/track.ts';
import type { StepEnd } from '../core/run/step-known.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { LineMapping, StrokeGroup } from '../core/storage/drawing/mapping.ts';
import type { LessonPictures } from '../core/storage/lesson/pictures.ts';

/** How freely the sheet may move. bend: panels may bend; free: kinds do not bound the sign of an angle. */
export interface FoldChoices {
  readonly bend: boolean;
  readonly free: boolean;
}

/** A lesson that is ready to be shown: its sheet as a graph, what each step drives, and what was found. */
export interface ReadyLesson {
  readonly lesson: Lesson;
  readonly sheet: Sheet;
  readonly stages: readonly Stage[];
  readonly findings: readonly Finding[];
  /** How far the worst corner would move, mm, where moving corners a little mends what does not close. */
  readonly trueUp: number | null;
  /** Of the steps, as the file carried them. */
  readonly pictures?: LessonPictures;
}

/** A sheet of a drawing that holds several, for a small picture. */
export interface SheetSample {
  /** From end to end, in the drawing's own unit, y up. */
  readonly strokes: readonly (readonly [number, number, number, number])[];
  readonly creases: number;
}

export type FileFormat = 'lesson' | 'fold' | 'svg' | 'glb' | 'obj';

export type Request =
  | {
      readonly kind: 'open';
      readonly job: number;
      readonly name: string;
      readonly bytes: Uint8Array;
      readonly names: LessonNames;
    }
  /** Says which sheet is meant, from 1, or that all lines are, of the drawing that was opened last. */
  | { readonly kind: 'take-sheet'; readonly job: number; readonly region: number | 'all' }
  /** Answers the mapping step: the drawing is the one that was opened last. */
  | { readonly kind: 'map'; readonly job: number; readonly mapping: LineMapping }
  | {
      readonly kind: 'bake';
      readonly job: number;
      readonly lesson: Lesson;
      readonly choices: FoldChoices;
    }
  /** Stops the job `target`. The answer `cancelled` is the last word about that job. */
  | { readonly kind: 'cancel'; readonly job: number; readonly target: number }
  /** Nearest pose that closes, on the sheet of the given step of the last bake. */
  | { readonly kind: 'correct'; readonly job: number; readonly step: number; readonly angle: Float64Array }
  | {
      readonly kind: 'drag';
      readonly job: number;
      readonly step: number;
      readonly angle: Float64Array;
      readonly still: number;
      readonly vertex: number;
      /** Sheet units, in the frame of the panel that stays still. */
      readonly goal: readonly [number, number, number];
      readonly free: boolean;
    }
  /** The sheet, stages and findings of a lesson that was edited. */
  | { readonly kind: 'rebuild'; readonly job: number; readonly lesson: Lesson }
  | { readonly kind: 'true-up'; readonly job: number; readonly lesson: Lesson }
  | {
      readonly kind: 'write';
      readonly job: number;
      readonly format: FileFormat;
      readonly lesson: Lesson;
      readonly sheet: Sheet;
      readonly angle: Float64Array;
      readonly still: number;
      /** How the pose is drawn, and what is known of its layers; left out where it is not this sheet's own. */
      readonly drawn?: DrawnPose & { readonly order: LayerOrder };
      /** Of the steps, for a lesson file. */
      readonly pictures?: LessonPictures;
    };

export type Answer =
  | { readonly kind: 'ready'; readonly job: number; readonly ready: ReadyLesson }
  | {
      readonly kind: 'asks-sheet';
      readonly job: number;
      readonly title: string;
      readonly sheets: readonly SheetSample[];
    }
  | {
      readonly kind: 'asks-mapping';
      readonly job: number;
      readonly title: string;
      readonly groups: readonly StrokeGroup[];
      readonly guess: LineMapping;
      /** Lines round and beside the sheet that were left out. */
      readonly leftOut: number;
      readonly findings: readonly Finding[];
    }
  | { readonly kind: 'refused'; readonly job: number; readonly findings: readonly Finding[] }
  | { readonly kind: 'pose'; readonly job: number; readonly step: number; readonly pose: TrackPose }
  | {
      readonly kind: 'step';
      readonly job: number;
      readonly step: number;
      /** The track's own sheet where bend lines were added; null where it is the lesson's sheet. */
      readonly sheet: Sheet | null;
      readonly panelOf: Int32Array;
      /** The finished track; it takes the place of the poses sent on the way. */
      readonly poses: readonly TrackPose[];
      /** Share of the step that was reached: 1 unless it fails. */
      readonly reached: number;
      readonly report: MotionReport;
      /** The state that the step is about. */
      readonly end: StepEnd;
    }
  | { readonly kind: 'baked'; readonly job: number }
  | { readonly kind: 'cancelled'; readonly job: number }
  | {
      readonly kind: 'corrected';
      readonly job: number;
      readonly angle: Float64Array;
      readonly closure: number;
      readonly freedoms: number;
      /** Vertices that do not close, with the rotation left over in radians. */
      readonly open: readonly { readonly vertex: number; readonly rotation: number }[];
    }
  | {
      readonly kind: 'dragged';
      readonly job: number;
      readonly angle: Float64Array;
      readonly freedoms: number;
    }
  /** The sheet that was asked about is gone: another lesson is being computed. */
  | { readonly kind: 'gone'; readonly job: number }
  | { readonly kind: 'written'; readonly job: number; readonly bytes: Uint8Array; readonly type: string }
  /** Something broke that no finding describes. */
  | { readonly kind: 'broke'; readonly job: number; readonly message: string };
