import { type Finding, type FindingCode, finding } from '../finding/finding.ts';
import type { Shown } from '../finding/values/file.ts';
import type { FilePlace } from '../finding/values/place.ts';
import type { FindingValues } from '../finding/values.ts';
import { COORDINATE_LIMIT } from './limits.ts';

/** Thrown inside the readers when a file cannot be used; `openFile` turns it into a finding. */
export class Refusal extends Error {
  readonly finding: Finding;

  constructor(finding: Finding) {
    super(finding.code);
    this.finding = finding;
  }
}

/** What is thrown for a file that cannot be used. */
export function refusal<C extends FindingCode>(
  code: C,
  values: FindingValues[C],
  more: { readonly value?: number; readonly limit?: number } = {},
): Refusal {
  return new Refusal(finding(code, 'error', values, more) as Finding);
}

/** The same for a file that cannot be read. */
export const unreadable = (values: FindingValues['file-unreadable']): Refusal =>
  refusal('file-unreadable', values);

/**
 * Reads a number of a file. `place` says where it stands.
 * Throws a Refusal for text that is no number, for infinities and for coordinates beyond the limit.
 */
export function readNumber(text: string, place: FilePlace): number {
  const trimmed = text.trim();
  return checkNumber(trimmed === '' ? Number.NaN : Number(trimmed), place, trimmed);
}

/** The same check for a value that is a number already. */
export function checkNumber(value: unknown, place: FilePlace, written: unknown = value): number {
  if (typeof value === 'number' && Math.abs(value) <= COORDINATE_LIMIT) return value;
  const shown = shownIn(written);
  if (typeof value === 'number' && !Number.isNaN(value))
    throw refusal('number-invalid', { how: 'too-large', place, shown, most: COORDINATE_LIMIT });
  throw refusal('number-invalid', { how: 'no-number', place, shown });
}

/** A value from a file, short enough for a sentence. Lists and objects are named only: they may be endless. */
export function shownIn(value: unknown): Shown {
  if (Array.isArray(value)) return { how: 'list' };
  if (typeof value === 'object' && value !== null) return { how: 'object' };
  return { how: 'text', text: String(value).slice(0, 40) };
}
