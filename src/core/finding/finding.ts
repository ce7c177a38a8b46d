/**
 * The shape of everything the tool reports: a stated problem or remark, with the measured value, the limit it
 * was held against, and the vertices, creases and panels concerned, so that a view can point at the place.
 */

import type { FindingValues } from './values.ts';

/** error: the question asked cannot be answered with yes; warning: look here; note: good to know. */
type Severity = 'error' | 'warning' | 'note';

/** A code is "thing, then trouble"; every code there is, by what it speaks of, stands with its values in values/. */
export type FindingCode = keyof FindingValues;

/** A finding of one code. No sentence: words make it from code and values. */
export interface FindingOf<C extends FindingCode> {
  readonly code: C;
  readonly severity: Severity;
  /** What its sentence tells, beside the numbers and lists here below. */
  readonly values: FindingValues[C];
  /** The measured value, in the unit that the sentence names. */
  readonly value?: number;
  /** What the value was held against, same unit. */
  readonly limit?: number;
  readonly vertices: readonly number[];
  readonly creases: readonly number[];
  readonly panels: readonly number[];
  /** Places on the flat sheet, in sheet coordinates (see core/sheet/sheet.ts); the border converts to file units. */
  readonly at: readonly (readonly [number, number])[];
}

export type Finding = { [C in FindingCode]: FindingOf<C> }[FindingCode];

type Loose = Partial<Omit<FindingOf<FindingCode>, 'code' | 'severity' | 'values'>>;

/** Builds a finding; lists left out are empty. */
export function finding<C extends FindingCode>(
  code: C,
  severity: Severity,
  values: FindingValues[C],
  more: Loose = {},
): FindingOf<C> {
  return { code, severity, values, vertices: [], creases: [], panels: [], at: [], ...more };
}
