import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { wrongImports } from './imports.ts';

const root = new URL('../../', import.meta.url).pathname;

const files = readdirSync(join(root, 'src'), { recursive: true, encoding: 'utf8' })
  .map((name) => `src/${name.replaceAll('\\', '/')}`)
  .filter((name) => /\.(ts|tsx|mjs|js)$/.test(name));

test('there is something to read', () => {
  expect(files.length).toBeGreaterThan(20);
});

test.each(files)('%s imports downward only', (file) => {
  expect(wrongImports(file, readFileSync(join(root, file), 'utf8'))).toEqual([]);
});

test.each(files.filter((file) => file.startsWith('src/words/')))(
  '%s takes of core its types alone',
  (file) => {
    const source = readFileSync(join(root, file), 'utf8');
    const values = source.match(/^(?:import|export) (?!type\b)[^;]*from '[^']*\/core\/[^']*';/gm);
    expect(values).toBeNull();
  },
);

// common practice, no source: the rule itself, on made-up files
describe('the reading finds what it should', () => {
  test.each([
    ['src/core/sheet/a.ts', "import { x } from '../pose/place.ts';"],
    ['src/core/sheet/a.ts', "import type { X } from '../pose/place.ts';"],
    ['src/core/sheet/a.ts', "export * from '../lesson/lesson.ts';"],
    ['src/core/sheet/a.ts', "import {\n  x,\n  y,\n} from '../pose/place.ts';"],
    ['src/core/numeric/a.ts', "import '../sheet/sheet.ts';"],
    ['src/core/finding/a.ts', "import { x } from '../sheet/sheet.ts';"],
    ['src/core/pose/a.ts', "const x = await import('../../worker/jobs.ts');"],
    ['src/core/pose/a.ts', "import { Vector3 } from 'three';"],
    ['src/core/pose/a.ts', "import { Vector3 } from 'three/webgpu';"],
    ['src/core/pose/a.ts', "import type { ReactNode } from 'react';"],
    ['src/core/pose/a.ts', "import { readFileSync } from 'node:fs';"],
    ['src/core/pose/a.ts', "import { Body } from 'cannon-es';"],
    ['src/core/pose/a.ts', "import x from '../../../tests/support/x.ts';"],
    ['src/core/novel/a.ts', "import { x } from '../sheet/sheet.ts';"],
    ['src/scene/a.ts', "import type { X } from '../interface/desk.ts';"],
    ['src/scene/a.ts', "import { x } from '../desk/store.ts';"],
    ['src/desk/a.ts', "import { x } from '../interface/desk.ts';"],
    ['src/desk/play/a.ts', "import type { X } from '../../scene/stage.ts';"],
    ['src/desk/a.ts', "import { useState } from 'react';"],
    ['src/desk/a.ts', "import type { Vector3 } from 'three';"],
    ['src/words/a.ts', "import { x } from '../desk/store.ts';"],
    ['src/core/run/a.ts', "import { words } from '../../words/words.ts';"],
    ['src/keep/a.ts', "import { x } from '../interface/desk.ts';"],
    ['src/core/storage/a.ts', "import { x } from '../../keep/shelf.ts';"],
    ['src/command/a.ts', "import { x } from '../worker/jobs.ts';"],
    ['src/worker/a.ts', "import { x } from '../scene/stage.ts';"],
    ['src/worker/a.ts', "new Worker(new URL('../interface/x.ts', import.meta.url));"],
  ])('%s: %s', (file, source) => {
    expect(wrongImports(file, source)).toHaveLength(1);
  });

  test.each([
    ['src/core/pose/a.ts', "import { x } from '../sheet/sheet.ts';\nimport Flatbush from 'flatbush';"],
    ['src/core/numeric/a.ts', "import type { Finding } from '../finding/finding.ts';"],
    ['src/core/sheet/a.ts', "// import { x } from '../pose/place.ts';\n/* from '../pose/place.ts' */"],
    ['src/scene/a.ts', "import shader from '../../shaders/paper.glsl?raw';"],
    ['src/interface/a.tsx', "import { x } from '../scene/stage.ts';"],
    ['src/command/a.ts', "import { readFileSync } from 'node:fs';"],
  ])('%s may: %s', (file, source) => {
    expect(wrongImports(file, source)).toEqual([]);
  });
});
