// Changes single lines of the core, one at a time, in a copy of the tree, and asks whether a test notices.
// CREASEWAY_SEED repeats a run, CREASEWAY_MUTANTS says how many. Ends with one plain line "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { transformSync } from 'esbuild';
import { equivalent } from './equivalent.mjs';
import { allMutants, choose } from './mutants.mjs';

const seed = Number(process.env.CREASEWAY_SEED ?? 8);
const count = Number(process.env.CREASEWAY_MUTANTS ?? 60);
/** Not shown to be equivalent, and yet alive: so many are borne. */
const BORNE = 4;
const areas = ['numeric', 'pose', 'layer', 'contact', 'run'];

const root = process.cwd();
const copy = mkdtempSync(join(tmpdir(), 'creaseway-mutate-'));
for (const name of [
  'src',
  'tests',
  'public',
  'shaders',
  'package.json',
  'tsconfig.json',
  'vite.config.ts',
  'index.html',
])
  if (existsSync(name)) cpSync(name, join(copy, name), { recursive: true });
symlinkSync(resolve('node_modules'), join(copy, 'node_modules'));

/** Tests near by first: most mutants are noticed there, in seconds. */
function nearest(file) {
  const area = file.split('/')[2];
  const own = join('tests', 'core', area);
  return [
    [own],
    ['tests/core', 'tests/outside', 'tests/worker', 'tests/command', 'tests/interface', 'tests/scene'],
  ];
}

/** The first test file that fails, or null; running out of time counts as failing. */
function noticedBy(file) {
  for (const folders of nearest(file)) {
    const report = join(copy, 'report.json');
    rmSync(report, { force: true });
    const done = spawnSync(
      join('node_modules', '.bin', 'vitest'),
      ['run', '--bail=1', '--pool=threads', '--reporter=json', `--outputFile=${report}`, ...folders],
      {
        cwd: copy,
        encoding: 'utf8',
        timeout: 600_000,
        killSignal: 'SIGKILL',
        env: { ...process.env, CREASEWAY_SOAK: undefined },
      },
    );
    if (done.error) return 'out of time';
    if (done.status === 0) continue;
    if (!existsSync(report)) return 'nothing runs';
    const failed = JSON.parse(readFileSync(report, 'utf8')).testResults.find(
      ({ status }) => status === 'failed',
    );
    return failed ? failed.name.slice(failed.name.indexOf('tests/')) : 'nothing runs';
  }
  return null;
}

function parses(text) {
  try {
    transformSync(text, { loader: 'ts' });
    return true;
  } catch {
    return false;
  }
}

const folders = areas.map((area) => join('src', 'core', area));
const usable = choose(allMutants(folders), 2 * count, seed).filter(({ file, line, after }) => {
  const lines = readFileSync(file, 'utf8').split('\n');
  lines[line - 1] = after;
  return parses(lines.join('\n'));
});
console.log(`seed ${seed}: ${count} changes`);
let [noticed, alive] = [0, 0];
for (const { file, line, before, after } of usable.slice(0, count)) {
  const text = readFileSync(join(root, file), 'utf8');
  const lines = text.split('\n');
  lines[line - 1] = after;
  const same = equivalent.find(
    (one) => one.file === file && one.before === before.trim() && one.after === after.trim(),
  );
  let told = same && `equivalent: ${same.why}`;
  if (!told) {
    writeFileSync(join(copy, file), lines.join('\n'));
    told = noticedBy(file);
    writeFileSync(join(copy, file), text);
  }
  if (told) noticed++;
  else alive++;
  console.log(
    `${told ? 'noticed' : 'ALIVE  '} ${file}:${line}\n    ${before.trim()}\n    ${after.trim()}\n    ${told ?? ''}`,
  );
}
rmSync(copy, { recursive: true, force: true });
const failed = Math.max(0, alive - BORNE);
console.log(`${alive} alive, ${BORNE} are borne`);
console.log(`\n${noticed + alive - failed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
process.chdir(root);
