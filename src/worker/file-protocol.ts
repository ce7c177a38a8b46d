/** What the page and the worker that reads files say to each other. */
import type { Finding } from '../core/finding/finding.ts';
import type { LineMapping, StrokeGroup } from '../core/storage/drawing/mapping.ts';
import type { ReadyLesson } from './protocol.ts';

/** Lines end to end, four numbers each: x and y of both ends, in the drawing's own unit, y up. */
export type DrawnLines = Float64Array<ArrayBuffer>;

/** A sheet of a drawing that holds several, for a small picture. */
export interface SheetSample {
  readonly lines: DrawnLines;
  readonly creases: number;
}

/** What a teacher needs to see of a drawing to say what its lines mean. */
export interface AskedDrawing {
  readonly title: string;
  readonly groups: readonly StrokeGroup[];
  /** Filled in for every group. */
  readonly guess: LineMapping;
  readonly lines: DrawnLines;
  /** Index into `groups` of each line. */
  readonly groupOf: Int32Array<ArrayBuffer>;
  /** Lines round and beside the sheet, which were left out. */
  readonly aside: DrawnLines;
}

/** What is being done with a file that takes its time. */
export type ReadingStage = 'reading' | 'sorting' | 'joining';

export type FileRequest =
  | { readonly kind: 'open'; readonly job: number; readonly name: string; readonly bytes: Uint8Array }
  /** Says which sheet is meant, from 1, or that all lines are, of the drawing that was opened last. */
  | { readonly kind: 'take-sheet'; readonly job: number; readonly region: number | 'all' }
  /** Answers the mapping step: the drawing is the one that was opened last. */
  | { readonly kind: 'map'; readonly job: number; readonly mapping: LineMapping };

export type FileAnswer =
  | { readonly kind: 'stage'; readonly job: number; readonly stage: ReadingStage }
  | { readonly kind: 'ready'; readonly job: number; readonly ready: ReadyLesson }
  | { readonly kind: 'refused'; readonly job: number; readonly findings: readonly Finding[] }
  | {
      readonly kind: 'asks-sheet';
      readonly job: number;
      readonly title: string;
      readonly sheets: readonly SheetSample[];
    }
  | { readonly kind: 'asks-mapping'; readonly job: number; readonly asked: AskedDrawing };
