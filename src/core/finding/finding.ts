/**
 * The shape of everything the tool reports: a stated problem or remark, with the measured value, the limit it
 * was held against, and the vertices, creases and panels concerned, so that a view can point at the place.
 */

/** error: the question asked cannot be answered with yes; warning: look here; note: good to know. */
type Severity = 'error' | 'warning' | 'note';

/** A code is "thing, then trouble"; every code there is, by what it speaks of. */
export type FindingCode =
  // single vertices of a flat-folding pattern
  | 'vertex-odd-degree'
  | 'vertex-angle-sum'
  | 'vertex-mountain-valley-count'
  | 'vertex-small-angle'
  // given finished angles
  | 'vertex-closure'
  | 'hole-closure'
  // the crease graph
  | 'crease-dangling'
  | 'crease-overlap'
  | 'crease-snapped'
  | 'crease-too-short'
  | 'crease-outside'
  | 'outline-open'
  | 'outline-several'
  | 'outline-missing'
  | 'sheet-empty'
  | 'sheet-disconnected'
  | 'vertex-moved'
  // poses and motions
  | 'motion-bends'
  | 'motion-fails'
  | 'motion-stopped'
  | 'motion-jumps'
  | 'state-missed'
  | 'run-broke'
  | 'kind-flipped'
  | 'panels-cross'
  | 'panels-tight'
  | 'contact-unwatched'
  | 'tuck-blocked'
  | 'panel-out-of-reach'
  | 'layer-none'
  // lessons
  | 'crease-used-before-made'
  | 'crease-never-used'
  | 'crease-too-long'
  | 'crease-wrong-way'
  | 'crease-left-short'
  | 'step-unclear'
  | 'step-too-much'
  // files and how they were read
  | 'file-unreadable'
  | 'file-too-large'
  | 'picture-left-out'
  | 'line-curved'
  | 'line-kind-guessed'
  | 'line-ignored'
  | 'angle-assumed'
  | 'number-invalid'
  | 'step-misses';

export interface Finding {
  readonly code: FindingCode;
  readonly severity: Severity;
  /** One clear sentence: what, where, what to do. */
  readonly message: string;
  /** The measured value, in the unit that the message names. */
  readonly value?: number;
  /** What the value was held against, same unit. */
  readonly limit?: number;
  readonly vertices: readonly number[];
  readonly creases: readonly number[];
  readonly panels: readonly number[];
  /** Places on the flat sheet, in sheet coordinates (see core/sheet/sheet.ts); the border converts to file units. */
  readonly at: readonly (readonly [number, number])[];
}

type Loose = Partial<Omit<Finding, 'code' | 'severity' | 'message'>>;

/** Builds a finding; lists left out are empty. */
export function finding(code: FindingCode, severity: Severity, message: string, more: Loose = {}): Finding {
  return { code, severity, message, vertices: [], creases: [], panels: [], at: [], ...more };
}
