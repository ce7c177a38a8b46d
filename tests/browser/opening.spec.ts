/** What a page can do before all of it has come, and that nothing moves while it comes. */
import { clickSheet, expect, fact, inMotion, ready, slider, test } from './support.ts';

test('the shell is usable before the script of the model has come', async ({ page }) => {
  await inMotion(page);
  let letGo = () => {};
  const held = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  await page.route(/assets\/mount-[^/]*\.js/, async (route) => {
    await held;
    await route.continue();
  });
  await page.goto('./');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Long pencil case');
  await expect(page.getByTestId('sheet-drawing').locator('.line-valley')).toHaveAttribute('d', /M.*L/);
  await expect(page.locator('.card')).toHaveCount(6);
  await expect(page.locator('.card').first()).toContainText('Hems in, walls up');
  await expect(page.getByTestId('summary')).toHaveText(/^Folds with stiff panels in every step/, {
    timeout: 30_000,
  });
  await expect(page.locator('.app')).toHaveAttribute('data-graphics', 'loading');

  // a crease of the sheet is picked (the front edge of the back wall); its angle follows the slider
  await clickSheet(page, 0.5, 3 / 7);
  await expect(page.locator('.column .selected-title')).toContainText('crease');
  const before = await fact(page, 'Now');
  await slider(page).focus();
  await page.keyboard.press('End');
  await expect.poll(() => fact(page, 'Now')).not.toBe(before);
  await expect(page.locator('.card-here')).toContainText('Press shut');

  letGo();
  await ready(page, 'Long pencil case');
});

interface Shift {
  readonly value: number;
  readonly sources: readonly { readonly node: Node | null }[];
}

for (const [name, width, height] of [
  ['a desk', 1440, 900],
  ['a phone', 390, 844],
] as const)
  test(`nothing shifts while the page opens on ${name}`, async ({ page }) => {
    await inMotion(page);
    await page.setViewportSize({ width, height });
    await page.addInitScript(() => {
      const seen = window as unknown as { shifts: number; shifted: string[] };
      seen.shifts = 0;
      seen.shifted = [];
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries() as (PerformanceEntry & Shift)[]) {
          seen.shifts += entry.value;
          for (const { node } of entry.sources)
            seen.shifted.push(
              `${entry.value.toFixed(4)} ${(node?.parentElement ?? document.body).className}`,
            );
        }
      }).observe({ type: 'layout-shift', buffered: true });
    });
    await page.goto('./');
    await ready(page, 'Long pencil case');
    await expect(page.locator('.card img')).toHaveCount(6, { timeout: 30_000 });
    const { shifts, shifted } = await page.evaluate(() => {
      const { shifts, shifted } = window as unknown as { shifts: number; shifted: string[] };
      return { shifts, shifted };
    });
    expect(shifts, shifted.join('; ')).toBeLessThan(0.02);
  });
