import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';

/** What comes first is one file: many small ones would be packed less well. */
const firstPart = { name: 'first', test: /src[\\/]main\.tsx$/ };

export default defineConfig({
  base: './',
  plugins: [react()],
  worker: { format: 'es' },
  build: {
    target: 'es2022',
    outDir: 'dist/page',
    chunkSizeWarningLimit: 1200,
    rolldownOptions: { output: { codeSplitting: { groups: [firstPart] } } },
  },
  test: {
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/support/speak.ts'],
    testTimeout: 120_000,
    maxWorkers: 2,
  },
});
