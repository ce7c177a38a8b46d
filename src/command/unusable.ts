import type { CommandLine } from '../words/language.ts';

/** Thrown when the call or the file cannot be used: one sentence on standard error, exit code 2. */
export class Unusable extends Error {
  /** @param told the sentence, once the words are there */
  constructor(readonly told: (say: CommandLine) => string) {
    super('unusable');
  }
}
