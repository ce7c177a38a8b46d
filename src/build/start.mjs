// Serves the built tool and opens it; builds it before where a source is newer than what was built.
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { build, preview } from 'vite';

const root = join(import.meta.dirname, '..', '..');
const sources = [
  'src',
  'public',
  'shaders',
  'index.html',
  'vite.config.ts',
  'package.json',
  'package-lock.json',
];
const built = join(root, 'dist', 'page', 'index.html');

const changed = (path) => statSync(join(root, path)).mtimeMs;

/** When the youngest of the sources was changed. */
function youngest() {
  const files = sources.flatMap((source) =>
    statSync(join(root, source)).isDirectory()
      ? readdirSync(join(root, source), { recursive: true }).map((name) => join(source, name))
      : [source],
  );
  return Math.max(...files.map(changed));
}

if (!existsSync(built) || statSync(built).mtimeMs < youngest()) {
  console.log('Building Creaseway ...');
  await build({ root, logLevel: 'warn' });
}
const server = await preview({ root, preview: { open: !process.argv.includes('--no-open') } });
server.printUrls();
