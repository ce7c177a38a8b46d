// Changes single lines of the core, one at a time, in a copy of the tree, and asks whether a test notices.
// CREASEWAY_SEED repeats a run, CREASEWAY_MUTANTS says how many changes. Ends with one plain line "N passed, N failed".
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { transformSync } from 'esbuild';
import { copyOfTree, OUT_OF_TIME } from './copy.mjs';
import { equivalent } from './equivalent.mjs';
import { allMutants, choose } from './mutants.mjs';

const seed = Number(process.env.CREASEWAY_SEED ?? 8);
const count = Number(process.env.CREASEWAY_MUTANTS ?? 60);
/** Alive, and not shown to be equivalent: so many are borne. */
const BORNE = 4;
const areas = ['numeric', 'pose', 'layer', 'contact', 'run'];

/** The file's text with the one line changed. */
function changed({ file, line, after }) {
  const lines = readFileSync(file, 'utf8').split('\n');
  lines[line - 1] = after;
  return lines.join('\n');
}

/** What is left of a text without types and comments; null if it cannot be read. */
function code(text) {
  try {
    return transformSync(text, { loader: 'ts', logLevel: 'silent' }).code;
  } catch {
    return null;
  }
}

function changesCode(mutant) {
  const after = code(changed(mutant));
  return after !== null && after !== code(readFileSync(mutant.file, 'utf8'));
}

function reasonOf({ file, before, after }) {
  return equivalent.find(
    (one) => one.file === file && one.before === before.trim() && one.after === after.trim(),
  )?.why;
}

const folders = areas.map((area) => join('src', 'core', area));
const mutants = choose(allMutants(folders), count, seed, changesCode);
const copy = copyOfTree();
const alive = [];
let endless = 0;
console.log(`seed ${seed}: ${mutants.length} changes`);
try {
  for (const mutant of mutants) {
    const { file, line, before, after } = mutant;
    const why = reasonOf(mutant);
    const by = why ? null : await copy.noticedBy(file, changed(mutant));
    if (by === OUT_OF_TIME) endless++;
    if (!why && !by) alive.push(mutant);
    const told = why ? `equivalent: ${why}` : (by ?? 'ALIVE');
    console.log(`${file}:${line}\n    ${before.trim()}\n    ${after.trim()}\n    ${told}`);
  }
} finally {
  copy.remove();
}
const failed = Math.max(0, alive.length - BORNE);
console.log(`\n${alive.length} alive, ${BORNE} are borne; ${endless} of those noticed never ended`);
for (const { file, line, after } of alive) console.log(`    ${file}:${line} ${after.trim()}`);
console.log(`\n${mutants.length - failed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
