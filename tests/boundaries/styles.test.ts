/** A style comes with the part that it belongs to: with its own module, or with the page from the start. */
import { readdirSync, readFileSync } from 'node:fs';
import { posix } from 'node:path';
import { expect, test } from 'vitest';

const root = new URL('../../', import.meta.url).pathname;
const textOf = (path: string) => readFileSync(`${root}${path}`, 'utf8');
const names = readdirSync(`${root}src/interface`, { recursive: true, encoding: 'utf8' }).map(
  (name) => `src/interface/${name}`,
);

/** Files that a module brings at once, not those that it fetches later. */
function broughtBy(path: string, brought = new Set<string>()): Set<string> {
  if (brought.has(path)) return brought;
  brought.add(path);
  if (path.endsWith('.css')) return brought;
  const froms = textOf(path).matchAll(/^(?:import|export) (?!type )(?:[^;]*? from )?'(\.[^']+)'/gm);
  for (const [, from] of froms) broughtBy(posix.join(posix.dirname(path), from!), brought);
  return brought;
}

/** Class names, by the files that have rules for them. */
const styled = new Map<string, Set<string>>();
for (const path of names.filter((name) => name.endsWith('.css')))
  for (const [, selector] of textOf(path).matchAll(/([^{}]+)\{/g))
    for (const [, name] of selector!.trim().startsWith('@') ? [] : selector!.matchAll(/\.([a-z][\w-]*)/gi))
      styled.set(name!, (styled.get(name!) ?? new Set()).add(path));

const fromTheStart = broughtBy('src/main.tsx');

/** Class names that a module gives and that only a style has which it does not bring. */
function unstyledIn(path: string): string[] {
  const given = [...textOf(path).matchAll(/class(?:Name)?=[^\n]*/gi)].join(' ').match(/[a-z][\w-]*/gi) ?? [];
  const brought = broughtBy(path);
  return [...new Set(given)].filter((name) => {
    const styles = [...(styled.get(name) ?? [])];
    return styles.length > 0 && !styles.some((style) => fromTheStart.has(style) || brought.has(style));
  });
}

test('there are classes to look for, and styles that come later', () => {
  expect(styled.get('locks')).toEqual(new Set(['src/interface/inside/lock-part.css']));
  expect(fromTheStart).toContain('src/interface/inside/lock-part.css');
  expect(fromTheStart).not.toContain('src/interface/sheet/draw-row.css');
});

test.each(names.filter((name) => name.endsWith('.tsx')))('%s brings the styles of its classes', (path) => {
  expect(unstyledIn(path)).toEqual([]);
});
