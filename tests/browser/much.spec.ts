/** Drawings of many thousand lines: what is done is said, it can be stopped, and nothing else waits for it. */
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { drop, expect, file, idle, lessonFile, openTable, ready, test } from './support.ts';

/** A square of n x n cells, every side of a cell a line of its own, in two dash styles. */
function grid(n: number): string {
  const step = 200 / n;
  const lines: string[] = [];
  for (let i = 1; i < n; i++)
    for (let j = 0; j < n; j++) {
      const dash = (i + j) % 2 === 0 ? '6 3' : '8 2 1 2 1 2';
      lines.push(`<path d="M${i * step} ${j * step}v${step}" stroke-dasharray="${dash}"/>`);
      lines.push(`<path d="M${j * step} ${i * step}h${step}" stroke-dasharray="${dash}"/>`);
    }
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200" width="200mm" height="200mm">
<g stroke="#111" fill="none" stroke-width="0.3"><rect width="200" height="200"/>${lines.join('')}</g></svg>`;
}

const reading = (page: Page) => page.getByTestId('reading');
const title = (page: Page) => page.getByRole('heading', { level: 1 });
const readers = (page: Page) => page.workers().filter((worker) => worker.url().includes('file')).length;

const CELLS = process.env.CREASEWAY_SOAK === undefined ? 158 : 316;

test(`a drawing of ${2 * CELLS * (CELLS - 1)} lines says what is done and is stopped at a press`, async ({
  page,
}) => {
  await openTable(page);
  const before = await title(page).textContent();
  await drop(page, file('many.svg', grid(CELLS)));
  await expect(reading(page)).toContainText('Opening “many.svg”', { timeout: 20_000 });
  await reading(page).getByRole('button', { name: 'Stop' }).click();
  await expect(reading(page)).toHaveCount(0);
  await expect(title(page)).toHaveText(before!);
  await expect.poll(() => readers(page)).toBe(0);
  await expect(page.getByRole('dialog')).toHaveCount(0);
});

test('a small lesson that is dropped while much is read opens at once, and the other is heard of no more', async ({
  page,
}) => {
  await openTable(page);
  await drop(page, file('many.svg', grid(CELLS)));
  await expect(reading(page)).toBeVisible({ timeout: 20_000 });
  await drop(page, lessonFile('ticket-wallet'));
  await ready(page, 'Two-band ticket wallet');
  await expect(reading(page)).toHaveCount(0);
  await expect.poll(() => readers(page)).toBe(0);
  await idle(page);
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await expect(title(page)).toHaveText('Two-band ticket wallet');
});

for (const [width, height] of [
  [1440, 900],
  [390, 844],
] as const)
  test(`what three thousand lines mean is answered beside them, ${width} x ${height}`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await openTable(page);
    await drop(page, file('three.svg', grid(39)));
    const dialog = page.getByRole('dialog');
    await expect(dialog.getByRole('img', { name: 'The drawing: 2968 lines' })).toBeVisible({
      timeout: 20_000,
    });
    await expect(dialog.locator('.line-row')).toHaveCount(3);
    await dialog.getByRole('combobox', { name: 'Meaning of dashed' }).selectOption('Mark');
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);
    // a line under the pointer lights its row: here one side of the sheet, and nothing beside it
    const row = dialog.locator('.line-row.is-lit');
    const board = (await dialog.locator('.drawn-lines').boundingBox())!;
    const side = Math.min(board.width, board.height) - 28;
    const left = board.x + (board.width - side) / 2;
    await page.mouse.move(left, board.y + board.height / 2);
    await expect(row).toContainText('solid, round the sheet');
    await page.mouse.move(board.x + 2, board.y + 2);
    await expect(row).toHaveCount(0);
    await dialog.getByRole('button', { name: 'Leave it' }).click();
    await expect(dialog).toHaveCount(0);
    await expect.poll(() => readers(page)).toBe(0);
  });

test('answers that make no sheet are kept, and the refusal stands beside them', async ({ page }) => {
  await openTable(page);
  const open = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><g stroke="#111" fill="none">
<rect width="100" height="100"/><path d="M0 50H100" stroke-dasharray="6 3"/></g></svg>`;
  await drop(page, file('open.svg', open));
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('combobox', { name: 'Meaning of solid, round the sheet' }).selectOption('Ignore');
  await dialog.getByRole('combobox', { name: 'Meaning of dashed' }).selectOption('Mountain');
  await dialog.getByRole('button', { name: 'Fold this drawing' }).click();
  await expect(dialog.getByRole('alert')).toContainText('.');
  await expect(dialog.getByRole('combobox', { name: 'Meaning of dashed' })).toHaveValue('mountain');
  await dialog.getByRole('combobox', { name: 'Meaning of solid, round the sheet' }).selectOption('Raw edge');
  await dialog.getByRole('button', { name: 'Fold this drawing' }).click();
  await expect(title(page)).toHaveText('open');
});
