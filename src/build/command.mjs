// Builds the command line as one file, so that it starts at once and can be installed without anything beside it.
import { chmodSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = join(import.meta.dirname, '..', '..');
export const commandFile = join(root, 'dist', 'command', 'creaseway.mjs');

/** @param outfile where the built file is put */
export async function buildCommand(outfile = commandFile) {
  await build({
    entryPoints: [join(root, 'src', 'command', 'creaseway.ts')],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    minifySyntax: true,
    minifyWhitespace: true,
    legalComments: 'none',
    logLevel: 'error',
  });
  chmodSync(outfile, 0o755);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await buildCommand();
