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

/** The model's scripts: those that its own part of the page names. */
function modelScripts(): string[] {
  const assets = readdirSync(join(page, 'assets'));
  return assets.filter((name) => /^mount-.*\.js$/.test(name)).map((name) => `assets/${name}`);
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
