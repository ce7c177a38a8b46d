// Changes of one line of code that a test should notice, chosen by a seed.
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
    [...line.matchAll(pattern)].flatMap(({ 0: found, index }) =>
      replacements.map((text) => line.slice(0, index) + text + line.slice(index + found.length)),
    );
}

/** Lines of code, without comments, imports, types and words. */
function isCode(line) {
  const text = line.trim();
  if (/^(\/\/|\/?\*|import |export \{|export type |export interface |readonly |type |\||\}|\{$)/.test(text))
    return false;
  return (
    !/[`'"]/.test(text) &&
    !/: (number|string|boolean|void)[,;)]?$/.test(text) &&
    !/=>\s*(number|void)/.test(text)
  );
}

function filesBelow(folder) {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return filesBelow(path);
    return path.endsWith('.ts') ? [path] : [];
  });
}

/** Every mutant of the folders, in a fixed order. */
export function allMutants(folders) {
  return folders.flatMap((folder) =>
    filesBelow(folder)
      .sort()
      .flatMap((file) => {
        let isType = false;
        return readFileSync(file, 'utf8')
          .split('\n')
          .flatMap((line, k) => {
            if (/^(export )?(interface|type) /.test(line)) isType = true;
            const skip = isType || !isCode(line);
            if (isType && /^\}|;$/.test(line) && !line.startsWith(' ')) isType = false;
            if (skip) return [];
            const changed = new Set(operators.flatMap((change) => change(line)));
            return [...changed].map((after) => ({ file, line: k + 1, before: line, after }));
          });
      }),
  );
}

/** So many of them, no two in one line; the same for the same seed. */
export function choose(mutants, count, seed) {
  let state = seed >>> 0;
  const random = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const lines = new Map();
  for (const mutant of mutants) {
    const key = `${mutant.file}:${mutant.line}`;
    lines.set(key, [...(lines.get(key) ?? []), mutant]);
  }
  const left = [...lines.values()];
  const chosen = [];
  while (chosen.length < count && left.length > 0) {
    const [own] = left.splice(Math.floor(random() * left.length), 1);
    chosen.push(own[Math.floor(random() * own.length)]);
  }
  return chosen;
}
