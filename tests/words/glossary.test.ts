/** One word for one thing: the glossary of the map, held against every text of the tool. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const root = new URL('../../', import.meta.url).pathname;
const folder = join(root, 'src/words/english');

/** Rows of the glossary: the word that is kept, and those that are dropped for it. */
const glossary = [
  ...readFileSync(join(root, 'DEVELOPERS.md'), 'utf8')
    .split('## Words')[1]!
    .split('\n## ')[0]!
    .matchAll(/^\| ([^|]+) \| [^|]+ \| ([^|]*) \|$/gm),
]
  .map(([, kept, dropped]) => ({
    kept: kept!.trim(),
    dropped: dropped!.split(',').map((word) => word.trim()),
  }))
  .filter(({ kept }) => kept !== 'word' && !kept.startsWith('-'))
  .map(({ kept, dropped }) => ({ kept, dropped: dropped.filter(Boolean) }));

/** Texts that name the entries of files use the words of the files. */
const ofFiles = ['findings-of-files.ts', 'unreadable.ts', 'wanted.ts'];

const texts = readdirSync(folder)
  .filter((name) => !ofFiles.includes(name))
  .flatMap((name) => {
    const code = readFileSync(join(folder, name), 'utf8').replace(/\/\*[\s\S]*?\*\//g, '');
    const said = code
      .replace(/^import[\s\S]*?;$/gm, '')
      .replace(/case '[^']*'|'[^']*':|\[?'[^']*'\]|=== '[^']*'/g, '');
    return [...said.matchAll(/'((?:[^'\\\n]|\\.)*)'|`((?:[^`\\]|\\.)*)`/g)].map(([, one, two]) => ({
      name,
      // what is put in by name is no word
      text: (one ?? two ?? '').replace(/\$\{[^}]*\}/g, '…'),
    }));
  });

test('the glossary has rows, and there are texts to hold against it', () => {
  expect(glossary.length).toBeGreaterThan(8);
  expect(texts.length).toBeGreaterThan(400);
  expect(dropped.length).toBeGreaterThan(8);
});

const dropped = glossary.flatMap(({ kept, dropped: words }) => words.map((word) => [word, kept] as const));

test.each(dropped)('no text says "%s" for %s', (word) => {
  const said = new RegExp(`\\b${word}\\b`, 'i');
  expect(texts.filter(({ text }) => said.test(text))).toEqual([]);
});
