/** The tool computes the same whether its samples are there or not. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const bare = mkdtempSync(join(tmpdir(), 'creaseway-bare-'));
afterAll(() => rmSync(bare, { recursive: true }));

/** Every source file below a folder. */
function sources(folder: string): string[] {
  return (readdirSync(join(root, folder), { recursive: true }) as string[])
    .filter((file) => /\.(ts|tsx|mjs|json)$/.test(file))
    .map((file) => join(root, folder, file));
}

test('core, worker and command line speak of no public folder and of no sample', () => {
  const files = ['src/core', 'src/worker', 'src/command'].flatMap(sources);
  expect(files.length).toBeGreaterThan(60);
  const samples = readdirSync(join(root, 'public/lessons')).map((name) => name.replace(/\.json$/, ''));
  for (const file of files) {
    const text = readFileSync(file, 'utf8');
    expect(text, file).not.toMatch(/public\/|['"]lessons/);
    for (const sample of samples) if (sample !== 'index') expect(text.includes(sample), file).toBe(false);
  }
});

test('folding without a public folder gives the same answer to the byte', () => {
  // only what the command needs; no samples
  for (const name of ['src', 'package.json', 'tsconfig.json'])
    cpSync(join(root, name), join(bare, name), { recursive: true });
  symlinkSync(join(root, 'node_modules'), join(bare, 'node_modules'));
  for (const folder of [root, bare])
    spawnSync(process.execPath, [join(folder, 'src/build/command.mjs')], { cwd: folder });
  for (const file of ['s1.svg', 's5.fold']) {
    const [here, there] = [root, bare].map((folder) => {
      const call = [
        join(folder, 'dist/command/creaseway.mjs'),
        'fold',
        join(root, 'tests/fixtures', file),
        '--sheet',
        '210mm',
        '--json',
      ];
      return spawnSync(process.execPath, call, { cwd: folder, encoding: 'utf8' });
    });
    expect(there!.stderr).toBe('');
    expect(JSON.parse(there!.stdout).closes).toBe(true);
    expect(there!.stdout).toBe(here!.stdout);
  }
});
