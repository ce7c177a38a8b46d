/** The eye follows the model, and lets a hand have its way. */
import type { Page } from '@playwright/test';
import type { ModelStage } from '../../src/scene/stage.ts';
import { drop, expect, file, foldTo, idle, inMotion, miura, openTable, slider, test } from './support.ts';

type Canvas = HTMLCanvasElement & { stage: ModelStage };

/** Shares of the canvas at which the outermost corners of the drawn paper lie; below 0 or above 1 is out of view. */
function extentOnScreen(page: Page) {
  return page.getByTestId('model-canvas').evaluate((canvas) => {
    const { stage } = canvas as Canvas;
    const box = { left: 1, right: 0, top: 1, bottom: 0 };
    stage.leaves!.leaves.forEach(({ rings }, leaf) => {
      const ring = rings[0]!;
      for (let k = 0; k < ring.length; k += 2) {
        const { x, y } = stage.toScreen(
          stage.placeOf(leaf, ring[k]!, ring[k + 1]!) as [number, number, number],
        );
        box.left = Math.min(box.left, x / stage.extent.width);
        box.right = Math.max(box.right, x / stage.extent.width);
        box.top = Math.min(box.top, y / stage.extent.height);
        box.bottom = Math.max(box.bottom, y / stage.extent.height);
      }
    });
    return box;
  });
}

const eyeNow = async (page: Page) => {
  await idle(page, { workers: false });
  return page
    .getByTestId('model-canvas')
    .evaluate((canvas) =>
      (canvas as Canvas).stage.rig.camera.position.toArray().map((one) => one.toFixed(3)),
    );
};

for (const [width, height] of [
  [1440, 900],
  [390, 844],
] as const)
  test(`a Miura sheet of 45 x 45 folded flat stays in view from every side, ${width} x ${height}`, async ({
    page,
  }) => {
    test.setTimeout(240_000);
    await page.setViewportSize({ width, height });
    await openTable(page);
    await drop(page, file('miura.fold', miura(45)));
    await expect(page.locator('.app')).toHaveAttribute('data-panels', '2025', { timeout: 60_000 });
    await expect(page.locator('.card img')).toHaveCount(1, { timeout: 60_000 });
    await slider(page).focus();
    await page.keyboard.press('End');
    // half turns of 2025 panels: the still one lies as it lay, others upside down
    await expect
      .poll(() =>
        page.getByTestId('model-canvas').evaluate((canvas) => {
          const { levels } = (canvas as Canvas).stage.shown!;
          const { rotation } = (canvas as Canvas).stage.shown!.placement;
          const tilts = Array.from(levels, (_, p) => Math.hypot(rotation[4 * p]!, rotation[4 * p + 1]!));
          return {
            panels: tilts.length,
            over: tilts.some((tilt) => tilt > 0.99),
            flat: tilts.every((tilt) => tilt < 0.01 || tilt > 0.99),
          };
        }),
      )
      .toEqual({ panels: 2025, over: true, flat: true });
    const eyes = new Set<string>();
    for (let view = 1; view <= 7; view++) {
      await page.keyboard.press(String(view));
      eyes.add((await eyeNow(page)).join(' '));
      const box = await extentOnScreen(page);
      expect(box.right, `view ${view}`).toBeGreaterThan(box.left);
      expect(box.bottom, `view ${view}`).toBeGreaterThan(box.top);
      expect(Math.min(box.left, box.top), `view ${view}: ${JSON.stringify(box)}`).toBeGreaterThan(0);
      expect(Math.max(box.right, box.bottom), `view ${view}: ${JSON.stringify(box)}`).toBeLessThan(1);
    }
    expect(eyes.size).toBe(7);
  });

test('where a hand has taken the eye it stays until the next step', async ({ page }) => {
  await inMotion(page);
  await openTable(page);
  await foldTo(page, 0.1);
  const board = (await page.locator('.model-board').boundingBox())!;
  const [x, y] = [board.x + 40, board.y + board.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 90, y + 30, { steps: 5 });
  await page.mouse.up();
  const taken = await eyeNow(page);
  await slider(page).focus();
  for (let k = 0; k < 16; k++) await page.keyboard.press('ArrowRight');
  expect(await eyeNow(page)).toEqual(taken);
  for (let k = 0; k < 12; k++) await page.keyboard.press('ArrowRight');
  expect(await eyeNow(page)).not.toEqual(taken);
});
