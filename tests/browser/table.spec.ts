import type { Page } from '@playwright/test';
import { along } from './other-words.ts';
import {
  angleNow,
  clickSheet,
  difference,
  expect,
  fact,
  foldTo,
  idle,
  inMotion,
  modelPixels,
  openLessons,
  openTable,
  ready,
  share,
  slider,
  test,
} from './support.ts';

// The demo's own colours: side A sea blue, side B white (its lesson file).
const blue = [47, 102, 144] as const;

test('opens on the pencil case, folded by the solver', async ({ page }) => {
  await openTable(page);
  await expect(page.getByTestId('summary')).toHaveText(
    'Folds with stiff panels in every step; paper has to give up to 1 mm.',
  );
  await expect(page.getByText('Saltmarsh Reading Room')).toBeVisible();
  await expect(page.getByText('210 mm sheet, white side up')).toBeVisible();
  await expect(page.locator('.card')).toHaveCount(6);
  await expect(page.locator('.card img')).toHaveCount(6, { timeout: 15_000 });
});

test('the first paint does not wait for the scene: the sheet is there while its code is held back', async ({
  page,
}) => {
  let letGo = () => {};
  const held = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  await page.route('**/assets/mount-*.js', async (route) => {
    await held;
    await route.continue();
  });
  await page.goto('./');
  await expect(page.locator('.line-valley')).toBeVisible();
  await expect(page.locator('.app')).toHaveAttribute('data-graphics', 'loading');
  letGo();
  await ready(page, 'Long pencil case');
});

test('folds by dragging the slider: angles and pixels follow', async ({ page }) => {
  await openTable(page);
  await clickSheet(page, 0.5, 3 / 7);
  expect(await angleNow(page)).toBe(0);
  const flat = await modelPixels(page);
  expect(share(flat, blue)).toBeLessThan(0.01);
  const track = (await page.locator('.track').boundingBox())!;
  await page.mouse.move(track.x + track.width * along(0.005), track.y + track.height / 2);
  await page.mouse.down();
  await page.mouse.move(track.x + track.width * along(0.13), track.y + track.height / 2, { steps: 6 });
  const half = await angleNow(page);
  expect(half).toBeGreaterThan(20);
  expect(half).toBeLessThan(88);
  await page.mouse.move(track.x + track.width * along(1), track.y + track.height / 2, { steps: 6 });
  await page.mouse.up();
  await idle(page);
  // The back bottom edge ends at a right angle (the scenario's own table).
  expect(await angleNow(page)).toBeCloseTo(90, 1);
  // Shut, the case shows the colour side alone.
  expect(share(await modelPixels(page), blue, 60)).toBeGreaterThan(0.1);
});

test('folds by keyboard, step by step and back', async ({ page }) => {
  await inMotion(page);
  await openTable(page);
  await clickSheet(page, 0.5, 4 / 7);
  await foldTo(page, 2.5);
  const hinge = await angleNow(page);
  expect(hinge).toBeGreaterThan(10);
  expect(hinge).toBeLessThan(59);
  await page.keyboard.press('.');
  // the lesson asks the hinge for 60 degrees in this step
  await expect.poll(() => angleNow(page), { timeout: 8000 }).toBeCloseTo(60, 1);
  await expect(page.locator('.card-here .card-title')).toHaveText('Bend the hinge');
  await page.keyboard.press('Home');
  await idle(page);
  expect(await angleNow(page)).toBe(0);
  await expect(slider(page)).toHaveAttribute('aria-valuetext', 'Flat sheet');
});

test('plays and stops with the space bar', async ({ page }) => {
  await inMotion(page);
  await openTable(page);
  await page.getByRole('heading', { level: 1 }).click();
  await page.keyboard.press(' ');
  await expect(page.getByRole('button', { name: 'Stop' })).toBeVisible();
  const placeNow = async () => Number(await slider(page).inputValue());
  await expect.poll(placeNow, { timeout: 15_000 }).toBeGreaterThan(0.02);
  await page.keyboard.press(' ');
  await expect(page.getByRole('button', { name: 'Play' })).toBeVisible();
  const place = await placeNow();
  await idle(page);
  expect(Number(await slider(page).inputValue())).toBe(place);
});

