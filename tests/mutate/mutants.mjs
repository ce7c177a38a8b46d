// Changes of one line of code that a test should notice, chosen by a seed.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Each takes a line and gives the lines that it could be changed into. */
const operators = [
  swaps(/ < /g, [' <= ', ' > ']),
  swaps(/ <= /g, [' < ']),
  swaps(/ > /g, [' >= ', ' < ']),
  swaps(/ >= /g, [' > ']),
  swaps(/ === /g, [' !== ']),
  swaps(/ !== /g, [' === ']),
  swaps(/ && /g, [' || ']),
  swaps(/ \|\| /g, [' && ']),
  swaps(/ \+ /g, [' - ']),
  swaps(/ - /g, [' + ']),
  swaps(/ \* /g, [' / ']),
  swaps(/ \/ /g, [' * ']),
  swaps(/ \+= /g, [' -= ']),
  swaps(/ -= /g, [' += ']),
  swaps(/\bMath\.max\b/g, ['Math.min']),
  swaps(/\bMath\.min\b/g, ['Math.max']),
  swaps(/\btrue\b/g, ['false']),
  swaps(/\bfalse\b/g, ['true']),
  swaps(/\.some\(/g, ['.every(']),
  swaps(/\.every\(/g, ['.some(']),
  swaps(/\(!(?=\w)/g, ['(']),
  swaps(/\? (1) : (-1)/g, ['? -1 : 1']),
  swaps(/(?<=[[(, ])-(?=[a-z(])/g, ['']),
  swaps(/(?<![\w.])1(?![\w.])/g, ['2', '0']),
  swaps(/(?<![\w.])0(?![\w.])/g, ['1']),
  // a call whose value nobody takes
  (line) => (/^\s+[\w.]+\([^=]*\);$/.test(line) ? [''] : []),
  (line) => (/^\s+(continue|break);$/.test(line) ? [''] : []),
  (line) => {
    const guard = /^(\s+if \()(.*)(\) (?:return|continue|break)\b.*)$/.exec(line);
    return guard ? [`${guard[1]}false && (${guard[2]})${guard[3]}`] : [];
  },
];

function swaps(pattern, replacements) {
  return (line) =>
    [...line.matchAll(pattern)]
      .filter(({ index }) => !insideWord(line, index))
      .flatMap(({ 0: found, index }) =>
        replacements.map((text) => line.slice(0, index) + text + line.slice(index + found.length)),
      );
}

/** Whether a place of the line lies between quotes. */
function insideWord(line, index) {
  return [...line.matchAll(/'[^']*'/g)].some(
    (word) => word.index < index && index < word.index + word[0].length,
  );
}

/** Lines that may hold code: no comments, imports, types and sentences. What changes no code is left out later. */
function isCode(line) {
  const text = line.trim();
  return !/^(\/\/|\/?\*|import |export \{|export type |readonly |type |\|)/.test(text) && !/[`"]/.test(text);
}

function filesBelow(folder) {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return filesBelow(path);
    return path.endsWith('.ts') ? [path] : [];
  });
}

/** Every change of one line in the folders. */
export function allMutants(folders) {
  return folders.flatMap((folder) =>
    filesBelow(folder).flatMap((file) =>
      readFileSync(file, 'utf8')
        .split('\n')
        .flatMap((before, k) => {
          const changed = isCode(before) ? operators.flatMap((change) => change(before)) : [];
          return [...new Set(changed)].map((after) => ({ file, line: k + 1, before, after }));
        }),
    ),
  );
}

/**
 * So many of them, no two in lines of the same words in one file. Each has its place in the row by its own words and the
 * seed, so that a change elsewhere in the code leaves nearly the same ones chosen.
 */
export function choose(mutants, count, seed, isUsable) {
  const place = ({ file, before, after }) =>
    createHash('sha256')
      .update(JSON.stringify([seed, file, before.trim(), after.trim()]))
      .digest('hex');
  const row = mutants.map((mutant) => ({ mutant, at: place(mutant) })).sort((a, b) => (a.at < b.at ? -1 : 1));
  const taken = new Set();
  const chosen = [];
  for (const { mutant } of row) {
    const line = `${mutant.file}:${mutant.before.trim()}`;
    if (chosen.length === count) break;
    if (taken.has(line) || !isUsable(mutant)) continue;
    taken.add(line);
    chosen.push(mutant);
  }
  return chosen;
}
