/** How much comes before the tool can be used, and how soon the command line answers. */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { buildCommand, commandFile } from '../../src/build/command.mjs';
import { best, heading, row } from './measure.ts';

const root = join(import.meta.dirname, '..', '..');
const page = join(root, 'dist', 'page');

/** Script as it is sent, kB (gzip). */
const sent = (files: readonly string[]) =>
  files.reduce((sum, file) => sum + gzipSync(readFileSync(join(page, file))).length, 0) / 1000;

/** Scripts that the page names itself: nothing shows before they have come. */
function firstScripts(): string[] {
  const html = readFileSync(join(page, 'index.html'), 'utf8');
  return [...html.matchAll(/(?:src|href)="\.\/(assets\/[^"]+\.js)"/g)].map((match) => match[1]!);
}

/** What is fetched for the model: the stage, what ties it to the desk, and how paper is drawn and looked into. */
const forModel = /^(?:mount|drawn-paper)-[^.]*\.js$/;

/** These scripts and all that they take from others. */
function modelScripts(): string[] {
  const found = new Set<string>();
  const follow = (name: string): void => {
    if (found.has(name)) return;
    found.add(name);
    const code = readFileSync(join(page, 'assets', name), 'utf8');
    for (const [, other] of code.matchAll(/(?:from|import)\s*"\.\/([^"]+\.js)"/g)) follow(other!);
  };
  readdirSync(join(page, 'assets'))
    .filter((name) => forModel.test(name))
    .forEach(follow);
  const first = new Set(firstScripts());
  return [...found].map((name) => `assets/${name}`).filter((name) => !first.has(name));
}

export async function benchOpening(): Promise<void> {
  heading('Script before the tool can be used (kB, gzip)');
  if (existsSync(join(page, 'index.html'))) {
    const [first, model] = [sent(firstScripts()), sent(modelScripts())];
    row('shell', first, '(goal at most 170)', 'with the model', first + model, '(goal at most 380)');
  } else row('not built: npm run build');

  heading('Start of the command line, against plain node -e 0 (ms, best)');
  await buildCommand();
  const call = (...words: string[]) =>
    best(9, () => spawnSync(process.execPath, words, { encoding: 'utf8' }).status);
  const plain = call('-e', '0');
  const help = call(commandFile, '--help');
  const check = call(commandFile, 'check', join(root, 'tests', 'fixtures', 's1.svg'));
  row('node -e 0', plain);
  row('--help', help, 'ratio', help / plain, '(goal at most 2)');
  row('check of S1', check, 'ratio', check / plain, '(goal at most 4)');
}
