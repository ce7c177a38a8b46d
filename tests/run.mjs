// Runs every check in turn and ends with one plain line "N passed, N failed". Types, lint and build count one each.
// With --soak: the long runs of the unit tests, the page killed two hundred times, every moment drawn as ordered, and the
// specs in other words.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const scratch = mkdtempSync(join(tmpdir(), 'creaseway-test-'));
const soak = process.argv.includes('--soak');
if (soak) process.env.CREASEWAY_SOAK = '1';
const total = { passed: 0, failed: 0, skipped: 0 };

function heading(title) {
  console.log(`\n== ${title}`);
}

function count(passed, failed) {
  total.passed += passed;
  total.failed += failed;
  console.log(`-- ${passed} passed, ${failed} failed`);
}

/** Runs a program of node_modules with its output shown; true when it ended well. */
function run(program, args, environment = {}) {
  const file = join('node_modules', '.bin', program);
  if (!existsSync(file)) {
    console.log(`${program} is missing: run npm ci first.`);
    return false;
  }
  const done = spawnSync(file, args, { stdio: 'inherit', env: { ...process.env, ...environment } });
  return done.status === 0;
}

function one(title, ...commands) {
  heading(title);
  const good = commands.every(([program, ...args]) => run(program, args));
  count(good ? 1 : 0, good ? 0 : 1);
}

/** Reads a runner's report; a runner that wrote none, or failed without a failed test, counts as one failure. */
function sum(title, report, good, read) {
  let numbers = { passed: 0, failed: 0 };
  try {
    numbers = read(JSON.parse(readFileSync(report, 'utf8')));
  } catch {
    console.log(`${title} ended without a report.`);
  }
  const { passed, failed } = numbers;
  count(passed, good ? failed : Math.max(failed, 1));
}

function unitTests() {
  heading('Boundaries, units and outside checks');
  const report = join(scratch, 'vitest.json');
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const good = run('vitest', ['run', ...reporters]);
  sum('vitest', report, good, (json) => ({
    passed: json.numPassedTests,
    // a file that cannot be read has no tests to fail
    failed:
      json.numFailedTests +
      json.testResults.filter((f) => f.status === 'failed' && f.assertionResults.length === 0).length,
  }));
}

function chromium() {
  const places = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-headless-shell'];
  return places.find((place) => place && existsSync(place));
}

function browserTests() {
  heading('Browser tests');
  const config = join('tests', 'browser', 'playwright.config.ts');
  if (!existsSync(config)) {
    console.log(`${config} is missing, so no browser test can run.`);
    return count(0, 1);
  }
  const browser = chromium();
  if (!browser) {
    console.log(
      'No Chromium was found: install the package "chromium", or name one in the variable CHROMIUM.',
    );
    if (process.env.CI === 'true') return count(0, 1);
    total.skipped++;
    return console.log('!! BROWSER TESTS SKIPPED: nothing on screen was checked.');
  }
  const environment = { CHROMIUM: browser };
  // all workers of the runner are told one seed
  if (soak) environment.CREASEWAY_SEED = process.env.CREASEWAY_SEED ?? String(Date.now() % 2 ** 31);
  const runs = soak
    ? [
        ['--project', 'page', '--grep', 'killing the page|moment after moment'],
        ...['made-up-desk', 'made-up-rtl-desk', 'made-up-phone', 'made-up-rtl-phone'].map((name) => [
          '--project',
          name,
        ]),
      ]
    : [[]];
  for (const which of runs) playwright(config, environment, which);
}

function playwright(config, environment, which) {
  const report = join(scratch, 'playwright.json');
  rmSync(report, { force: true });
  const good = run('playwright', ['test', '-c', config, '--reporter=list,json', ...which], {
    ...environment,
    PLAYWRIGHT_JSON_OUTPUT_NAME: report,
  });
  sum(['playwright', ...which].join(' '), report, good, ({ stats }) => ({
    passed: stats.expected + stats.flaky,
    failed: stats.unexpected,
  }));
}

if (!soak) {
  one('Types', ['tsc', '-p', 'src/core'], ['tsc', '-p', 'src/desk'], ['tsc', '-p', '.']);
  one('Lint', ['biome', 'check', '.']);
}
unitTests();
one('Build', ['vite', 'build']);
browserTests();

rmSync(scratch, { recursive: true, force: true });
if (total.skipped > 0) console.log('\nThe browser tests were skipped for want of a Chromium.');
console.log(`\n${total.passed} passed, ${total.failed} failed`);
process.exitCode = total.failed > 0 ? 1 : 0;
