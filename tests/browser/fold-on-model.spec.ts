/** Folds made on the folded model that open a flap, steps that turn the model on the table, and the limits of a class. */
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { blueSquare } from '../support/square.ts';
import {
  blueBox,
  expect,
  file,
  foldTo,
  idle,
  modelPixels,
  openByDialog,
  openTable,
  ready,
  test,
} from './support.ts';

test.setTimeout(120_000);

/** A square of 100 mm, its upper half folded behind; the lower half stays still. */
const folded: Lesson = {
  ...blueSquare,
  title: 'Folded square',
  pattern: { ...blueSquare.pattern, lines: [{ from: [0, 0.5], to: [1, 0.5], kind: 'mountain' }] },
  still: [0.5, 0.2],
  steps: [
    {
      title: 'Half behind',
      sentence: 'Fold the upper half behind.',
      kind: 'fold',
      drives: [{ from: [0, 0.5], to: [1, 0.5], angle: -180 }],
    },
  ],
};

async function openFolded(page: Page): Promise<void> {
  await openTable(page);
  await openByDialog(page, file('folded.json', JSON.stringify(folded)));
  await ready(page, 'Folded square');
  await page.locator('.model-board').focus();
  await page.keyboard.press('6');
  await foldTo(page, 1);
}

/** Points at places of the blue paper, in shares of its box from the upper left. */
async function point(page: Page, ...places: readonly (readonly [number, number])[]): Promise<void> {
  const board = (await page.locator('.model-board').boundingBox())!;
  const box = blueBox(await modelPixels(page));
  for (const [x, y] of places)
    await page.mouse.click(
      board.x + box.left + x * (box.right - box.left),
      board.y + box.top + y * (box.bottom - box.top),
    );
}

const summary = (page: Page) => page.getByTestId('summary');

test('a corner is reversed inside: the step opens the flap and folds rigidly, and undo takes it away', async ({
  page,
}) => {
  await openFolded(page);
  await page.keyboard.press('a');
  await point(page, [0.5, 0], [1, 0.5]);
  await page.getByRole('button', { name: /^Which way/ }).click();
  await expect(page.getByRole('menuitemradio', { name: 'Outside reverse fold' })).toBeVisible();
  await expect(page.getByRole('menuitemradio', { name: 'Petal fold' })).toHaveAttribute(
    'aria-disabled',
    'true',
  );
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);
  await page.getByRole('menuitemradio', { name: 'Inside reverse fold' }).click();
  await page.getByRole('button', { name: 'Fold', exact: true }).last().click();
  await expect(page.locator('.card')).toHaveCount(2);
  await expect(page.locator('.card').last()).toContainText('Inside reverse fold');
  await expect(summary(page)).toContainText('Folds with stiff panels in every step');
  await idle(page);
  await expect(page.getByTestId('model-size')).toContainText('100 × 50 × 0');
  await page.keyboard.press('Control+z');
  await expect(page.locator('.card')).toHaveCount(1);
});

test('a step turns the model round by what is chosen; limits of the class are kept and undone', async ({
  page,
}) => {
  await openFolded(page);
  const before = blueBox(await modelPixels(page));
  expect(before.right - before.left).toBeGreaterThan(before.bottom - before.top);
  await page.getByRole('button', { name: 'Add a step' }).click();
  await page.getByRole('menuitem', { name: 'rotate', exact: true }).click();
  await expect(page.locator('.turn-mark')).toHaveText('90°');
  // seen from above the long side stands upright now
  await expect
    .poll(async () => {
      const after = blueBox(await modelPixels(page));
      return after.bottom - after.top > after.right - after.left;
    })
    .toBe(true);
  await page.getByRole('radio', { name: '180°' }).click();
  await expect(page.locator('.turn-mark')).toHaveText('180°');
  await page.keyboard.press('Control+z');
  await expect(page.locator('.turn-mark')).toHaveText('90°');
  await page.getByRole('button', { name: 'Limits of the class' }).click();
  const field = page.getByLabel('Creases at once');
  await field.fill('3');
  await page.keyboard.press('Tab');
  await expect(field).toHaveValue('3');
  await page.locator('.model-board').focus();
  await page.keyboard.press('Control+z');
  await expect(field).toHaveValue('24');
});
