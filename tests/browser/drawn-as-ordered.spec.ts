/** On the real stage: paper that the layers have behind a wall is not drawn before it while it slides in. */
import type { Page } from '@playwright/test';
import type { PNG } from 'pngjs';
import { clickSheet, expect, modelPixels, openTable, rest, slider, test } from './support.ts';

/** Pixels at which two pictures of one size differ. */
function changed(one: PNG, other: PNG): boolean[] {
  return Array.from({ length: one.width * one.height }, (_, pixel) =>
    [0, 1, 2].some((c) => Math.abs(one.data[4 * pixel + c]! - other.data[4 * pixel + c]!) > 6),
  );
}

/** The share of the box round the marked pixels that they fill, and its extent. */
function filled(marked: readonly boolean[], width: number) {
  const at = [...marked.keys()].filter((pixel) => marked[pixel]);
  const [xs, ys] = [at.map((pixel) => pixel % width), at.map((pixel) => Math.floor(pixel / width))];
  const across = Math.max(...xs) - Math.min(...xs) + 1;
  const up = Math.max(...ys) - Math.min(...ys) + 1;
  return { share: at.length / (across * up), across, up };
}

/** The picture of the model alone, nothing over it. */
async function modelAlone(page: Page): Promise<PNG> {
  await page.mouse.move(2, 450);
  await rest(page);
  return modelPixels(page);
}

test('the front wall of the pencil case is seen whole while the flap slides in behind it', async ({
  page,
}) => {
  await openTable(page);
  await page.addStyleTag({
    content:
      '.inside-rows, .tool-dock, .tooltip { visibility: hidden; } .model-board { outline: none !important; }',
  });
  // the layers of all steps are known once the last one tells of its lock
  await slider(page).focus();
  await page.keyboard.press('End');
  await expect(page.getByTestId('locks')).toBeVisible();
  await page.addStyleTag({ content: '.tool-dock { visibility: visible !important; }' });
  await page.getByRole('button', { name: 'View', exact: true }).click();
  await page.getByRole('menuitem', { name: 'Front' }).click();
  await rest(page);
  await page.addStyleTag({ content: '.tool-dock { visibility: hidden !important; }' });
  for (const presses of [6, 10, 12]) {
    await slider(page).focus();
    for (let k = 0; k < presses; k++) await page.keyboard.press('ArrowLeft');
    const plain = await modelAlone(page);
    // the front wall: y 0 to 1 of 7, x 1 to 6
    await clickSheet(page, 3.5 / 7, 0.5 / 7);
    const lit = await modelAlone(page);
    const { share, across, up } = filled(changed(plain, lit), plain.width);
    // 150 by 30 mm, in perspective
    expect(across / up).toBeGreaterThan(4);
    expect(share).toBeGreaterThan(0.97);
    await page.keyboard.press('Escape');
    await rest(page);
  }
});
