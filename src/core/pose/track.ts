/**
 * What the kinematics answers with: poses along a motion, and a report that says how far it can be trusted.
 */
import type { Finding } from '../finding/finding.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** The four kinds of answer. `bends`: only with panels bending along added bend lines. */
export type Outcome = 'rigid' | 'bends' | 'fails' | 'stopped';

/** What one step is asked to do. Angles in radians, one entry per crease of the sheet. */
export interface Stage {
  /** Angle to reach by the end for a driven crease, NaN for a crease that stays unless closure forces it. */
  readonly target: Float64Array;
  /** 1: this crease runs to its target exactly, the rest adapts. 0 or left out: it is drawn toward the target. */
  readonly exact?: Uint8Array;
  /** Targets on the way, NaN as in `target`: paper is drawn toward each in turn, as far as it lets itself. */
  readonly through?: readonly Float64Array[];
  /** 1: the lesson turns this crease both ways, so that its kind, which tells how it ends, does not bound it. */
  readonly bothWays?: Uint8Array;
  /** Creases that the lesson leaves elsewhere than the pattern has them: where a motion fails they are named first. */
  readonly atOdds?: readonly number[];
}

/** A pose on a track. */
export interface TrackPose {
  /** 0 at the start of the step, 1 at its end. */
  readonly at: number;
  /** Fold angle per crease of the track's sheet, radians. */
  readonly angle: Float64Array;
}

export interface MotionReport {
  readonly outcome: Outcome;
  /** Largest rotation left over at any vertex of any pose, radians. */
  readonly closure: number;
  /** Largest difference between a driven crease and its target at the end, degrees. */
  readonly deviation: number;
  /** Largest bend of a panel along the motion, degrees; 0 for rigid motions. */
  readonly bendDegrees: number;
  /** Largest bend left at the end of the motion, degrees. */
  readonly bendAtEnd: number;
  /** How many times neighbouring poses differed by more than the stated limit. */
  readonly jumps: number;
  /** Freedoms of the last pose. */
  readonly freedoms: number;
  /** Width of the tear, sheet units, when the drives are forced although the motion fails. */
  readonly tear: number;
  /** How many random starts were used, and the seed they came from. */
  readonly starts: number;
  readonly seed: number;
  readonly findings: readonly Finding[];
}

/**
 * The track of one step. `sheet` is the lesson's own sheet, or the same with bend lines added: its own creases keep
 * their numbers, bend lines come after them. `panelOf[p]` is the panel of the lesson's sheet that panel p is part of.
 */
export interface StepTrack {
  readonly sheet: Sheet;
  readonly bendLines: number;
  readonly panelOf: Int32Array;
  readonly poses: readonly TrackPose[];
  readonly report: MotionReport;
}
