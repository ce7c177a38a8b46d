/** The page says what the run says: the same files in Chromium and in Node, all findings and the sentence above them. */

import { readFileSync } from 'node:fs';
import { callingOf, toldFindings } from '../../src/desk/run/told-findings.ts';
import { sentencesReady } from '../../src/words/findings.ts';
import { words } from '../../src/words/words.ts';
import { type PageRun, runAsPage } from '../support/page-run.ts';
import { expect, file, openByDialog, openTable, test } from './support.ts';

const files = [
  'fixtures/hard/tube-that-overlaps.json',
  'fixtures/hard/strip-through-itself.fold',
  'fixtures/hard/strip-ends-in-each-other.fold',
  'fixtures/hard/map-3-by-3-without-order.fold',
  'fixtures/hard/chain-deepest-late.json',
  'fixtures/hard/corner-beside-a-vertex-4.json',
  'fixtures/hard/four-flaps-tucked-in-order.json',
  'fixtures/s2.svg',
  'fixtures/s3.fold',
  '../public/lessons/tapered-case.json',
] as const;

test.beforeAll(sentencesReady);

const bytesOf = (path: string) => readFileSync(new URL(`../${path}`, import.meta.url));

type Tone = 'is-well' | 'is-bad' | 'plain';

/** The colour that the sentence must have. */
function toneOf({ standing: { is, worst } }: PageRun): Tone {
  if (is === 'sound') return 'is-well';
  return is === 'refused' && worst?.reply === 'no' ? 'is-bad' : 'plain';
}

async function expectAsRun(page: Parameters<typeof openTable>[0], run: PageRun): Promise<void> {
  const summary = page.getByTestId('summary');
  await expect(summary).not.toHaveText(/being|^$/, { timeout: 60_000 });
  const more = page.getByRole('button', { name: /^and \d+ more$/ });
  const told = toldFindings(run.findings, callingOf(run.ready))
    .map(({ sentence }) => sentence)
    .sort();
  if (told.length > 3) await more.click();
  await expect
    .poll(async () => (await page.locator('.finding > :first-child > span').allInnerTexts()).sort())
    .toEqual(told);
  const tone = toneOf(run);
  await expect(summary.locator('.is-well')).toHaveCount(tone === 'is-well' ? 1 : 0);
  await expect(summary.locator('.is-bad')).toHaveCount(tone === 'is-bad' ? 1 : 0);
  const { worst } = run.standing;
  const title = run.ready.lesson.steps[worst?.step ?? 0]!.title;
  if (tone === 'is-bad') await expect(summary).toContainText(words.refused[worst!.question](title));
  if (tone === 'is-well')
    await expect(summary).toHaveText(words.allWell(run.standing.bends, run.standing.tight));
}

for (const path of files)
  test(`${path.split('/').at(-1)}: findings and sentence are those of the run`, async ({ page }) => {
    const run = await runAsPage(path, bytesOf(path));
    await openTable(page);
    await openByDialog(page, file(path.split('/').at(-1)!, bytesOf(path)));
    await expect(page.getByRole('heading', { level: 1 })).toHaveText(run.ready.lesson.title);
    await expectAsRun(page, run);
  });

test('a twist that only bent paper can make: page and run bend it alike', async ({ page }) => {
  const path = 'fixtures/hard/twist-30-degrees.json';
  await openTable(page);
  await openByDialog(page, file('twist.json', bytesOf(path)));
  await expectAsRun(page, await runAsPage(path, bytesOf(path)));
  await page.locator('.column').getByRole('button', { name: words.bend }).click();
  await expect(page.getByTestId('summary').locator('.is-bad')).toHaveCount(0);
  await expectAsRun(page, await runAsPage(path, bytesOf(path), true));
});
