import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

/** Every source file below a folder. */
function sources(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory()
      ? sources(join(folder, entry.name))
      : /\.(ts|tsx|mjs)$/.test(entry.name)
        ? [join(folder, entry.name)]
        : [],
  );
}

it('nothing that computes knows the sample lessons: core, worker and command name no file of public', () => {
  const files = ['src/core', 'src/worker', 'src/command'].flatMap(sources);
  expect(files.length).toBeGreaterThan(60);
  const samples = readdirSync('public/lessons').map((name) => name.replace(/\.json$/, ''));
  for (const file of files) {
    const text = readFileSync(file, 'utf8');
    expect(text.includes('public/'), file).toBe(false);
    for (const sample of samples) if (sample !== 'index') expect(text.includes(sample), file).toBe(false);
  }
});
