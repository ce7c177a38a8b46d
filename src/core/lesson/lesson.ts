/**
 * A lesson as plain data: what the teacher's one file holds. Everything computed (poses, layers, outcomes) is
 * left out on purpose; it is found anew from this.
 */
import type { LineKind } from '../sheet/kind.ts';

export const lessonFormat = 'creaseway-lesson';
/** Of the files written now; `storage/lesson/upgrade.ts` brings earlier ones to it. */
export const lessonVersion = 4;

/** One line of the pattern: x1, y1, x2, y2 in pattern units, its kind, and its finished fold angle in degrees. */
export interface PatternLine {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly kind: LineKind;
  /** Finished fold angle, degrees, valley positive. Left out: a half turn for mountain and valley, else none. */
  readonly angle?: number;
}

/** Vertices (pattern units), creases by their ends, and panels by the vertices round them, each in the order of its number. */
export interface PatternNumbers {
  readonly vertices: readonly (readonly [number, number])[];
  readonly creases: readonly (readonly [number, number])[];
  readonly panels: readonly (readonly number[])[];
}

/** The two sides of the paper. Side A is the colour side, side B the white side. */
export interface SideLook {
  readonly name: string;
  /** #rrggbb */
  readonly colour: string;
}

export type StepKind =
  | 'precrease'
  | 'pinch'
  | 'fold'
  | 'collapse'
  | 'tuck'
  | 'lock'
  | 'turn-over'
  | 'rotate'
  | 'note';

/**
 * One order of a step: every crease that lies on the line from `from` to `to` (pattern units) is to reach `angle`
 * (degrees) by the end of the step. Creases that no drive names stay where they are unless closure forces them.
 */
export interface Drive {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly angle: number;
}

/**
 * A stacking that the teacher means: the layer at one point of the pattern lies over (`up`) or under (`down`) the
 * layer at another, seen from the side of that one which faced up at the start.
 */
export interface StepOrder {
  readonly layer: readonly [number, number];
  readonly side: 'up' | 'down';
  readonly of: readonly [number, number];
}

/** A crease that is folded and unfolded before it is needed, along a line in pattern units. */
export interface MadeCrease {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  /** The side that faces up while it is made, as a valley; left out where it does not matter. */
  readonly side?: 'a' | 'b';
  /** How its place is found, in the folder's words. */
  readonly landmark?: string;
  /** A pinch marks only a place and is no fold of the model. */
  readonly pinch?: boolean;
}

/** How a step is looked at: where the eye stands, and what is open inside. Angles in radians. */
export interface StepLook {
  readonly eye: { readonly bearing: number; readonly fall: number; readonly zoom: number };
  readonly glass?: 'all' | 'front';
  /** How far the layers are pulled apart, 0 to 1. */
  readonly fan?: number;
}

export interface Step {
  readonly title: string;
  readonly sentence: string;
  readonly kind: StepKind;
  readonly drives: readonly Drive[];
  /** Poses on the way, each as what is driven there: paper is drawn toward one after the other before `drives` count. */
  readonly through?: readonly (readonly Drive[])[];
  /** How far a step that rotates turns the model on the table, degrees, counter-clockwise positive; 90 where left out. */
  readonly turn?: number;
  /** Left out of the folding, but kept. */
  readonly off?: boolean;
  /** Made by the tool for a pattern that came without steps; edited, it is the teacher's own. */
  readonly assumed?: boolean;
  /** Minutes that the teacher gives it. */
  readonly minutes?: number;
  readonly look?: StepLook;
  /** Creases that a precrease or pinch step makes. */
  readonly makes?: readonly MadeCrease[];
  /** How the fold is located, in the folder's words; and the marks, in pattern units, that it is located by. */
  readonly landmark?: string;
  readonly landmarkAt?: readonly (readonly [number, number])[];
  /** Stackings meant at the end of the step, where the folds leave more than one. */
  readonly orders?: readonly StepOrder[];
}

export const permissions = ['own', 'traditional', 'asked', 'granted', 'refused', 'unknown'] as const;
export const uses = ['teach-free', 'teach-paid', 'film', 'print', 'post'] as const;

/** Whose model it is and what may be done with it, as the teacher states it; nothing is judged from it. */
export interface Credit {
  readonly maker: string;
  /** In the teacher's own words. */
  readonly status: string;
  /** Where the model was found. */
  readonly source?: string;
  readonly permission?: (typeof permissions)[number];
  readonly allowed?: readonly (typeof uses)[number][];
  /** When it was allowed, in the teacher's own words. */
  readonly date?: string;
}

/** What a class can do, as its teacher sets it. */
export interface ClassLimits {
  /** Creases that may start to move at once in a collapse. */
  readonly creasesAtOnce: number;
  /** How often the sheet may be turned over before it is collapsed. */
  readonly turnOvers: number;
}

/** What the teacher calls a panel: the one that holds a point of the flat sheet (pattern units). */
export interface PartName {
  readonly at: readonly [number, number];
  readonly name: string;
}

export interface Lesson {
  readonly format: typeof lessonFormat;
  readonly version: typeof lessonVersion;
  readonly title: string;
  readonly place: string;
  readonly credit: Credit;
  readonly sheet: {
    /** Length of the longer side of the outline's box, mm. */
    readonly size: number;
    /** The size was not said by the file that the pattern came from; nothing in mm may be told of it as known. */
    readonly sizeAssumed?: boolean;
    /** Thickness of the paper, mm; 0.1 where it is not known. */
    readonly thickness?: number;
    /** Length of a second sheet of the same pattern, mm, that makes a lid for the first. */
    readonly lidSize?: number;
    readonly sideUp: 'a' | 'b';
    readonly sides: { readonly a: SideLook; readonly b: SideLook };
  };
  readonly pattern: {
    /** Outline corners in order, pattern units. */
    readonly outline: readonly (readonly [number, number])[];
    readonly lines: readonly PatternLine[];
    /** Left out where the strokes as they stand are numbered alike. */
    readonly numbers?: PatternNumbers;
  };
  /** Creases made before the first step. */
  readonly precreases?: readonly MadeCrease[];
  /** A point (pattern units) of the panel that stays still; left out, the largest on screen, the first on the command line. */
  readonly still?: readonly [number, number];
  /** Panels that have a name. */
  readonly parts?: readonly PartName[];
  readonly steps: readonly Step[];
  readonly limits?: ClassLimits;
}

/** Nobody asked that the creases of such a step move together: its way is no part of what is taught. */
export const isAssumed = ({ assumed, off }: Step): boolean => assumed === true && !off;

/** How far a step that rotates turns the model where it does not say, degrees: a quarter turn. */
export const usualTurn = 90;

/** For adults with some practice; novices manage 4 creases at once. Common practice, no source. */
export const usualLimits: ClassLimits = { creasesAtOnce: 24, turnOvers: 2 };

/** Length of the longer side of a sheet, mm: what is smaller or larger is not kept and not read. */
export const sheetSizes = { least: 1, most: 100_000 } as const;

export { USUAL_THICKNESS as usualThickness } from '../numeric/tolerance.ts';
