/** No circles, nothing handed out that nobody takes, no variables of a module beside its classes, no endless functions. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { describe, expect, test } from 'vitest';
import { circles, type Module, readModule, unusedExports } from './modules.ts';

const root = new URL('../../', import.meta.url).pathname;

function modulesIn(folder: string): Module[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
    .filter((path) => /\.(ts|tsx|mjs)$/.test(path))
    .map((path) => readModule(path, readFileSync(join(root, path), 'utf8')));
}

const [sources, tests] = [modulesIn('src'), modulesIn('tests')];

/**
 * May this test's needs keep a name alive? Those of tests of the same room do (tests/core/layer for src/core/layer,
 * tests/worker for src/worker): the name is their subject. So do those of tests/support, which plays page and teacher.
 * Checks from outside, oracles and benches ask what the tool itself asks, and keep nothing alive.
 */
function mayNeed(test: string, source: string): boolean {
  const [, part, layer] = source.split('/');
  const room = part === 'core' ? `tests/core/${layer}/` : `tests/${part}/`;
  return test.startsWith(room) || test.startsWith('tests/support/');
}

/** Read by the page, by vite or by the scripts of package.json. */
const isEntry = (path: string) => path === 'src/main.tsx' || path.startsWith('src/build/');

test('there is something to read', () => {
  expect(sources.length).toBeGreaterThan(300);
  expect(sources.flatMap((one) => one.exports).length).toBeGreaterThan(800);
  expect(sources.flatMap((one) => one.functions).length).toBeGreaterThan(2000);
});

test('modules go round in no circle, types included', () => {
  expect(circles(sources)).toEqual([]);
});

test('every exported name is used by another module', () => {
  const unused = sources
    .filter(({ path }) => !isEntry(path))
    .flatMap((one) => {
      const users = [...sources, ...tests.filter(({ path }) => mayNeed(path, one.path))];
      return unusedExports(one, users).map((name) => `${one.path}: ${name}`);
    });
  expect(unused).toEqual([]);
});

test.each(['src/desk', 'src/interface'])('%s keeps what changes in objects, not in modules', (room) => {
  const found = sources.filter(({ path }) => path.startsWith(`${room}/`));
  expect(found.length).toBeGreaterThan(30);
  expect(found.flatMap(({ path, variables }) => variables.map((name) => `${path}: ${name}`))).toEqual([]);
});

/** A reader follows no further without scrolling back. */
const MOST_LINES = 90;

test('no function is longer than a reader can follow', () => {
  const long = sources.flatMap(({ path, functions }) =>
    functions.filter(({ lines }) => lines > MOST_LINES).map(({ name, lines }) => `${path}: ${name} ${lines}`),
  );
  expect(long).toEqual([]);
});

// common practice, no source: the rules themselves, on made-up modules
describe('the reading finds what it should', () => {
  const made = (files: Record<string, string>) =>
    Object.entries(files).map(([path, source]) => readModule(posix.join('src', path), source));

  test.each([
    [
      'values',
      "import { b } from './b.ts'; export const a = b;",
      "import { a } from './a.ts'; export const b = () => a;",
    ],
    ['types', "import type { B } from './b.ts';", "import { type A } from './a.ts';"],
    ['what is passed on', "export * from './b.ts';", "export { a } from './a.ts';"],
    ['asked for when needed', "export const a = () => import('./b.ts');", "import './a.ts';"],
    ['a type by its path', "type B = import('./b.ts').B;", "import * as all from './a.ts';"],
  ])('a circle of %s', (_, a, b) => {
    expect(circles(made({ 'a.ts': a, 'b.ts': b }))).toEqual([['src/a.ts', 'src/b.ts', 'src/a.ts']]);
  });

  test('a circle that does not start where the reading does, and none where two ways meet', () => {
    const [a, b, c] = ["import './b.ts';", "import './c.ts';", "import './b.ts';"];
    expect(circles(made({ 'a.ts': a, 'b.ts': b, 'c.ts': c }))).toEqual([
      ['src/b.ts', 'src/c.ts', 'src/b.ts'],
    ]);
    expect(circles(made({ 'a.ts': "import './b.ts'; import './c.ts';", 'b.ts': b, 'c.ts': '' }))).toEqual([]);
  });

  test.each([
    ['a value', 'export const one = 1;', ''],
    ['a function', 'export function one() {}', "import { two } from './a.ts';"],
    ['a type', 'export type one = 1;', ''],
    ['a name passed on', "export { one } from './c.ts';", ''],
    ['what has no name', 'export default 1;', "import { one } from './a.ts';"],
    [
      'a name used at home alone',
      'export const one = 1; export const two = one;',
      "import { two } from './a.ts';",
    ],
    [
      'one of a whole',
      'export const one = 1; export const two = 2;',
      "import * as all from './a.ts'; all.two;",
    ],
  ])('unused: %s', (_, a, b) => {
    const [module, ...others] = made({ 'a.ts': a, 'b.ts': b });
    expect(unusedExports(module!, [module!, ...others])).toHaveLength(1);
  });

  test.each([
    ['by name', 'export const one = 1;', "import { one as other } from './a.ts';"],
    ['as a type', 'export type one = 1;', "import type { one } from './a.ts';"],
    ['passed on', 'export const one = 1;', "export { one as other } from './a.ts';"],
    ['when needed', 'export const one = 1;', "const { one } = await import('./a.ts');"],
    ['as a room', 'export default () => 1;', "lazy(() => import('./a.ts'));"],
    ['as part of a whole', 'export const one = 1;', "import * as all from './a.ts'; all.one;"],
    ['as a whole', 'export const one = 1;', "import * as all from './a.ts'; const other = { ...all };"],
    ['as a type by its path', 'export type one = 1;', "type Other = import('./a.ts').one;"],
  ])('used: %s', (_, a, b) => {
    const [module, ...others] = made({ 'a.ts': a, 'b.ts': b });
    expect(unusedExports(module!, [module!, ...others])).toEqual([]);
  });

  test('tests keep alive what they are about, and nothing else', () => {
    expect(mayNeed('tests/core/layer/order.test.ts', 'src/core/layer/order.ts')).toBe(true);
    expect(mayNeed('tests/worker/jobs.test.ts', 'src/worker/jobs.ts')).toBe(true);
    expect(mayNeed('tests/core/layer/order.test.ts', 'src/core/pose/place.ts')).toBe(false);
    expect(mayNeed('tests/outside/layers.test.ts', 'src/core/layer/order.ts')).toBe(false);
  });

  test('variables of a module, exported or not, and none within its functions', () => {
    const source = 'let a = 1; export let [b, c] = [1, 2]; var d; const e = 1; function f() { let g = 1; }';
    expect(readModule('src/a.ts', source).variables).toEqual(['a', '[b, c]', 'd']);
  });

  test('functions of every kind, with their lines', () => {
    const source = 'function a() {\n}\nclass B {\n  c() {\n\n  }\n}\nconst d = () => 1;';
    expect(readModule('src/a.tsx', source).functions.map(({ name, lines }) => [name, lines])).toEqual([
      ['function a() {', 2],
      ['c() {', 3],
      ['const d = () => 1;', 1],
    ]);
  });
});
