import { type Finding, type FindingCode, finding } from '../finding/finding.ts';
import { COORDINATE_LIMIT } from './limits.ts';

/** Thrown inside the readers when a file cannot be used; `openFile` turns it into a finding. */
export class Refusal extends Error {
  readonly finding: Finding;

  /** `sentence` says what, where, and what to do. */
  constructor(sentence: string, code: FindingCode = 'file-unreadable', more: Partial<Finding> = {}) {
    super(sentence);
    this.finding = { ...finding(code, 'error', sentence), ...more };
  }
}

/**
 * Reads a number of a file. `where` names its place for the sentence.
 * Throws a Refusal for text that is no number, for infinities and for coordinates beyond the limit.
 */
export function readNumber(text: string, where: string): number {
  const trimmed = text.trim();
  return checkNumber(trimmed === '' ? Number.NaN : Number(trimmed), where, trimmed);
}

/** The same check for a value that is a number already. */
export function checkNumber(value: unknown, where: string, shown: unknown = value): number {
  if (typeof value === 'number' && Math.abs(value) <= COORDINATE_LIMIT) return value;
  const text = shownInSentence(shown);
  const trouble =
    typeof value === 'number' && !Number.isNaN(value)
      ? `is larger than ${COORDINATE_LIMIT}, which no sheet needs`
      : 'is not a number';
  throw new Refusal(
    `At ${where}, "${text}" ${trouble}: correct it and open the file again.`,
    'number-invalid',
  );
}

/** A value from a file, short enough for a sentence. Lists and objects are named only: they may be endless. */
export function shownInSentence(value: unknown): string {
  if (Array.isArray(value)) return 'a list';
  return typeof value === 'object' && value !== null ? 'an object' : String(value).slice(0, 40);
}
