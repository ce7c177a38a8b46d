/**
 * The words that are spoken. Their objects stay the same, and the chosen language is laid into them before anything is
 * shown: whoever needs a text asks for it when it is shown, and keeps none.
 */
import { english } from './english/english.ts';
import type { CommandLine, Sentences, Words } from './language.ts';
import { spoken } from './numbers.ts';

type Tree = Record<string, unknown>;

const isTree = (value: unknown): value is Tree =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Lays the texts of one tree into another of the same shape. */
function lay(into: Tree, texts: Tree): Tree {
  for (const [name, text] of Object.entries(texts))
    into[name] = isTree(text) ? lay(isTree(into[name]) ? into[name] : {}, text) : text;
  return into;
}

const language = lay({}, english) as unknown as Omit<Words, 'sentences' | 'commandLine'>;

/** Where the sentences of findings and of the command line come from: of English, unless another language is spoken. */
const source: Pick<Words, 'sentences' | 'commandLine'> = {
  sentences: () => import('./english/findings.ts').then((one) => one.sentences),
  commandLine: () => import('./english/command-line.ts').then((one) => one.commandLine),
};

/** Speaks a language from now on. */
export function speak({ sentences, commandLine, ...words }: Words): void {
  lay(language as unknown as Tree, words as unknown as Tree);
  spoken.tag = words.tag;
  Object.assign(source, { sentences, commandLine });
}

export const fetchSentences = (): Promise<Sentences> => source.sentences();
export const fetchCommandLine = (): Promise<CommandLine> => source.commandLine();

export const {
  screen: words,
  draw: drawWords,
  commands: commandWords,
  kinds: kindWords,
  stepKinds: stepKindWords,
  views: viewWords,
  folds: foldWords,
} = language;

export type CommandName = keyof Words['commands'];

export const angleText = (radians: number) => language.measures.angleText(radians);
export const millimetres = (value: number) => language.measures.millimetres(value);
export const boxText = (lengths: readonly number[]) => language.measures.boxText(lengths);
export const squareCentimetres = (value: number) => language.measures.squareCentimetres(value);

/** What a pose can still do. */
export function freedomsText(count: number): string {
  return count === 0 ? words.free0 : count === 1 ? words.free1 : words.freeMany(count);
}
