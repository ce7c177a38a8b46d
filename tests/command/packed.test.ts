/** The command line installed from a packed file, in an empty folder, with no network. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const scratch = mkdtempSync(join(tmpdir(), 'creaseway-packed-'));
afterAll(() => rmSync(scratch, { recursive: true }));

const run = (program: string, words: string[], cwd: string) =>
  spawnSync(program, words, { cwd, encoding: 'utf8', shell: process.platform === 'win32' });

test('npm pack, npm install, npx creaseway check', () => {
  const packed = run('npm', ['pack', '--silent', '--pack-destination', scratch], root);
  expect(packed.status, packed.stderr).toBe(0);
  const tarball = readdirSync(scratch).find((name) => name.endsWith('.tgz'))!;
  const place = join(scratch, 'somewhere');
  mkdirSync(place);
  writeFileSync(join(place, 'package.json'), '{ "private": true }');
  const install = ['install', '--offline', '--no-audit', '--no-fund', join(scratch, tarball)];
  const installed = run('npm', install, place);
  expect(installed.status, installed.stderr).toBe(0);
  expect(readdirSync(join(place, 'node_modules')).filter((name) => !name.startsWith('.'))).toEqual([
    'creaseway',
  ]);
  cpSync(join(root, 'tests/fixtures/s1.svg'), join(place, 'case.svg'));
  const checked = run('npx', ['--no-install', 'creaseway', 'check', 'case.svg', '--json'], place);
  expect(checked.status, checked.stderr).toBe(0);
  // the counts of scenario S1, see tests/fixtures/scenarios.json
  expect(JSON.parse(checked.stdout)).toMatchObject({ panels: 19, creases: 26 });
});
