// A copy of the tree in which a file is changed and the tests are run, nearest first; the tree itself is not touched.
import { spawnSync } from 'node:child_process';
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

/** Where the tests of a file lie: those of its own part of core first, then all others that use core. */
function stages(file) {
  const own = join('tests', 'core', file.split('/')[2]);
  const others = readdirSync(join('tests', 'core'))
    .map((name) => join('tests', 'core', name))
    .filter((folder) => folder !== own);
  return [
    [own],
    [...others, 'tests/outside', 'tests/worker', 'tests/command', 'tests/interface', 'tests/scene'],
  ];
}

export function copyOfTree() {
  const copy = mkdtempSync(join(tmpdir(), 'creaseway-mutate-'));
  for (const name of [...needed, ...settings])
    if (existsSync(name)) cpSync(name, join(copy, name), { recursive: true });
  symlinkSync(resolve('node_modules'), join(copy, 'node_modules'));
  const report = join(copy, 'report.json');
  const limits = new Map();

  function tests(folders, limit) {
    rmSync(report, { force: true });
    const how = ['--config=tests/mutate/quick-first.config.ts', '--bail=1', '--pool=threads'];
    const args = ['run', ...how, '--reporter=json', `--outputFile=${report}`];
    return spawnSync(join('node_modules', '.bin', 'vitest'), [...args, ...folders], {
      cwd: copy,
      encoding: 'utf8',
      timeout: limit,
      killSignal: 'SIGKILL',
      env: { ...process.env, CREASEWAY_SOAK: undefined },
    });
  }

  /** Five times what the unchanged tree takes: so long a change may run before it counts as noticed. ms. */
  function limitOf(folders) {
    const name = folders.join();
    if (!limits.has(name)) {
      const start = Date.now();
      if (tests(folders).status !== 0) throw new Error(`Unchanged, ${name} must pass; it does not.`);
      limits.set(name, 5 * (Date.now() - start) + 30_000);
    }
    return limits.get(name);
  }

  function failedFile() {
    if (!existsSync(report)) return 'no test can run';
    const failed = JSON.parse(readFileSync(report, 'utf8')).testResults.find(
      (one) => one.status === 'failed',
    );
    return failed ? failed.name.slice(failed.name.indexOf('tests/')) : 'no test can run';
  }

  return {
    /** Which test file notices the text in the place of the file's; null if none. */
    noticedBy(file, text) {
      for (const folders of stages(file)) {
        const limit = limitOf(folders);
        writeFileSync(join(copy, file), text);
        const done = tests(folders, limit);
        cpSync(file, join(copy, file));
        if (done.error) return 'out of time';
        if (done.status !== 0) return failedFile();
      }
      return null;
    },
    remove: () => rmSync(copy, { recursive: true, force: true }),
  };
}
