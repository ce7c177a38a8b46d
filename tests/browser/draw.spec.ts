/** Drawing on the flat sheet from an empty square, by keys and by finger; by mouse see the replays. */

import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { countWork } from './idle.ts';
import { along } from './other-words.ts';
import { emptySquare, expect, paperPlaces, savedLesson, test } from './support.ts';

const saved = async (page: Page): Promise<Sheet> => sheetOfLesson(await savedLesson(page)).sheet!;

/** Creases as text, in sheet units to a billionth, in one order. */
function creasesOf(sheet: Sheet): string[] {
  const place = (v: number) => `${sheet.vertexX[v]!.toFixed(9)},${sheet.vertexY[v]!.toFixed(9)}`;
  return Array.from(sheet.creaseKind, (kind, e) => {
    const ends = [place(sheet.creaseFrom[e]!), place(sheet.creaseTo[e]!)].sort().join(' ');
    return `${ends} ${kind} ${sheet.creaseAngle[e]!.toFixed(9)}`;
  }).sort();
}

test('several answers are shown, chosen with Tab, and stepped back from with Esc; all by keys', async ({
  page,
}) => {
  await emptySquare(page, () => {});
  await page.locator('.sheet-board').focus();
  // a level middle line, by a place on the left edge told in mm
  await page.keyboard.press('4');
  await page.keyboard.press('f');
  await page.getByLabel(/^At/).fill('0, 75');
  await page.keyboard.press('Enter');
  await page.locator('.sheet-board').focus();
  // a corner onto the middle line through the other corner: the 60 degree fold
  await page.keyboard.press('v');
  await page.keyboard.press('3');
  await page.getByLabel(/^At/).fill('70, 0');
  await page.keyboard.press('Enter');
  await page.getByLabel(/^At/).fill('0, 40');
  await page.keyboard.press('Enter');
  // arrows lead from place to place: a line cuts the lower left corner off
  await page.locator('.sheet-board').focus();
  await page.keyboard.press('1');
  await page.keyboard.press('ArrowRight');
  await expect(page.locator('.draw-name')).toHaveText('a quarter of the edge');
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  await page.keyboard.press('5');
  for (const place of ['150, 0', '70, 75', '0, 0']) {
    await page.getByLabel(/^At/).fill(place);
    await page.keyboard.press('Enter');
  }
  // the hand is back on the sheet, with two answers before it
  await expect(page.locator('.draw-prompt')).toContainText('2 folds do this');
  await page.keyboard.press('Escape');
  await expect(page.locator('.draw-prompt')).toContainText('Through which point');
  await page.getByLabel(/^At/).fill('0, 0');
  await page.keyboard.press('Enter');
  await expect(page.locator('.draw-faint')).toHaveCount(1);
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);
  const creases = creasesOf(await saved(page));
  // trigonometry: the corner's images on the middle line stand at 30 and 150 degrees, so the folds at 15 and 75
  const tan15 = (2 - Math.sqrt(3)).toFixed(9);
  const ends = [`1.000000000,${tan15}`, `${tan15},1.000000000`];
  const there = ends.filter((end) => creases.some((line) => line.startsWith('0.') && line.includes(end)));
  expect(there.length).toBe(1);
  // the cut corner starts at the quarter of the left edge and leads into the sheet
  expect(creases.some((line) => /^0\.0+,0\.250+ 0\.(0[1-9]|[1-9])/.test(line))).toBe(true);
});

test('a finger draws, folds and scrubs on a phone; what it points at stays in sight', async ({ browser }, {
  project,
}) => {
  const context = await browser.newContext({
    ...project.use,
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
  });
  await countWork(context);
  const page = await context.newPage();
  await page.goto('./');
  await expect(page.locator('.app')).toHaveAttribute('data-graphics', 'shown', { timeout: 30_000 });
  await page.getByRole('button', { name: 'More', exact: true }).tap();
  await page.getByRole('menuitem', { name: 'New lesson' }).tap();
  await page.getByRole('radio', { name: 'Sheet' }).tap();
  const pencil = page.getByRole('button', { name: 'Draw', exact: true });
  await expect(pencil).toHaveAttribute('aria-pressed', 'true');
  await expect(page.getByRole('toolbar', { name: 'Draw' })).toBeVisible();
  const at = await paperPlaces(page);
  await page.touchscreen.tap(...at(0.01, 0.01));
  await page.touchscreen.tap(...at(0.98, 0.99));
  await expect(page.getByTestId('sheet-drawing').locator('.line-valley')).toHaveAttribute('d', /M.*L/);
  expect(
    creasesOf(await saved(page)).some((line) =>
      line.startsWith('0.000000000,0.000000000 1.000000000,1.000000000'),
    ),
  ).toBe(true);
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);

  await pencil.tap();
  await page.touchscreen.tap(...(await paperPlaces(page))(0.7, 0.7));
  await page.getByRole('button', { name: 'Fold this crease in a new step' }).tap();
  await expect(page.locator('.card')).toHaveCount(1);
  await page.getByRole('radio', { name: 'Model' }).tap();
  const fold = page.getByRole('slider');
  await expect(fold).toHaveValue('1');
  const track = (await page.locator('.track').boundingBox())!;
  const touch = await context.newCDPSession(page);
  const finger = (type: 'touchStart' | 'touchMove' | 'touchEnd', share: number) =>
    touch.send('Input.dispatchTouchEvent', {
      type,
      touchPoints:
        type === 'touchEnd'
          ? []
          : [{ x: track.x + track.width * along(share), y: track.y + track.height / 2 }],
    });
  await finger('touchStart', 1);
  for (const share of [0.9, 0.7, 0.5]) await finger('touchMove', share);
  await finger('touchEnd', 0.5);
  await expect.poll(async () => Math.abs(Number(await fold.inputValue()) - 0.5)).toBeLessThan(0.05);
  await context.close();
});
