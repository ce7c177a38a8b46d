// A copy of the tree in which a file is changed and the tests are run, nearest first; the tree itself is not touched.
import { spawn } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const needed = ['src', 'tests', 'public', 'shaders', 'index.html'];
const settings = [
  'package.json',
  'tsconfig.json',
  'vite.config.ts',
  '.biome.json',
  'DEVELOPERS.md',
  'README.md',
];
const others = [
  'tests/core',
  'tests/outside',
  'tests/worker',
  'tests/command',
  'tests/desk',
  'tests/interface',
  'tests/words',
  'tests/scene',
];

/** A test file of another part that takes longer than this (ms) is not asked: what it alone would notice counts as alive. */
const SLOW = 12_000;
/** Where no test ends for so long, ms, a change has led into a loop without end; the unchanged tree gets more. */
const STUCK = 240_000;
const PATIENT = 900_000;

/** The test files whose path starts like this. */
const testsIn = (folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.test.ts'))
    .map((name) => join(folder, name));

export function copyOfTree() {
  const copy = mkdtempSync(join(tmpdir(), 'creaseway-mutate-'));
  for (const name of [...needed, ...settings])
    if (existsSync(name)) cpSync(name, join(copy, name), { recursive: true });
  symlinkSync(resolve('node_modules'), join(copy, 'node_modules'));
  const report = join(copy, 'report.json');

  /** Runs tests until one fails; says how that ended, and how long each file took. */
  function run(files, patience = STUCK) {
    rmSync(report, { force: true });
    const how = ['--config=tests/mutate/quick-first.config.ts', '--bail=1', '--pool=threads'];
    const args = ['run', ...how, '--reporter=verbose', '--reporter=json', `--outputFile.json=${report}`];
    const vitest = spawn(join('node_modules', '.bin', 'vitest'), [...args, ...files], {
      cwd: copy,
      env: { ...process.env, CREASEWAY_SOAK: undefined },
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    let stuck = false;
    const end = () => {
      stuck = true;
      vitest.kill('SIGKILL');
    };
    let clock = setTimeout(end, patience);
    vitest.stdout.on('data', () => {
      clearTimeout(clock);
      clock = setTimeout(end, patience);
    });
    return new Promise((done) => {
      vitest.on('close', (code) => {
        clearTimeout(clock);
        done({ stuck, passed: code === 0, ...reported() });
      });
    });
  }

  function reported() {
    const results = existsSync(report) ? JSON.parse(readFileSync(report, 'utf8')).testResults : [];
    const path = ({ name }) => name.slice(name.indexOf('tests/'));
    const failed = results.find(({ status }) => status === 'failed');
    return {
      failed: failed ? path(failed) : 'no test can run',
      took: new Map(results.map((one) => [path(one), one.endTime - one.startTime])),
    };
  }

  let asked;
  /** The test files that are asked, once they have all passed without a change, and what each took. */
  async function filesAsked(folder) {
    if (!asked) {
      const { passed, failed, took } = await run(others.flatMap(testsIn), PATIENT);
      if (!passed) throw new Error(`Unchanged, all tests must pass; ${failed} does not.`);
      asked = took;
    }
    const own = testsIn(folder);
    const rest = [...asked.keys()].filter((file) => !own.includes(file) && asked.get(file) <= SLOW);
    return [own, rest];
  }

  return {
    /** Which test file notices the text in the place of the file's, or that it never ends; null where none does. */
    async noticedBy(file, text) {
      for (const files of await filesAsked(join('tests', 'core', file.split('/')[2]))) {
        writeFileSync(join(copy, file), text);
        const { stuck, passed, failed } = await run(files);
        cpSync(file, join(copy, file));
        if (stuck) return OUT_OF_TIME;
        if (!passed) return failed;
      }
      return null;
    },
    remove: () => rmSync(copy, { recursive: true, force: true }),
  };
}

export const OUT_OF_TIME = 'out of time';
