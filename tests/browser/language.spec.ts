/** A made-up language, longer than English and every text in brackets, goes through every room; once from right to left. */
import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { textsAreWhole } from './other-words.ts';
import { drop, expect, file, openTable, test } from './support.ts';

const sizes = {
  desk: { width: 1440, height: 900 },
  phone: { width: 390, height: 844 },
} as const;

const expectWhole = (page: Page, room: string) => test.step(room, () => textsAreWhole(page, room));

/** Through every room that keys and menus lead to, each looked at while it is open. */
async function walk(page: Page, isPhone: boolean): Promise<void> {
  await expectWhole(page, 'the table');
  for (const [key, room] of [
    ['g', 'glass'],
    ['v', 'fan'],
    ['c', 'slice'],
    ['l', 'peel'],
  ] as const) {
    await page.keyboard.press(key);
    await expect(page.locator('.inside-rows:visible')).toHaveCount(1);
    await expectWhole(page, room);
    await page.keyboard.press('Escape');
  }
  await page.keyboard.press('p');
  await expect(page.getByRole('dialog')).toBeVisible();
  await expectWhole(page, 'paper');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await page.keyboard.press('?');
  await expect(page.getByRole('dialog')).toBeVisible();
  await expectWhole(page, 'keys');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  const menus = page.locator('header button[aria-haspopup]:visible');
  for (let k = 0; k < (await menus.count()); k++) {
    await menus.nth(k).click();
    await expect(page.getByRole('menu')).toBeVisible();
    await expectWhole(page, `menu ${k + 1} of the header`);
    await page.keyboard.press('Escape');
    await expect(page.getByRole('menu')).toHaveCount(0);
  }
  for (const panel of ['Your lessons', 'About this lesson', 'Versions']) {
    await page
      .locator(`header button[aria-haspopup]${isPhone ? '.narrow-only' : '.wide-only'}`)
      .first()
      .click();
    await page.getByRole('menuitem', { name: panel }).click();
    await expect(page.getByRole('dialog')).toBeVisible();
    await expectWhole(page, panel);
    await page.keyboard.press('Escape');
    await expect(page.getByRole('dialog')).toHaveCount(0);
  }
  await page.getByRole('button', { name: 'Change “' }).first().click();
  await expect(page.getByRole('menu')).toBeVisible();
  await expectWhole(page, 'the menu of a step');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('menu')).toHaveCount(0);
  if (isPhone) return;
  await page.locator('.sheet-board').focus();
  await page.keyboard.press('ArrowRight');
  await expect(page.getByTestId('selection')).toBeVisible();
  await expectWhole(page, 'a crease in the column');
  await page.keyboard.press('Escape');
  await page.keyboard.press('a');
  await expect(page.getByText('Point at two places')).toBeVisible();
  await expectWhole(page, 'folding on the model');
  await page.keyboard.press('Escape');
  await page.keyboard.press('e');
  const tool = page.locator('.draw-tool');
  await expect(tool).toBeVisible();
  for (const [key, name] of [
    ['8', 'Beside, at a distance'],
    ['9', 'Equal parts'],
    ['g', 'Grid'],
    ['s', 'Pick lines'],
    ['k', 'Change the kind'],
    ['x', 'Erase'],
    ['p', 'Move a point'],
    ['1', 'Through two points'],
  ] as const) {
    await page.keyboard.press(key);
    await expect(tool).toContainText(name);
    await expectWhole(page, `drawing, ${key}`);
  }
  await tool.click();
  await expect(page.getByRole('menu')).toBeVisible();
  await expectWhole(page, 'the tools of drawing');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('menu')).toHaveCount(0);
}

/** What is asked of a drawing before it is opened. */
async function walkDrawing(page: Page): Promise<void> {
  const drawing = readFileSync(new URL('../fixtures/drawings/zc-two-sheets.svg', import.meta.url));
  await drop(page, file('Long pencil case.svg', drawing));
  const dialog = page.getByRole('dialog');
  await expect(dialog).toContainText('Which of these 2 sheets?');
  await expectWhole(page, 'several sheets');
  await dialog.getByRole('button', { name: 'Sheet 1' }).click();
  await expect(dialog).toContainText('What do these lines mean?');
  await expectWhole(page, 'the lines of a drawing');
  await page.keyboard.press('Escape');
  await expect(dialog).toHaveCount(0);
}

test.describe('longer', () => {
  test.use({ speech: 'made-up' });
  for (const [name, viewport] of Object.entries(sizes))
    test(`a made-up language fits every room of a ${name}`, async ({ page }) => {
      await page.setViewportSize(viewport);
      await openTable(page);
      await walk(page, name === 'phone');
      await walkDrawing(page);
    });
});

test.describe('from right to left', () => {
  test.use({ speech: 'made-up-rtl' });
  test('a language from right to left fits every room', async ({ page }) => {
    await openTable(page);
    await expect(page.locator('html')).toHaveAttribute('dir', 'rtl');
    await walk(page, false);
  });
});

test('an unknown language leaves the words as they are', async ({ page }) => {
  await page.goto('./?words=nobody');
  await expect(page.getByRole('button', { name: 'Lessons' })).toBeVisible();
  await expect(page.locator('html')).not.toHaveAttribute('dir', 'rtl');
});
