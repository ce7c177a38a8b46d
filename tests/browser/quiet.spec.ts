import { drop, expect, file, idle, inMotion, miura, openTable, test } from './support.ts';

interface Heard {
  readonly kind: string;
  readonly job: number;
  readonly at: number;
}

declare global {
  interface Window {
    heard: Heard[];
    longTasks: { start: number; duration: number }[];
  }
}

test('while a large track computes the page stays free, and after Cancel no pose arrives', async ({
  page,
}) => {
  await inMotion(page);
  test.setTimeout(120_000);
  await page.addInitScript(() => {
    window.heard = [];
    window.longTasks = [];
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries())
        window.longTasks.push({ start: entry.startTime, duration: entry.duration });
    }).observe({ type: 'longtask' });
    const Original = window.Worker;
    window.Worker = class extends Original {
      constructor(url: string | URL, options?: WorkerOptions) {
        super(url, options);
        this.addEventListener('message', ({ data }) => {
          window.heard.push({ kind: data.kind, job: data.job, at: performance.now() });
        });
      }
    };
  });
  await openTable(page);
  await drop(page, file('miura.fold', miura(40)));
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('miura', { timeout: 20_000 });
  await expect(page.locator('.app')).toHaveAttribute('data-panels', '1600');
  const heard = (kind: string) =>
    page.evaluate((wanted) => window.heard.filter((one) => one.kind === wanted).length, kind);
  // Loaded, computed once, every picture taken: from here on nothing is drawn while the slider stays.
  await expect.poll(() => heard('baked'), { timeout: 60_000 }).toBeGreaterThan(1);
  await expect(page.locator('.card img')).toHaveCount(1, { timeout: 20_000 });
  await idle(page);
  const ends = await heard('baked');

  await page.keyboard.press('w');
  await expect.poll(() => heard('baked'), { timeout: 60_000, intervals: [100] }).toBe(ends + 1);
  const seen = await page.evaluate(() => {
    const last = window.heard.findLast((one) => one.kind === 'baked')!;
    const poses = window.heard.filter((one) => one.kind === 'pose' && one.job === last.job);
    const [from, to] = [poses[0]!.at, poses[poses.length - 1]!.at];
    const tasks = window.longTasks.filter((one) => one.start >= from && one.start < to);
    return { poses: poses.length, seconds: (to - from) / 1000, tasks };
  });
  expect(seen.poses).toBeGreaterThan(20);
  expect(seen.tasks, `over ${seen.seconds} s`).toEqual([]);

  // a choice not tried before: tracks that were computed once come back without a pose
  const before = await heard('pose');
  await page.keyboard.press('b');
  await expect.poll(async () => (await heard('pose')) - before, { intervals: [30] }).toBeGreaterThan(2);
  // The key does what the Cancel button does; it needs no aim, and the track is done in two seconds.
  await page.keyboard.press('Escape');
  await expect
    .poll(() => page.evaluate(() => window.heard.some((one) => one.kind === 'cancelled')))
    .toBe(true);
  await page.waitForTimeout(2500);
  const late = await page.evaluate(() => {
    const cancelled = window.heard.findIndex((one) => one.kind === 'cancelled');
    const { job } = window.heard[cancelled]!;
    return window.heard.slice(cancelled + 1).filter((one) => one.job === job);
  });
  expect(late).toEqual([]);
  await expect(page.getByRole('button', { name: 'Compute again' })).toBeVisible();
});
