/** What the page and the worker that reads files say to each other. */
import type { Finding } from '../core/finding/finding.ts';
import type { LessonNames } from '../core/lesson/plain-sides.ts';
import type { LineMapping, StrokeGroup } from '../core/storage/drawing/mapping.ts';
import type { ReadyLesson } from './protocol.ts';

/** Lines end to end, four numbers each: x and y of both ends, in the drawing's own unit, y up. */
export type DrawnLines = Float64Array<ArrayBuffer>;

/** One of several sheets of a drawing, or of several pages of a file, for a small picture. */
export interface Sample {
  /** Counted from 1. */
  readonly number: number;
  readonly lines: DrawnLines;
  /** Creases of a sheet, lines of a page. */
  readonly count: number;
}

/** What has to be said before anything else: which sheet, or which page, is meant. */
export interface AskedWhich {
  readonly of: 'sheet' | 'page';
  readonly title: string;
  readonly samples: readonly Sample[];
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
  /** The picture that it was read from; lines are in its pixels then, y up. */
  readonly picture?: AskedPicture;
}

export interface AskedPicture {
  readonly width: number;
  readonly height: number;
  /** RGBA, row by row from the top. */
  readonly pixels: Uint8ClampedArray<ArrayBuffer>;
  /** 1 for each line that has to be looked at. */
  readonly doubtful: Uint8Array<ArrayBuffer>;
  /** Ink that no line explains: where, and how far it reaches. */
  readonly unexplained: readonly { readonly x: number; readonly y: number; readonly length: number }[];
}

/** What is being done with a file that takes its time. */
export type ReadingStage = 'reading' | 'sorting' | 'joining';

export type FileRequest =
  | {
      readonly kind: 'open';
      readonly job: number;
      readonly name: string;
      readonly bytes: Uint8Array;
      /** What is called so where the file gives no name. */
      readonly names: LessonNames;
    }
  /** Says which sheet is meant, from 1, or that all lines are, of the drawing that was opened last. */
  | { readonly kind: 'take-sheet'; readonly job: number; readonly region: number | 'all' }
  /** Says which page of the file that was opened last is meant. */
  | { readonly kind: 'take-page'; readonly job: number; readonly page: number }
  /** Answers the mapping step: the drawing is the one that was opened last. */
  | { readonly kind: 'map'; readonly job: number; readonly mapping: LineMapping };

export type FileAnswer =
  | { readonly kind: 'stage'; readonly job: number; readonly stage: ReadingStage }
  | { readonly kind: 'ready'; readonly job: number; readonly ready: ReadyLesson }
  | { readonly kind: 'refused'; readonly job: number; readonly findings: readonly Finding[] }
  | { readonly kind: 'asks-which'; readonly job: number; readonly asked: AskedWhich }
  | { readonly kind: 'asks-mapping'; readonly job: number; readonly asked: AskedDrawing };
