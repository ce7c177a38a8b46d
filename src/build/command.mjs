// Builds the command line so that it starts at once and can be installed without anything else: readers that are large stand
// in files of their own, which are loaded when a file asks for them.
import { chmodSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = join(import.meta.dirname, '..', '..');
export const commandFile = join(root, 'dist', 'command', 'creaseway.mjs');

/** @param folder where the built files are put */
export async function buildCommand(folder = dirname(commandFile)) {
  rmSync(folder, { recursive: true, force: true });
  await build({
    entryPoints: [join(root, 'src', 'command', 'creaseway.ts')],
    outdir: folder,
    outExtension: { '.js': '.mjs' },
    chunkNames: 'parts/[name]-[hash]',
    splitting: true,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    minifySyntax: true,
    minifyWhitespace: true,
    legalComments: 'none',
    logLevel: 'error',
  });
  chmodSync(join(folder, 'creaseway.mjs'), 0o755);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await buildCommand();
