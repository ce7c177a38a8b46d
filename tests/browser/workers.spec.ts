/** The worker of layers is slow, cannot be loaded, throws or dies: nothing is praised that was not looked at. */
import type { Page } from '@playwright/test';
import { words } from '../../src/words/words.ts';
import { expect, test } from './other-words.ts';

/** What a broken worker does. */
type Trouble = 'slow' | 'unloadable' | 'throwing' | 'killed';

/**
 * Puts the trouble into every worker of layers that the page starts while it lasts, and watches the summary at every
 * frame: whenever it praises, the answers of all steps must have come.
 */
async function troubled(page: Page, trouble: Trouble): Promise<void> {
  await page.addInitScript((what) => {
    const state = { lasts: true, praisedAt: [] as number[], answers: 0, started: [] as Worker[] };
    Object.assign(window, { troubleState: state });
    const Real = window.Worker;
    class Watched extends Real {
      constructor(url: string | URL, options?: WorkerOptions) {
        const ofLayers = String(url).includes('layer');
        const broken = ofLayers && state.lasts && what === 'unloadable';
        super(broken ? new URL('no-such-worker.js', location.href) : url, options);
        if (!ofLayers) return;
        this.addEventListener('message', ({ data }) => {
          if (data.kind === 'look') state.answers++;
        });
        if (!state.lasts) return;
        state.started.push(this);
        const post = this.postMessage.bind(this) as (message: unknown) => void;
        if (what === 'slow')
          this.postMessage = (message: unknown) => void setTimeout(() => post(message), 1500);
        // a message that the worker's code cannot take
        if (what === 'throwing') this.postMessage = () => post(null);
        if (what === 'killed') {
          this.postMessage = (message: unknown) => {
            post(message);
            this.terminate();
          };
        }
      }
    }
    window.Worker = Watched as typeof Worker;
    const watch = () => {
      const praised = document.querySelector('[data-testid=summary] .is-well');
      if (praised) state.praisedAt.push(state.answers);
      requestAnimationFrame(watch);
    };
    requestAnimationFrame(watch);
  }, trouble);
}

interface TroubleState {
  lasts: boolean;
  readonly praisedAt: readonly number[];
  readonly answers: number;
}

const stateOf = (page: Page): Promise<TroubleState> =>
  page.evaluate(() => (window as unknown as { troubleState: TroubleState }).troubleState);

const summary = (page: Page) => page.getByTestId('summary');

/** Of the first sample lesson: praise needs one look for each. */
const STEPS = 6;

test('a slow worker: no praise before its last answer, and then there is', async ({ page }) => {
  await troubled(page, 'slow');
  await page.goto('./');
  await expect(summary(page)).toContainText(/are being looked at/, { timeout: 30_000 });
  await expect(summary(page).locator('.is-well')).toBeVisible({ timeout: 60_000 });
  const { praisedAt } = await stateOf(page);
  expect(Math.min(...praisedAt)).toBeGreaterThanOrEqual(STEPS);
});

for (const trouble of ['unloadable', 'throwing', 'killed'] as const)
  test(`a worker of layers that is ${trouble}: the page says so, and tries again at a press`, async ({
    page,
  }) => {
    test.setTimeout(120_000);
    await troubled(page, trouble);
    await page.goto('./');
    const again = page.getByTestId('summary').getByRole('button', { name: words.tryAgain });
    await expect(again).toBeVisible({ timeout: 60_000 });
    await expect(summary(page)).toContainText('could not be looked at');
    const before = await stateOf(page);
    expect([before.praisedAt.length, before.answers]).toEqual([0, 0]);
    // the trouble is over
    await page.evaluate(() => {
      (window as unknown as { troubleState: TroubleState }).troubleState.lasts = false;
    });
    await again.click();
    await expect(summary(page).locator('.is-well')).toBeVisible({ timeout: 60_000 });
    const { praisedAt } = await stateOf(page);
    expect(Math.min(...praisedAt)).toBeGreaterThanOrEqual(STEPS);
  });
