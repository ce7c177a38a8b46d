import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import type { PNG } from 'pngjs';
import { countWork } from './idle.ts';
import {
  addRule,
  clickSheet,
  difference,
  expect,
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

// The demo's own colours (its lesson file): side A sea blue.
const blue = [47, 102, 144] as const;
const phone = { width: 390, height: 844 };

/** The finished model of a lesson, its layers known. */
async function finished(page: Page, title = 'Long pencil case'): Promise<void> {
  await openTable(page);
  if (title !== 'Long pencil case') {
    await openLessons(page);
    await page.getByRole('menuitem', { name: title }).click();
    await ready(page, title);
  }
  await slider(page).first().focus();
  await page.keyboard.press('End');
  await idle(page);
  // a key that no view takes, so that the next one goes to the page
  await page.getByRole('heading', { level: 1 }).click();
}

/** The picture of the model without the controls that lie over it. */
async function modelAlone(page: Page): Promise<PNG> {
  const hide = (hidden: boolean) =>
    page.evaluate((on) => document.documentElement.classList.toggle('controls-unseen', on), hidden);
  await addRule(
    page,
    '.controls-unseen :is(.inside-rows, .tool-dock, .tooltip) { visibility: hidden; } .model-board { outline: none !important; }',
  );
  await hide(true);
  const png = await modelPixels(page);
  await hide(false);
  return png;
}

const rows = (page: Page) => page.getByTestId('inside-rows').first();
const stack = (page: Page) => page.getByTestId('stack').first();
const layers = (page: Page) => stack(page).locator('.layer');

test('the stack under the pointer: two layers in the middle of the front wall, five at its corner', async ({
  page,
}) => {
  // Scenario S1: mid front wall 2 layers, front corner 5: wall, flap, flap hem, gusset, gusset.
  await finished(page);
  await clickSheet(page, 0.5, 0.5 / 7);
  await expect(stack(page)).toContainText('2 layers here');
  await page.keyboard.press('Escape');
  await page.keyboard.press('l');
  await expect(stack(page)).toContainText('5 layers here');
  await expect(layers(page)).toHaveCount(5);
  // The wall is outermost and shows its colour side (scenario S1: outside 100 % A).
  await expect(layers(page).first()).toContainText('Sea blue, A');
});

test('Peel lifts one layer after the other and puts them back, as the list tells', async ({ page }) => {
  await finished(page);
  await idle(page);
  const shut = await modelAlone(page);
  await page.keyboard.press('l');
  await expect(rows(page)).toContainText('1 of 5 lifted');
  await idle(page);
  const one = await modelAlone(page);
  for (const count of [2, 3, 4, 5]) {
    await page.keyboard.press('l');
    await expect(rows(page)).toContainText(`${count} of 5 lifted`);
    await expect(stack(page).locator('.layer-lifted')).toHaveCount(count);
  }
  await idle(page);
  // the flap under the wall is of the wall's colour; what lies under both is not
  const five = difference(shut, await modelAlone(page));
  expect(five).toBeGreaterThan(0.02);
  await page.keyboard.press('l');
  await expect(rows(page)).toContainText('5 of 5 lifted');
  for (let k = 0; k < 4; k++) await rows(page).getByRole('button', { name: 'Put back' }).click();
  await expect(rows(page)).toContainText('1 of 5 lifted');
  await idle(page);
  expect(difference(one, await modelAlone(page))).toBeLessThan(0.3 * five);
});

test('the list lights a layer on the sheet and the model', async ({ page }) => {
  await finished(page);
  await page.keyboard.press('l');
  const name = await layers(page).nth(2).locator('.layer-name').textContent();
  await layers(page).nth(2).hover();
  await expect(page.locator('[data-mark=hover], [data-mark=panel]').first()).toBeAttached();
  await layers(page).nth(2).click();
  await expect(layers(page).nth(2)).toHaveClass(/layer-lit/);
  expect(name).toBe('Panel 7, upper right');
});

test('Slice cuts the model; the section numbers the layers of the list; keys and hand move it', async ({
  page,
}) => {
  await finished(page);
  await page.keyboard.press('l');
  await expect(rows(page)).toContainText('1 of 5 lifted');
  await page.keyboard.press('k');
  await idle(page);
  const whole = share(await modelAlone(page), blue, 60);
  await page.keyboard.press('c');
  const section = page.getByTestId('section').first();
  await expect(section.getByRole('img')).toHaveAttribute('aria-label', /5 layers are numbered/);
  await expect(section.locator('.cut-numbers text')).toHaveText(['1', '2', '3', '4', '5']);
  await expect(section).toContainText('Schematic');
  await expect(page.locator('#slice-handle')).toBeFocused();
  const place = async () => Number(await page.locator('#slice-handle').getAttribute('aria-valuenow'));
  const before = await place();
  const there = before > 50 ? 'ArrowLeft' : 'ArrowRight';
  for (let k = 0; k < 30; k++) await page.keyboard.press(there);
  expect(Math.abs((await place()) - before)).toBeGreaterThan(25);
  await idle(page);
  expect(share(await modelAlone(page), blue, 60)).toBeLessThan(0.8 * whole);
  // in the middle of the wall only wall and flap are cut
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await page.keyboard.press('c');
  await expect(section.getByRole('img')).toHaveAttribute('aria-label', /2 layers are numbered/);
  await idle(page);
  const handle = (await page.locator('#slice-handle').boundingBox())!;
  const from = await place();
  await page.mouse.move(handle.x + 14, handle.y + 14);
  await page.mouse.down();
  await page.mouse.move(handle.x + 60, handle.y + 30, { steps: 5 });
  await page.mouse.up();
  expect(await place()).not.toBe(from);
});

test('Fan pulls the layers apart, says that it is schematic, and closes while paper moves', async ({
  page,
}) => {
  await finished(page);
  await idle(page);
  const shut = await modelAlone(page);
  await page.keyboard.press('v');
  await expect(rows(page)).toContainText('Schematic');
  await idle(page);
  const open = await modelAlone(page);
  expect(difference(shut, open)).toBeGreaterThan(0.02);
  const amount = page.getByRole('slider', { name: 'How far apart' });
  await amount.focus();
  await page.keyboard.press('Home');
  await idle(page);
  expect(difference(open, await modelAlone(page))).toBeGreaterThan(0.01);
  await page.keyboard.press('Escape');
  await expect(rows(page)).toHaveCount(0);
  await idle(page);
  // the eye came back to within a thousandth of where it was: edges differ, nothing else
  expect(difference(shut, await modelAlone(page))).toBeLessThan(0.012);
});

test('Glass: everything, what stands before the selection, or chosen panels', async ({ page }) => {
  await finished(page);
  await idle(page);
  const solid = share(await modelAlone(page), blue, 40);
  await page.keyboard.press('g');
  await idle(page);
  const all = share(await modelAlone(page), blue, 40);
  expect(all).toBeLessThan(0.2 * solid);
  // The base, hidden in the shut case, is seen through lid and walls; the rest stays solid.
  await clickSheet(page, 0.5, 2 / 7);
  await rows(page).getByRole('radio', { name: 'In front' }).click();
  await idle(page);
  const front = await modelAlone(page);
  expect(share(front, blue, 40)).toBeLessThan(0.9 * solid);
  await rows(page).getByRole('radio', { name: 'Chosen' }).click();
  await clickSheet(page, 0.5, 5 / 7);
  await idle(page);
  expect(difference(front, await modelAlone(page))).toBeGreaterThan(0.005);
  await page.keyboard.press('g');
  await expect(rows(page)).toHaveCount(0);
});

test('the lock plays by itself, slowly, with its section; it can be stopped and stepped', async ({
  page,
}) => {
  await inMotion(page);
  await finished(page);
  await page.getByRole('button', { name: 'Play the lock slowly' }).click();
  await expect(page.getByTestId('section').first().locator('.cut-face').first()).toBeAttached({
    timeout: 10_000,
  });
  const bar = rows(page).getByRole('progressbar');
  const at = async () => Number(await bar.getAttribute('aria-valuenow'));
  await expect.poll(at, { timeout: 10_000 }).toBeGreaterThan(5);
  await rows(page).getByRole('button', { name: 'Stop' }).click();
  const stopped = await at();
  await idle(page);
  expect(await at()).toBe(stopped);
  await rows(page).getByRole('button', { name: 'One still on' }).click();
  expect((await at()) % 12.5).toBeLessThan(1);
  expect(await at()).toBeGreaterThan(stopped);
  await page.keyboard.press('m');
  await expect.poll(at, { timeout: 20_000 }).toBe(100);
  await page.keyboard.press('Escape');
  await expect(rows(page)).toHaveCount(0);
  await expect(page.getByTestId('section')).toHaveCount(0);
});

test('with reduced motion the lock is shown in stills', async ({ page }) => {
  await finished(page);
  await page.keyboard.press('m');
  const bar = rows(page).getByRole('progressbar');
  const at = async () => Number(await bar.getAttribute('aria-valuenow'));
  await expect.poll(at, { timeout: 10_000 }).toBeGreaterThan(0);
  expect(Math.abs(((await at()) / 12.5) % 1)).toBeLessThan(0.09);
});

// Most layers at a point: scenarios S3 and S4, and for S5 wall, gusset, gusset, tip, tip.
for (const [title, deepest] of [
  ['Two-band ticket wallet', 9],
  ['Flared planter sleeve', 5],
] as const)
  test(`all ways of looking inside the ${title}`, async ({ page }) => {
    await finished(page, title);
    await idle(page);
    const shut = await modelAlone(page);
    await page.keyboard.press('l');
    await expect(stack(page)).toContainText(`${deepest} layers here`);
    await page.keyboard.press('c');
    await expect(page.getByTestId('section').first().locator('.cut-numbers text')).toHaveCount(deepest);
    // first what is open is closed, then nothing is selected
    await page.keyboard.press('Escape');
    await page.keyboard.press('Escape');
    for (const key of ['g', 'v']) {
      await page.keyboard.press(key);
      await idle(page);
      expect(difference(shut, await modelAlone(page))).toBeGreaterThan(0.02);
      await page.keyboard.press('Escape');
    }
    await page.getByRole('heading', { level: 1 }).click();
    await page.keyboard.press('m');
    await expect
      .poll(async () => Number(await rows(page).getByRole('progressbar').getAttribute('aria-valuenow')), {
        timeout: 15_000,
      })
      .toBeGreaterThan(10);
    await expect(page.getByTestId('section').first().locator('.cut-face').first()).toBeAttached();
    await page.keyboard.press('m');
    await page.keyboard.press('Escape');
    await expect(rows(page)).toHaveCount(0);
  });

const HUNDREDTH = (0.01 * Math.PI) / 180;

/**
 * What differs between two pictures of which the second is seen from a hundredth of a degree beside the first, so that
 * nothing on screen moves by as much as a tenth of a pixel. `stray`: by how much the colour of a pixel lies outside
 * those that the other picture has within two pixels; an edge that moves by so little only mixes them anew. `changed`:
 * how many pixels changed, as a share of those near an edge; a sample of an edge is crossed at one pixel in ten at most,
 * while layers that flicker through one another change half of all pixels where they lie.
 */
function flicker(one: PNG, other: PNG): { stray: number; changed: number; at: string } {
  const { width, height } = one;
  const value = (png: PNG, x: number, y: number, c: number) => png.data[4 * (y * width + x) + c]!;
  let [stray, changed, edges, at] = [0, 0, 0, ''];
  for (let y = 2; y < height - 2; y++)
    for (let x = 2; x < width - 2; x++) {
      let [edge, other24] = [false, false];
      for (let c = 0; c < 3; c++) {
        let [low, high] = [255, 0];
        for (let dy = -2; dy <= 2; dy++)
          for (let dx = -2; dx <= 2; dx++) {
            const near = value(other, x + dx, y + dy, c);
            low = Math.min(low, near);
            high = Math.max(high, near);
          }
        const here = value(one, x, y, c);
        const off = Math.max(low - here, here - high);
        if (off > stray) [stray, at] = [off, `${x}, ${y}`];
        edge ||= high - low > 40;
        other24 ||= Math.abs(here - value(other, x, y, c)) > 24;
      }
      if (edge) edges++;
      if (other24) changed++;
    }
  return { stray, changed: changed / Math.max(1, edges), at };
}

/** Two of the four samples of a pixel, between the lightest and the darkest of the lessons' colours (190 apart). */
const STRAY = 95;
const CHANGED = 0.05;

for (const title of ['Long pencil case', 'Two-band ticket wallet', 'Flared planter sleeve'])
  for (const size of ['desk', 'phone'])
    test(`no flicker between the layers of the ${title} (${size})`, async ({ page }) => {
      if (size === 'phone') await page.setViewportSize(phone);
      await finished(page, title);
      await idle(page);
      const turn = async (angle: number) => {
        await page.getByTestId('model-canvas').evaluate((canvas, by) => {
          const { stage } = canvas as unknown as {
            stage: { rig: { nudge: (a: number, b: number, c: number) => void }; invalidate: () => void };
          };
          stage.rig.nudge(by, 0, 1);
          stage.invalidate();
        }, angle);
        await idle(page);
      };
      for (const far of [0, 0.7, 1.9, 3.3]) {
        await turn(far);
        const before = await modelPixels(page);
        await turn(HUNDREDTH);
        const { stray, changed, at } = flicker(before, await modelPixels(page));
        expect(stray, `at ${at}, turned by ${far}`).toBeLessThanOrEqual(STRAY);
        expect(changed, `turned by ${far}`).toBeLessThanOrEqual(CHANGED);
      }
    });

test('everything inside stands the rules of access, on a desk and on a phone', async ({ page }) => {
  const violations = async () => {
    const { violations: found } = await new AxeBuilder({ page }).analyze();
    return found.map((one) => `${one.id}: ${one.nodes.map((node) => node.target.join(' ')).join(', ')}`);
  };
  await finished(page);
  for (const key of ['l', 'v', 'g', 'c']) await page.keyboard.press(key);
  await expect(page.getByTestId('section').first()).toBeVisible();
  await idle(page);
  expect(await violations()).toEqual([]);
  await page.setViewportSize(phone);
  await idle(page);
  expect(await violations()).toEqual([]);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
  expect(wide).toBe(false);
});

test('on a phone a finger opens the slice and the sheet leaves the model in sight', async ({ browser }) => {
  const context = await browser.newContext({ viewport: phone, hasTouch: true });
  await countWork(context);
  const page = await context.newPage();
  await finished(page);
  await page.getByRole('button', { name: 'Slice' }).tap();
  const sheet = page.locator('.bottom-sheet');
  await expect(sheet.getByTestId('section')).toBeVisible();
  const [table, risen] = [await page.locator('.table').boundingBox(), await sheet.boundingBox()];
  expect(risen!.height).toBeLessThanOrEqual(0.51 * table!.height);
  await idle(page);
  const handle = await page.locator('#slice-handle').boundingBox();
  expect(handle!.y + 28).toBeLessThan(risen!.y);
  await sheet.getByRole('button', { name: 'Close' }).tap();
  await expect(sheet).toHaveCount(0);
  await context.close();
});
