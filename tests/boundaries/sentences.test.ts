/** Sentences live in words: core, desk, worker and screen hand over codes and values, or ask the words. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const root = new URL('../../', import.meta.url).pathname;

/** Literals of a source text that read like a sentence: a capital, two blanks or more, a full stop at the end. */
function sentencesIn(source: string): string[] {
  const code = source.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
  const literals = [
    ...code.matchAll(/'((?:[^'\\\n]|\\.)*)'|"((?:[^"\\\n]|\\.)*)"|`((?:[^`\\]|\\.)*)`|>([^<>{}]+)</g),
  ];
  return literals
    .map(([, one, two, three, four]) => (one ?? two ?? three ?? four ?? '').trim())
    .filter((text) => /^[A-Z]/.test(text) && text.split(' ').length > 2 && text.endsWith('.'));
}

/** Literals that read like a name on screen: "Untitled", "Fold everything". */
function namesIn(source: string): string[] {
  const code = source.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
  // what an error says is for whoever mends the tool
  return [...code.replace(/Error\([^)]*\)/g, '').matchAll(/'((?:[^'\\\n]|\\.)*)'|`((?:[^`\\]|\\.)*)`/g)]
    .map(([, one, two]) => one ?? two ?? '')
    .filter((text) => /^[A-Z][a-z]{2,}( [a-z]+)*$/.test(text));
}

/** Literals of several lines. */
function pagesIn(source: string): string[] {
  return [...source.matchAll(/`((?:[^`\\]|\\.)*)`/g)]
    .map(([, text]) => text!)
    .filter((text) => text.trim().includes('\n'));
}

/** What files of older versions say word for word, by which the step that the tool made is known again. */
const inOldFiles = ['Bring every crease to its finished angle together.', 'Fold everything'];
/** Names that are the same in all languages: the tool's own, and those of file formats. */
const ofFormats = ['Creaseway', 'Mid', 'Unitless', 'Millimeters'];

const withNames = ['core', 'worker', 'command'];
const files = ['core', 'desk', 'worker', 'interface', 'command'].flatMap((part) =>
  readdirSync(join(root, 'src', part), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => `src/${part}/${name}`),
);

test.each(files)('%s holds no sentence and no name', (file) => {
  const source = readFileSync(join(root, file), 'utf8');
  const names = withNames.includes(file.split('/')[1]!) ? namesIn(source) : [];
  const pages = file.startsWith('src/command/') ? pagesIn(source) : [];
  const found = [...sentencesIn(source), ...names, ...pages];
  expect(found.filter((text) => ![...inOldFiles, ...ofFormats].includes(text))).toEqual([]);
});

// common practice, no source: the rule itself, on made-up texts
test('the reading finds a sentence wherever it stands', () => {
  expect(sentencesIn("const a = 'Fold it over there.';")).toEqual(['Fold it over there.']);
  expect(sentencesIn('const a = `Panel 3 is tight here.`;')).toHaveLength(1);
  expect(sentencesIn('<p>Fold it over there.</p>')).toHaveLength(1);
  expect(sentencesIn("// 'Fold it over there.'\nconst a = 'vertex-closure';")).toEqual([]);
  expect(namesIn("const a = name || 'Untitled';")).toEqual(['Untitled']);
  expect(pagesIn('const a = `say it so:\n  or so, then`;')).toHaveLength(1);
  expect(namesIn("const a = 'vertex-closure'; throw new Error('No such thing');")).toEqual([]);
});