test('with reduced motion a step is a jump between key poses', async ({ page }) => {
  await openTable(page);
  await page.getByRole('button', { name: 'One step on' }).click();
  expect(Number(await slider(page).inputValue())).toBe(1);
});

test('picking on the sheet lights the crease on both views', async ({ page }) => {
  await openTable(page);
  const before = await modelPixels(page);
  await clickSheet(page, 0.5, 3 / 7);
  await expect(page.getByTestId('selection')).toContainText('Valley crease');
  expect(await fact(page, 'At the end')).toBe('90.0°');
  // Five sevenths of 210 mm, by hand.
  expect(await fact(page, 'Length')).toBe('150 mm');
  expect(await fact(page, 'Made in step')).toBe('1');
  const mark = page.locator('[data-mark=crease]');
  await expect(mark).toHaveCount(1);
  // the halo lies under the printed line and is wider: dash and ink stay
  const line = page.getByTestId('sheet-drawing').locator('.line-valley');
  const widths = await Promise.all([mark, line].map((one) => one.getAttribute('stroke-width')));
  expect(Number(widths[0])).toBeGreaterThan(3 * Number(widths[1]));
  const lineIsOver = await mark.evaluate((under) => {
    const over = document.querySelector('.line-valley')!;
    return (under.compareDocumentPosition(over) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0;
  });
  expect(lineIsOver).toBe(true);
  await idle(page);
  expect(difference(before, await modelPixels(page))).toBeGreaterThan(0.0005);
});

test('picking on the model lights the panel on both views', async ({ page }) => {
  await openTable(page);
  await foldTo(page, 1);
  const box = (await page.getByTestId('model-canvas').boundingBox())!;
  // Below the middle of the case seen from three quarters lies its base, 150 mm by 60, white side up.
  await page.mouse.click(box.x + box.width * 0.5, box.y + box.height * 0.62);
  await expect(page.getByTestId('selection')).toContainText('Base');
  await expect(page.locator('[data-mark=panel]')).toHaveCount(1);
  expect(await fact(page, 'Area')).toBe('90 cm²');
  expect(await fact(page, 'Side up now')).toBe('B, White');
});

test('arrow keys walk the sheet with a visible focus', async ({ page }) => {
  await openTable(page);
  await page.locator('.sheet-board').focus();
  await page.keyboard.press('ArrowRight');
  await expect(page.getByTestId('selection')).toContainText('no. 0');
  await page.keyboard.press('ArrowRight');
  await expect(page.getByTestId('selection')).toContainText('Valley crease');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('selection')).toContainText('Panel');
  const outline = await page
    .locator('.sheet-board')
    .evaluate((element) => getComputedStyle(element).outlineStyle);
  expect(outline).toBe('solid');
});

test('the colours swap on screen, and undo swaps them back', async ({ page }) => {
  await openTable(page);
  await idle(page);
  const white = await modelPixels(page);
  await page.keyboard.press('x');
  await idle(page);
  const swapped = await modelPixels(page);
  expect(share(swapped, blue, 60)).toBeGreaterThan(share(white, blue, 60) + 0.1);
  await page.keyboard.press('Control+z');
  await idle(page);
  expect(difference(white, await modelPixels(page))).toBeLessThan(0.01);
});

