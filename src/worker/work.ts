/** What can be asked of the workers, whatever runs them: `client.ts` and its like have a worker do it. */

import type { Finding } from '../core/finding/finding.ts';
import type { Section } from '../core/layer/section.ts';
import type { Stacks } from '../core/layer/stacks.ts';
import type { Mend } from '../core/lesson/check/mends.ts';
import type { Lesson } from '../core/lesson/lesson.ts';
import type { LessonNames } from '../core/lesson/plain-sides.ts';
import type { StepLook } from '../core/run/look.ts';
import type { Broken } from '../core/run/step-known.ts';
import type { WrongFold, WrongLook } from '../core/run/what-if.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { LineMapping } from '../core/storage/drawing/mapping.ts';
import type { Broke, Cancelled } from './answers.ts';
import type { FileAnswer, ReadingStage } from './file-protocol.ts';
import type { LayerRequest } from './layer-protocol.ts';
import type { Answer, FileFormat, FoldChoices, Request } from './protocol.ts';

/** Anything that may come back. */
export type Reply = Answer | Broke | Cancelled;

type Unnamed<T> = Omit<T, 'kind' | 'job'>;
export type Asked<K extends Request['kind']> = Unnamed<Extract<Request, { kind: K }>>;
export type LayersAsked<K extends LayerRequest['kind']> = Unnamed<Extract<LayerRequest, { kind: K }>>;

export interface SolverWork {
  trueUp(lesson: Lesson): Promise<Reply>;
  rebuild(lesson: Lesson): Promise<Reply>;
  write(format: FileFormat, what: Omit<Asked<'write'>, 'format'>): Promise<Reply>;
  correct(step: number, angle: Float64Array): Promise<Reply>;
  drag(what: Asked<'drag'>): Promise<Reply>;
  /** Computes the tracks of all steps; answers come to `listen` until the job ends. @returns the job's number */
  bake(lesson: Lesson, choices: FoldChoices, listen: (answer: Reply) => void): number;
  /** Stops a job; resolves when the worker has answered, after which nothing of the job is heard. */
  cancel(job: number): Promise<void>;
}

/** Hears what is being done, as long as a file is read. */
export type ToldStage = (stage: ReadingStage) => void;

export type FileReply = Exclude<FileAnswer, { kind: 'stage' }> | Broke | Cancelled;

export interface FileWork {
  /** Opens a file; resolves with the lesson, the question which sheet or what its lines are, or the refusal. */
  open(name: string, bytes: Uint8Array, names: LessonNames, told: ToldStage): Promise<FileReply>;
  /** Says which sheet of the drawing that was opened last is meant, from 1, or that all lines are. */
  takeSheet(region: number | 'all', told: ToldStage): Promise<FileReply>;
  /** Says which page of the file that was opened last is meant. */
  takePage(page: number, told: ToldStage): Promise<FileReply>;
  map(mapping: LineMapping, told: ToldStage): Promise<FileReply>;
  /** Ends whatever is being read or asked. */
  cancel(): void;
}

export interface LayerWork {
  /** Layers at the end of a step and what is met on the way; null when cancelled. */
  look(what: LayersAsked<'look'>): Promise<StepLook | Broken | null>;
  /** The layers of a pose; null when cancelled or broken. */
  stacks(pose: LayersAsked<'stacks'>): Promise<Stacks | null>;
  /** Cuts that tell several orders of a pose apart; empty when cancelled or broken. */
  telling(pose: LayersAsked<'telling'>): Promise<readonly Section[]>;
  /** Ends whatever runs; what waits is answered with null. */
  cancel(): void;
}

export interface MendWork {
  /** The mend of a finding that was tried and does it; null where there is none. */
  mendFor(lesson: Lesson, choices: FoldChoices, finding: Finding): Promise<Mend | null>;
  /** Ends whatever runs; what waits is answered with null. */
  cancel(): void;
}

export interface WrongWork {
  /** Folds a likely mistake; null when it was ended. */
  foldWrongly(sheet: Sheet, start: Float64Array, fold: WrongFold): Promise<WrongLook | Broken | null>;
  end(): void;
}
