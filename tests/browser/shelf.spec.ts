/** The list of kept lessons, versions and credits, by pointer and by keys. */
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { expect, idle, openLessons, openTable, ready, test } from './support.ts';

async function panel(page: Page, name: RegExp) {
  await openLessons(page);
  await page.getByRole('menuitem', { name }).click();
  const dialog = page.getByRole('dialog');
  await expect(dialog).toBeVisible();
  return dialog;
}

async function leave(page: Page): Promise<void> {
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toHaveCount(0);
}

async function clean(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => `${id} ${nodes[0]?.target}`)).toEqual([]);
}

/** A picture for whoever wants to look, where a folder is named. */
async function look(page: Page, name: string): Promise<void> {
  const folder = process.env.CREASEWAY_LOOK;
  if (folder) await page.screenshot({ path: `${folder}/${name}.png` });
}

test('credits are stated in the panel, kept, and read again', async ({ page }) => {
  await openTable(page);
  let about = await panel(page, /About this lesson/);
  await about.getByLabel('Title').fill('Case for charcoal');
  await about.getByLabel('Where it is from').fill('A flyer of the fair');
  await about.getByText('granted').click();
  // the sample allows all; one of these is taken back
  await about.getByText('posted').click();
  await clean(page);
  await look(page, 'about');
  await leave(page);
  await page.reload();
  await ready(page, 'Case for charcoal');
  about = await panel(page, /About this lesson/);
  await expect(about.getByLabel('Where it is from')).toHaveValue('A flyer of the fair');
  await expect(about.getByRole('radio', { name: 'granted' })).toBeChecked();
  await expect(about.getByRole('checkbox', { name: 'filmed' })).toBeChecked();
  await expect(about.getByRole('checkbox', { name: 'posted' })).not.toBeChecked();
});

test('kept lessons are listed, duplicated, renamed, deleted, had back and opened', async ({ page }) => {
  await openTable(page);
  let list = await panel(page, /Your lessons/);
  await expect(list).toContainText('Nothing yet');
  await leave(page);
  await page.keyboard.press('x');
  await idle(page);
  list = await panel(page, /Your lessons/);
  await expect(list.getByRole('listitem')).toHaveCount(1);
  await expect(list.locator('img')).toHaveCount(1);
  const change = async (title: string, what: string) => {
    await list.getByRole('button', { name: `Change “${title}”` }).click();
    await page.getByRole('menuitem', { name: what }).click();
  };
  await change('Long pencil case', 'Duplicate');
  await expect(list.getByRole('listitem')).toHaveCount(2);
  await change('Long pencil case (copy)', 'Rename');
  await page.getByLabel('Name of the lesson').fill('For Tuesday');
  await page.keyboard.press('Enter');
  await expect(list.getByText('For Tuesday')).toBeVisible();
  await clean(page);
  await look(page, 'library');
  await change('For Tuesday', 'Delete');
  await expect(list.getByRole('listitem')).toHaveCount(1);
  await clean(page);
  await list.getByRole('button', { name: 'Undo' }).click();
  await expect(list.getByRole('listitem')).toHaveCount(2);
  await list.getByRole('button', { name: 'For Tuesday', exact: true }).click();
  await ready(page, 'For Tuesday');
});

test('a version is gone back to as an edit that undo takes back', async ({ page }) => {
  await openTable(page);
  let versions = await panel(page, /Versions/);
  await versions.getByLabel('Name of this version').fill('Before the fair');
  await page.keyboard.press('Enter');
  await expect(versions.getByText('Before the fair', { exact: true })).toBeVisible();
  await clean(page);
  await look(page, 'versions');
  await leave(page);
  await page.locator('.card-menu').first().click({ force: true });
  await page.getByRole('menuitem', { name: 'Remove', exact: true }).click();
  const few = page.locator('.card');
  const count = await few.count();
  versions = await panel(page, /Versions/);
  await versions.getByRole('button', { name: 'Go back to “Before the fair”' }).click();
  await expect(few).toHaveCount(count + 1);
  await page.keyboard.press('Control+z');
  await expect(few).toHaveCount(count);
});

test('on a phone the menu leads to the shelf, and the strip of steps follows the slider', async ({
  page,
}) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await openTable(page);
  for (const name of ['Your lessons', 'About this lesson', 'Versions']) {
    await page.getByRole('button', { name: 'More', exact: true }).click();
    await page.getByRole('menuitem', { name: new RegExp(name) }).click();
    await expect(page.getByRole('dialog')).toContainText(name);
    await leave(page);
  }
  await page.getByRole('slider').focus();
  await page.keyboard.press('Home');
  const last = page.locator('.card').last();
  await expect(last).not.toBeInViewport({ ratio: 0.9 });
  for (let k = 0; k < 120; k++) await page.keyboard.press('ArrowRight');
  await expect(last).toBeInViewport({ ratio: 0.9 });
});
