import { existsSync } from 'node:fs';
import { defineConfig } from '@playwright/test';
import { LEFT_OUT, NOT_ON_A_PHONE, type Speech } from './other-words.ts';

const browser = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-headless-shell'].find(
  (place) => place && existsSync(place),
);
if (!browser)
  throw new Error(
    'No Chromium was found: install the package "chromium", or name one in the variable CHROMIUM.',
  );

/** Every spec once more in the made-up language, and from right to left; on a desk and on a phone. */
const inOtherWords = (['made-up', 'made-up-rtl'] as const).flatMap((speech) =>
  (['desk', 'phone'] as const).map((size) => ({
    name: `${speech}-${size}`,
    use: { speech, ...(size === 'phone' ? { viewport: { width: 390, height: 844 } } : {}) },
    grepInvert: [...LEFT_OUT, ...(size === 'phone' ? NOT_ON_A_PHONE : [])].map(({ what }) => what),
  })),
);

const port = Number(process.env.CREASEWAY_PORT ?? 4187);
const folder = process.env.CREASEWAY_DIST ?? 'dist/page';

/** Tests of the built page (run `vite build` first), in a real Chromium that draws in software. */
export default defineConfig<{ speech: Speech }>({
  testDir: '.',
  testMatch: '*.spec.ts',
  outputDir: '../../test-results',
  timeout: 60_000,
  workers: 2,
  fullyParallel: false,
  forbidOnly: true,
  // drawing in software beside other work, a machine may miss a moment once; a test that fails twice has failed
  retries: 1,
  use: {
    baseURL: `http://localhost:${port}/`,
    viewport: { width: 1440, height: 900 },
    colorScheme: 'light',
    // pictures drawn in software cost more than all else: a spec asks for motion where motion is what it is about
    contextOptions: { reducedMotion: 'reduce' },
    launchOptions: {
      executablePath: browser,
      args: [
        '--no-sandbox',
        '--use-angle=swiftshader',
        '--enable-unsafe-swiftshader',
        // the page is painted without the emulated graphics card, several times faster; WebGL and layers still go through it
        '--disable-gpu-rasterization',
        '--disable-background-networking',
      ],
    },
  },
  // what counts the pauses of the page runs last and alone: other work beside it would be counted, too
  projects: [
    { name: 'page', testIgnore: 'quiet.spec.ts' },
    { name: 'quiet', testMatch: 'quiet.spec.ts', dependencies: ['page'] },
    ...(process.env.CREASEWAY_SOAK === '1' ? inOtherWords : []),
  ],
  webServer: {
    command: `node node_modules/vite/bin/vite.js preview --outDir ${folder} --port ${port} --strictPort`,
    cwd: `${import.meta.dirname}/../..`,
    url: `http://localhost:${port}/`,
    reuseExistingServer: false,
  },
});
