/**
 * What the desk needs of the world round it: time, storage, workers, the shelf, and a screen if there is one. The page
 * gives it the browser's (interface/browser.ts), tests give it plain ones, so that a session runs without a screen.
 */

import type { Leaves } from '../core/layer/leaves.ts';
import type { EyePlace } from '../core/lesson/eye.ts';
import type { Seen } from '../core/lesson/seen.ts';
import type { Space } from '../core/numeric/vector.ts';
import type { RestVerdict } from '../core/pose/stands.ts';
import type { Hold, ShelfOfLessons } from '../keep/kept.ts';
import type { FileWork, LayerWork, MendWork, SolverWork, WrongWork } from '../worker/work.ts';
import type { PlacedPose } from './play/board.ts';

/** Ends something that was begun. */
export type End = () => void;

export interface Clock {
  /** Milliseconds since some moment. */
  now(): number;
  /** Calls once, after so many milliseconds. */
  later(call: () => void, milliseconds: number): End;
  /** Calls once, before the next picture is drawn, with the time in milliseconds. */
  frame(call: (now: number) => void): End;
}

/** Small texts that are kept: of this browser, and of this tab. Where storage is switched off they read as null. */
export interface Memory {
  read(of: 'browser' | 'tab', name: string): string | null;
  write(of: 'browser' | 'tab', name: string, text: string): void;
}

/** The handle of the slice, the sentence of the step, the box for a place by numbers, or one room after the other. */
export type PagePart = 'slice' | 'words' | 'place' | 'next room';

/** What the page itself is asked to do. */
export interface Page {
  /** Lets the teacher choose a file. */
  readonly chooseFile: () => void;
  /** Moves the keyboard there, once it is drawn. */
  readonly focus: (part: PagePart) => void;
}

export interface Around {
  readonly page: Page;
  readonly clock: Clock;
  readonly memory: Memory;
  readonly files: FileWork;
  readonly solver: SolverWork;
  readonly layers: LayerWork;
  readonly mends: MendWork;
  /** A worker that folds likely mistakes; ended with its panel. */
  readonly startWrongs: () => WrongWork;
  readonly shelf: ShelfOfLessons;
  readonly hold: (id: string, later: () => void) => Hold;
  /** Tells other tabs that the shelf changed, and hears it from them. */
  readonly others: { readonly tell: () => void; readonly hear: (call: () => void) => void };
  /** A file that is served beside the page. Throws where it cannot be had. */
  readonly fetchFile: (path: string) => Promise<Uint8Array<ArrayBuffer>>;
  /** Hands a file to the teacher. */
  readonly handOver: (name: string, bytes: Uint8Array, type: string) => void;
  /** Asks the browser not to drop what is kept when room runs short. */
  readonly askToPersist: () => void;
  /** Does this person want things to stay still? */
  readonly motionReduced: () => boolean;
  readonly prefersDark: () => boolean;
  /** A name that nobody else has. */
  readonly newId: () => string;
}

export interface FallMoment {
  readonly position: readonly number[];
  readonly quaternion: readonly number[];
}

/** What the pointer meets on the model. */
export interface Picked {
  readonly panel: number;
  readonly flat: readonly [number, number];
  readonly side: 1 | -1;
  readonly distance: number;
}

/** A small picture of a pose. */
export interface PictureWish {
  /** Pixels. */
  readonly width: number;
  readonly height: number;
  /** How the model lies before its reader. */
  readonly seen: Seen;
  /** The paper began with its other side up. */
  readonly otherSideUp: boolean;
}

/** The model's stage, as far as the desk asks something of it. */
export interface Screen {
  /** Where the eye stands, and where in the model's own frame. */
  readonly eye: EyePlace;
  readonly eyeInModel: Space;
  /** The leaves as they are drawn; null before the first picture. */
  readonly leaves: Leaves | null;
  readonly extent: { readonly width: number; readonly height: number };
  pick(x: number, y: number, reach: number): Picked | null;
  flyTo(eye: EyePlace, ease: boolean): void;
  turnOver(turned: boolean, ease: boolean): void;
  turnTable(angle: number, ease: boolean): void;
  /** Another lesson lies on the table. */
  begin(): void;
  /** The room that the model may fill is another. */
  remeasure(): void;
  /** A track has ended, or another order is known: the step's small picture is taken. */
  takePicture(step: number): void;
  picture(pose: PlacedPose, wish: PictureWish): Promise<string | null>;
  setOnTable(
    pose: PlacedPose,
    turned: boolean,
  ): Promise<{ readonly verdict: RestVerdict; readonly moments: readonly FallMoment[] }>;
  setRest(moment: FallMoment | null): void;
}

/** The screen, while there is one: the page may be without graphics. */
export class ScreenPlace {
  now: Screen | null = null;

  /** @returns a call that takes it away */
  attach(screen: Screen): End {
    this.now = screen;
    return () => {
      if (this.now === screen) this.now = null;
    };
  }
}