test('the side up at the start swaps what is seen and keeps every angle', async ({ page }) => {
  await openTable(page);
  await clickSheet(page, 0.5, 3 / 7);
  const end = await fact(page, 'At the end');
  await page.keyboard.press('u');
  await expect(page.getByText('sea blue side up')).toBeVisible();
  expect(await fact(page, 'At the end')).toBe(end);
  await idle(page);
  expect(share(await modelPixels(page), blue, 60)).toBeGreaterThan(0.1);
  await page.keyboard.press('Control+z');
  await expect(page.getByText('white side up')).toBeVisible();
});

test('turning over shows the other side and leaves the pose alone', async ({ page }) => {
  await inMotion(page);
  await openTable(page);
  await clickSheet(page, 0.5, 3 / 7);
  await foldTo(page, 0.5);
  const angle = await angleNow(page);
  await idle(page);
  const before = await modelPixels(page);
  await page.keyboard.press('t');
  await idle(page);
  expect(await angleNow(page)).toBe(angle);
  const after = await modelPixels(page);
  expect(share(after, blue, 70)).toBeGreaterThan(share(before, blue, 70) + 0.05);
  await page.keyboard.press('Control+z');
  await idle(page);
  expect(difference(before, await modelPixels(page))).toBeLessThan(0.02);
});

test('views from the sides, and undo of a view', async ({ page }) => {
  await inMotion(page);
  await openTable(page);
  await foldTo(page, 4);
  await idle(page);
  const start = await modelPixels(page);
  await page.keyboard.press('2');
  await idle(page);
  expect(difference(start, await modelPixels(page))).toBeGreaterThan(0.05);
  await page.keyboard.press('Control+z');
  await idle(page);
  expect(difference(start, await modelPixels(page))).toBeLessThan(0.02);
});

test('another panel stays still, and undo gives the first back', async ({ page }) => {
  await openTable(page);
  await foldTo(page, 1);
  await clickSheet(page, 0.5, 5 / 7);
  await page.getByRole('button', { name: 'Keep this panel still' }).click();
  await expect(page.getByText('This panel stays still')).toBeVisible();
  expect(await fact(page, 'Side up now')).toBe('B, White');
  await page.keyboard.press('Control+z');
  await clickSheet(page, 0.5, 2 / 7);
  await expect(page.getByText('This panel stays still')).toBeVisible();
});

test('size of the paper in millimetres', async ({ page }) => {
  await openTable(page);
  await clickSheet(page, 0.5, 3 / 7);
  await page.keyboard.press('p');
  await page.getByLabel('Longer side, mm').fill('140');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Escape');
  // Five sevenths of 140 mm, by hand.
  expect(await fact(page, 'Length')).toBe('100 mm');
  await page.keyboard.press('Control+z');
  expect(await fact(page, 'Length')).toBe('150 mm');
});

test('set on the table the shut case stands', async ({ page }) => {
  await openTable(page);
  await foldTo(page, 4);
  await page.getByRole('button', { name: 'Set on the table' }).click();
  await expect(page.getByTestId('verdict')).toHaveText(
    /Set on the table it stands\. It rests on .*sea blue down\./,
  );
  await page.getByRole('button', { name: 'Lift from the table' }).click();
  await expect(page.getByTestId('verdict')).toHaveCount(0);
});

test('a corner can be dragged along the freedoms there are', async ({ page }) => {
  await openTable(page);
  await foldTo(page, 0.6);
  await expect(page.getByText(/where it can move \(\d+ freedoms?\)/)).toBeVisible();
  await page.keyboard.press('6');
  await idle(page);
  // Point at every fifth pixel until the board offers a corner.
  const grip = await page.locator('.model-board').evaluate((board) => {
    const { left, top, width, height } = board.getBoundingClientRect();
    for (let y = top + 0.15 * height; y < top + 0.85 * height; y += 5)
      for (let x = left + 0.2 * width; x < left + 0.8 * width; x += 5) {
        board.dispatchEvent(
          new PointerEvent('pointermove', { bubbles: true, clientX: x, clientY: y, pointerType: 'mouse' }),
        );
        if ((board as HTMLElement).dataset.grab === 'true') return { x, y };
      }
    return null;
  });
  expect(grip).not.toBeNull();
  await page.mouse.move(grip!.x, grip!.y);
  const before = await modelPixels(page);
  await page.mouse.down();
  await page.mouse.move(grip!.x + 30, grip!.y + 24, { steps: 5 });
  await expect(page.getByText('Moved by hand.')).toBeVisible({ timeout: 20_000 });
  await page.mouse.up();
  await idle(page);
  expect(difference(before, await modelPixels(page))).toBeGreaterThan(0.0005);
  await page.getByRole('button', { name: 'Back to the step' }).click();
  await expect(page.getByText('Moved by hand.')).toHaveCount(0);
});

