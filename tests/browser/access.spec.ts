import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { expect, foldTo, openTable, test } from './support.ts';

const sizes = {
  desk: { width: 1440, height: 900 },
  phone: { width: 390, height: 844 },
} as const;

async function violations(page: Page): Promise<string[]> {
  const { violations: found } = await new AxeBuilder({ page }).analyze();
  return found.map((one) => `${one.id}: ${one.nodes.map((node) => node.target.join(' ')).join(', ')}`);
}

for (const [name, viewport] of Object.entries(sizes))
  for (const colorScheme of ['light', 'dark'] as const)
    test(`axe finds nothing on the ${colorScheme} table of a ${name}`, async ({ page }) => {
      await page.setViewportSize(viewport);
      await page.emulateMedia({ colorScheme });
      await openTable(page);
      await foldTo(page, 1.5);
      expect(await violations(page)).toEqual([]);
      const clipped = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
      expect(clipped).toBe(false);
    });

test('axe finds nothing in the popover, the keys and a selection', async ({ page }) => {
  await openTable(page);
  await page.keyboard.press('p');
  await expect(page.getByLabel('Longer side, mm')).toBeVisible();
  expect(await violations(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await page.locator('.sheet-board').focus();
  await page.keyboard.press('ArrowRight');
  expect(await violations(page)).toEqual([]);
  await page.keyboard.press('?');
  await expect(page.getByRole('dialog')).toBeVisible();
  expect(await violations(page)).toEqual([]);
});

test('on a phone the sheet is one tab away and a selection rises from below', async ({ page }) => {
  await page.setViewportSize(sizes.phone);
  await openTable(page);
  await expect(page.locator('.model-view')).toBeVisible();
  await page.getByRole('radio', { name: 'Sheet' }).click();
  await expect(page.locator('.sheet-view')).toBeVisible();
  await expect(page.locator('.model-view')).toBeHidden();
  await page.locator('.sheet-board').focus();
  await page.keyboard.press('ArrowRight');
  await expect(page.locator('.bottom-sheet')).toContainText('Raw edge');
  await page.locator('.bottom-sheet').getByRole('button', { name: 'Close' }).click();
  await expect(page.locator('.bottom-sheet')).toHaveCount(0);
});

test('a phone says what is wrong and tells more above the slider', async ({ page }) => {
  await page.setViewportSize(sizes.phone);
  await openTable(page);
  await page.getByRole('button', { name: 'More', exact: true }).click();
  await page.getByRole('menuitem', { name: /twist/ }).click();
  await expect(page.getByTestId('phone-words')).toContainText('no motion was found beyond', {
    timeout: 20_000,
  });
  await page.getByTestId('phone-words').click();
  const told = page.locator('.bottom-sheet');
  await expect(told).toContainText('does not fold as asked');
  const [sheet, track] = [await told.boundingBox(), await page.locator('.track').boundingBox()];
  expect(sheet!.y + sheet!.height).toBeLessThanOrEqual(track!.y);
  expect(await violations(page)).toEqual([]);
});
