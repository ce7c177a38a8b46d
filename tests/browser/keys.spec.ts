/** A whole lesson by keys alone, and where the keyboard is afterwards. */
import type { Page } from '@playwright/test';
import { expect, openTable, savedLesson, test } from './support.ts';

/** Presses keys and counts them; typed text does not count. */
class Keys {
  presses = 0;
  constructor(private readonly page: Page) {}

  async press(...keys: string[]): Promise<void> {
    for (const key of keys) {
      this.presses++;
      await this.page.keyboard.press(key);
    }
  }

  type = (text: string) => this.page.keyboard.type(text);

  /** Presses keys in turn until something is so. */
  async until(turn: readonly string[], isSo: () => Promise<boolean>): Promise<void> {
    for (let k = 0; k < 20 && !(await isSo()); k++) await this.press(turn[k % turn.length]!);
    expect(await isSo()).toBe(true);
  }
}

const focusIsOn = (page: Page, name: string | RegExp) => async () =>
  (await page.getByRole('button', { name, exact: true }).and(page.locator(':focus')).count()) === 1;

test('by keys alone: two lines by numbers, two folds in two steps, words, saved, in at most 60 presses', async ({
  page,
}) => {
  await openTable(page);
  const keys = new Keys(page);
  const sentence = page.locator('.column .sentence-input');
  await keys.press('F6');
  await expect(page.locator('.header :focus')).toHaveCount(1);
  await keys.until(['Tab'], focusIsOn(page, 'Lessons'));
  await keys.press('Enter');
  await expect(page.locator('[role=menuitem]:focus')).toHaveCount(1);
  const entry = page.getByRole('menuitem', { name: 'New lesson' }).and(page.locator(':focus'));
  await keys.until(['ArrowDown'], async () => (await entry.count()) === 1);
  await keys.press('Enter');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('New lesson');
  await expect(page.locator('.draw-rows')).toBeVisible();

  await keys.press('/');
  await expect(page.locator('.draw-place input')).toBeFocused();
  for (const place of ['50, 0', '50, 150', '100, 0', '100, 150']) {
    await keys.type(place);
    await keys.press('Enter');
  }
  await keys.press('Escape', 'e');
  await expect(page.locator('.sheet-board')).toBeFocused();
  const valley = () => page.locator('.column .selected-title').textContent();
  const onValley = async () => ((await valley()) ?? '').includes('Valley');
  await keys.press('ArrowUp');
  await keys.until(['ArrowUp', 'ArrowRight'], onValley);
  const first = await valley();
  await keys.press('h');
  await expect(page.locator('.card')).toHaveCount(1);
  await keys.press('i');
  await expect(sentence).toBeFocused();
  await keys.type('Fold a third over.');
  for (const room of ['.storyboard input', '.header button', '.sheet-board']) {
    await keys.press('F6');
    await expect(page.locator(room).and(page.locator(':focus'))).toHaveCount(1);
  }
  await keys.until(['ArrowRight'], async () => (await onValley()) && (await valley()) !== first);
  await keys.press('h');
  await expect(page.locator('.card')).toHaveCount(2);
  await expect(sentence).toHaveValue('');
  await keys.press('i');
  await expect(sentence).toBeFocused();
  await keys.type('Fold the other third over it.');
  const download = page.waitForEvent('download');
  await keys.press('Control+s');
  await (await download).path();
  expect(keys.presses).toBeLessThanOrEqual(60);

  const { pattern, steps } = await savedLesson(page);
  expect(pattern.lines).toHaveLength(2);
  expect(steps.map(({ sentence }) => sentence)).toEqual([
    'Fold a third over.',
    'Fold the other third over it.',
  ]);
  for (const { drives } of steps) expect(drives.length).toBeGreaterThan(0);
});

test('the keyboard comes back after a menu, a panel and the large section', async ({ page }) => {
  await openTable(page);
  const lessons = page.getByRole('button', { name: 'Lessons', exact: true });
  await lessons.focus();
  await page.keyboard.press('Enter');
  await expect(page.locator('[role=menuitem]:focus')).toHaveCount(1);
  await page.keyboard.press('Escape');
  await expect(lessons).toBeFocused();

  const about = page.getByRole('button', { name: 'About this lesson' });
  await about.focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('dialog')).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(about).toBeFocused();

  await page.getByRole('slider').focus();
  await page.keyboard.press('End');
  await page.keyboard.press('c');
  const large = page.getByRole('button', { name: 'Draw it large' });
  await large.focus();
  await page.keyboard.press('Enter');
  const section = page.getByRole('region', { name: 'The section, large' });
  await expect(section.getByRole('img')).toBeVisible();
  expect((await section.getByRole('img').boundingBox())!.height).toBeGreaterThan(300);
  await page.keyboard.press('Escape');
  await expect(section).toHaveCount(0);
  await expect(large).toBeFocused();
});
