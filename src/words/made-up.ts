/**
 * A made-up language, to find texts that are not in the words and places that have no room for longer ones: every text
 * of English in brackets and two fifths longer; in another form written from right to left.
 */
import { english } from './english/english.ts';
import type { CommandLine, Sentences, Words } from './language.ts';

type Texts = Omit<Words, 'sentences' | 'commandLine'>;

/** Longer by this share. */
const LONGER = 0.4;

/** "Undo" becomes "[Undoéé]". Long texts grow by words, so that they break as texts do. */
function strange(text: string): string {
  if (text.trim() === '') return text;
  const more = Math.ceil(LONGER * text.length);
  const filler = text.includes(' ') ? ' ééééé'.repeat(Math.ceil(more / 6)).slice(0, more) : 'é'.repeat(more);
  return `[${text}${filler}]`;
}

/** Every text of a tree made strange, what functions say included. */
function made(texts: unknown): unknown {
  if (typeof texts === 'string') return strange(texts);
  if (typeof texts === 'function') return (...told: unknown[]) => made(texts(...told));
  if (Array.isArray(texts)) return texts.map(made);
  if (typeof texts === 'object' && texts !== null)
    return Object.fromEntries(Object.entries(texts).map(([name, text]) => [name, made(text)]));
  return texts;
}

export const madeUp = (direction: 'ltr' | 'rtl'): Words => ({
  ...(made(english) as Texts),
  // measures are numbers and their units
  measures: english.measures,
  ...{ tag: english.tag, direction },
  sentences: async () => made((await import('./english/findings.ts')).sentences) as Sentences,
  commandLine: async () => made((await import('./english/command-line.ts')).commandLine) as CommandLine,
});