test('the twist does not fold with stiff panels: it says so, and shows where', async ({ page }) => {
  await openTable(page);
  await openLessons(page);
  await page.getByRole('menuitem', { name: /twist/ }).click();
  await ready(page, 'Framed twist coaster');
  await expect(page.getByTestId('summary')).toContainText('does not fold as asked');
  await expect(page.locator('.segment-fails')).toHaveCount(1);
  await page.locator('.finding-button').first().click();
  await expect(page.locator('.mark-ring, [data-mark]').first()).toBeAttached();
});

/** Cards are drawn anew as layers become known: waits until all are, and none has changed since it was last looked at. */
async function picturesAreTaken(page: Page): Promise<void> {
  await expect(page.getByTestId('summary').locator('.is-well')).toBeVisible({ timeout: 30_000 });
  const taken = () =>
    page
      .locator('.card img')
      .evaluateAll((images) => images.map((one) => (one as HTMLImageElement).src).join());
  let before = '';
  await expect
    .poll(
      async () => {
        const now = await taken();
        const same = now === before;
        before = now;
        return same;
      },
      { intervals: [1000] },
    )
    .toBe(true);
}

test('a lost picture comes back, with a word meanwhile', async ({ page }) => {
  await openTable(page);
  await expect(page.locator('.card img')).toHaveCount(6, { timeout: 15_000 });
  await picturesAreTaken(page);
  const lost = await page.evaluateHandle(() => {
    const canvas = document.querySelector('canvas')!;
    const extension = canvas.getContext('webgl2')!.getExtension('WEBGL_lose_context')!;
    extension.loseContext();
    return extension;
  });
  await expect(page.getByText(/has let go of the picture/)).toBeVisible();
  await lost.evaluate((extension) => extension.restoreContext());
  await expect(page.getByText(/has let go of the picture/)).toHaveCount(0);
  await idle(page);
  await foldTo(page, 1);
  expect(share(await modelPixels(page), blue, 70)).toBeGreaterThan(0.02);
});

test('a failed step says how far it got, rings the same corners twice, and offers bending', async ({
  page,
}) => {
  await openTable(page);
  await openLessons(page);
  await page.getByRole('menuitem', { name: /twist/ }).click();
  await ready(page, 'Framed twist coaster');
  await expect(page.locator('.card-trouble')).toHaveText(
    /^Folds \d+ % of the way; no motion was found beyond\.$/,
  );
  await foldTo(page, 1);
  const onModel = await page.locator('.model-overlay .ring-open').count();
  expect(onModel).toBeGreaterThan(0);
  await expect(page.locator('.sheet-board .ring-open')).toHaveCount(onModel);
  await page.locator('.storyboard').getByRole('button', { name: 'Let panels bend' }).click();
  await ready(page, 'Framed twist coaster');
  await expect(page.getByRole('button', { name: 'Let panels bend' })).toHaveCount(0);
});

test('tells the size of the finished case (its scenario: 150 by 60 by 30 mm)', async ({ page }) => {
  await openTable(page);
  await foldTo(page, await page.locator('.card').count());
  await expect(page.getByTestId('model-size')).toHaveText('Finished 150 × 60 × 30 mm');
});
