/** What a language has to say: every text of English, in its own words. */
import type { commandLine } from './english/command-line.ts';
import type { english } from './english/english.ts';
import type { sentences } from './english/findings.ts';

/** Texts of the same shape in other words. */
type Texts<T> = T extends string
  ? string extends T
    ? string
    : T extends 'ltr' | 'rtl'
      ? 'ltr' | 'rtl'
      : string
  : T extends (...told: infer Told) => infer Said
    ? (...told: Told) => Texts<Said>
    : T extends object
      ? { [K in keyof T]: Texts<T[K]> }
      : T;

/** The sentences of findings in a language. */
export type Sentences = Texts<typeof sentences>;

/** What the command line says in a language. */
export type CommandLine = Texts<typeof commandLine>;

/** A language: written as an object that `satisfies Words`, so that a text that it lacks fails the build with its name. */
export type Words = Texts<typeof english> & {
  /** Fetched apart, since nothing is found before something was computed. */
  readonly sentences: () => Promise<Sentences>;
  readonly commandLine: () => Promise<CommandLine>;
};
