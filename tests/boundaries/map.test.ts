/** The map names files that are there, each so that it cannot be taken for another. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

const root = new URL('../../', import.meta.url).pathname;
const left = new Set(['node_modules', 'dist', 'test-results', '.git']);
const files = readdirSync(root)
  .filter((name) => !left.has(name))
  .flatMap((name) =>
    name.includes('.')
      ? [name]
      : readdirSync(`${root}${name}`, { recursive: true, encoding: 'utf8' }).map((one) => `${name}/${one}`),
  );

/** Files and folders that a name of the map may mean; in a row about a folder those of that folder come first, then sources before their tests. */
function meant(name: string, folder: string | null): string[] {
  const fits = files.filter((file) => `/${file}`.endsWith(`/${name.replace(/\/$/, '')}`));
  const own = folder === null ? [] : fits.filter((file) => file === `${folder}/${name.replace(/\/$/, '')}`);
  const sources = fits.filter((file) => file.startsWith('src/'));
  return [own, sources, fits].find((some) => some.length > 0) ?? [];
}

const named = readFileSync(`${root}DEVELOPERS.md`, 'utf8')
  .split('\n')
  .flatMap((line) => {
    const folder = line.match(/^\| `((?:src|tests|public)[\w/-]*)` \|/)?.[1] ?? null;
    return [...line.matchAll(/`([\w./-]+(?:\.(?:tsx?|mjs|glsl|css|json|md)|\/))`/g)]
      .map(([, name]) => ({ name: name!, folder }))
      .filter(({ name }) => !/NAME|…/.test(name));
  });

test('the map names files at all', () => {
  expect(named.length).toBeGreaterThan(150);
  expect(meant('desk.ts', null).length).toBe(2);
  expect(meant('no-such-file.ts', null)).toEqual([]);
});

test.each(named)('$name is one file', ({ name, folder }) => {
  expect(meant(name, folder)).toHaveLength(1);
});
