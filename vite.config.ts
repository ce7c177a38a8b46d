import { readFile } from 'node:fs/promises';
import react from '@vitejs/plugin-react';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';

/** What comes first is one file: many small ones would be packed less well. */
const firstPart = { name: 'first', test: /src[\\/]main\.tsx$/ };

/** So is what says how the paper of the model lies. */
const paperPart = {
  name: 'drawn-paper',
  test: /src[\\/]desk[\\/](?:play[\\/]painter|tools[\\/]inside-reads)\.ts$/,
};

/** Shaders are sent without what only a reader needs: our comments, and all indents. */
const leanShaders: Plugin = {
  name: 'lean-shaders',
  enforce: 'pre',
  async load(id) {
    if (!id.endsWith('.glsl?raw')) return null;
    const text = await readFile(id.replace(/\?raw$/, ''), 'utf8');
    const lines = text.split('\n').map((line) => line.replace(/\/\/.*/, '').trim());
    return `export default ${JSON.stringify(lines.filter((line) => line !== '').join('\n'))};`;
  },
  transform: (code, id) => (id.includes('/three/build/') ? code.replace(/\n\t+/g, '\n') : null),
};

/**
 * What the built page may do: nothing that a file brings along is run, and nothing is asked of another place. Pictures may
 * come from the page itself; the solver runs its loops as WebAssembly.
 */
const policy = [
  "default-src 'self'",
  "script-src 'self' 'wasm-unsafe-eval'",
  // the one rule that the interface parts write into the page, known by its hash: how a finger moves on what can be pressed
  "style-src 'self' 'sha256-38RhXrc7EdReTKsOm23ZPOCUgniTUUcjky8QOOrQx6o='",
  "img-src 'self' blob: data:",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

const policyInPage: Plugin = {
  name: 'policy-in-page',
  apply: 'build',
  transformIndexHtml: () => [
    {
      tag: 'meta',
      attrs: { 'http-equiv': 'Content-Security-Policy', content: policy },
      injectTo: 'head-prepend',
    },
  ],
};

/** The letters that the page begins with are asked for at once: nothing moves when they come. */
const firstLetters: Plugin = {
  name: 'first-letters',
  apply: 'build',
  transformIndexHtml: {
    order: 'post',
    handler: (_, { bundle }) =>
      Object.keys(bundle ?? {})
        .filter((file) => /(?:figtree-latin-wght|newsreader-latin-opsz)-normal[^/]*\.woff2$/.test(file))
        .map((file) => ({
          tag: 'link',
          attrs: { rel: 'preload', as: 'font', type: 'font/woff2', crossorigin: '', href: `./${file}` },
          injectTo: 'head-prepend' as const,
        })),
  },
};

export default defineConfig({
  base: './',
  plugins: [react(), leanShaders, firstLetters, policyInPage],
  worker: { format: 'es' },
  build: {
    target: 'es2022',
    outDir: 'dist/page',
    chunkSizeWarningLimit: 1200,
    rolldownOptions: { output: { codeSplitting: { groups: [firstPart, paperPart] } } },
  },
  test: {
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/support/speak.ts'],
    testTimeout: 120_000,
    maxWorkers: 2,
  },
});
