/** Reads import statements and says which of them go the wrong way. Types count: an arrow is an arrow. */
import { posix } from 'node:path';

/** The layers of core, lowest first; a layer may use those below it. `finding` may be used by all. */
const layers = [
  'numeric',
  'sheet',
  'pose',
  'layer',
  'contact',
  'drawn',
  'colour',
  'paper',
  'landmark',
  'lesson',
  'draw',
  'run',
  'diagram',
  'storage',
];

/** What each part of the program may use besides itself and npm. */
const parts: Record<string, readonly string[]> = {
  core: [],
  words: ['core'],
  worker: ['core'],
  keep: ['core'],
  desk: ['core', 'words', 'worker', 'keep'],
  command: ['core', 'words'],
  build: [],
  scene: ['core'],
  interface: ['core', 'words', 'desk', 'worker', 'keep', 'scene'],
  main: ['interface'],
};

/** Libraries that core, words and desk must do without: they draw nothing, and run in browsers and outside them alike. */
const shutOut =
  /^(three|react|react-dom|react-aria.*|zustand\/react|cannon-es|idb|node:.*|@react-three\/.*)(\/|$)/;
const withoutScreen = ['core', 'words', 'desk'];

/** Every module that a source text names: import, export from, import(), new URL. */
export function importsOf(source: string): string[] {
  const code = source.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
  const patterns = [
    /\b(?:import|export)\b[^'"`;]*?\bfrom\s*['"]([^'"]+)['"]/g,
    /\bimport\s*\(?\s*['"`]([^'"`]+)['"`]/g,
    /\bnew\s+URL\s*\(\s*['"]([^'"]+)['"]/g,
  ];
  return patterns.flatMap((pattern) => Array.from(code.matchAll(pattern), (match) => match[1]!));
}

/** Wrong imports of one file, each as a sentence. `path` is relative to the root, with forward slashes. */
export function wrongImports(path: string, source: string): string[] {
  return importsOf(source).flatMap((name) => {
    const trouble = name.startsWith('.')
      ? wrongPath(path, posix.join(posix.dirname(path), name))
      : wrongLibrary(path, name);
    return trouble === null ? [] : [`${path} imports ${name}: ${trouble}`];
  });
}

function wrongLibrary(path: string, name: string): string | null {
  const part = path.split('/')[1]!;
  return withoutScreen.includes(part) && shutOut.test(name) ? `${part} does without this library` : null;
}

function wrongPath(from: string, to: string): string | null {
  const [root, here] = from.split('/');
  const [otherRoot, there] = to.split('/');
  if (root !== 'src') return null;
  const part = here!.replace(/\.\w+$/, '');
  if (otherRoot !== 'src') {
    return part !== 'core' && (otherRoot === 'shaders' || otherRoot === 'public')
      ? null
      : 'it lies outside src';
  }
  const target = there!.replace(/\.\w+$/, '');
  if (part === target) return part === 'core' ? wrongLayer(from, to) : null;
  const allowed = parts[part];
  if (allowed === undefined) return `${part} is no known part of the program`;
  return allowed.includes(target) ? null : `${part} may not use ${target}`;
}

function wrongLayer(from: string, to: string): string | null {
  const [here, there] = [from.split('/')[2]!, to.split('/')[2]!];
  if (here === there || there === 'finding') return null;
  if (here === 'finding') return 'finding uses nothing';
  const [low, high] = [layers.indexOf(here), layers.indexOf(there)];
  if (low < 0 || high < 0) return `${low < 0 ? here : there} is no known layer of core`;
  return high < low ? null : `${there} lies above ${here}`;
}
