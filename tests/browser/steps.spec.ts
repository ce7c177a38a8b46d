/** Steps edited on screen, folds made on the model, stackings chosen; each taken back by undo. */

import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { PNG } from 'pngjs';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { blueSquare } from '../support/square.ts';
import { along, arrowBack } from './other-words.ts';
import {
  blueBox,
  clickSheet,
  drop,
  expect,
  file,
  foldTo,
  idle,
  lessonFile,
  modelPixels,
  openByDialog,
  openTable,
  ready,
  savedLesson,
  test,
} from './support.ts';

const titles = (page: Page) => page.locator('.card-title').allTextContents();

async function openWallet(page: Page): Promise<void> {
  await openTable(page);
  await openByDialog(page, lessonFile('ticket-wallet'));
  await ready(page, 'Two-band ticket wallet');
}

async function changeStep(page: Page, index: number, item: string): Promise<void> {
  const wanted = page.getByRole('menuitem', { name: item, exact: true });
  // a menu that is still closing takes the first click
  await expect(async () => {
    await page.locator('.card-menu').nth(index).click({ force: true, timeout: 2000 });
    await expect(wanted).toBeVisible({ timeout: 2000 });
  }).toPass({ timeout: 30_000 });
  await wanted.click();
}

test.setTimeout(120_000);

const summary = (page: Page) => page.getByTestId('summary');

test('split, joined, duplicated, moved, switched off and removed steps are rebuilt, and undo brings all back', async ({
  page,
}) => {
  await openWallet(page);
  const before = await titles(page);
  const last = before.length - 1;
  await changeStep(page, last - 1, 'Split half-way');
  await expect(page.locator('.card')).toHaveCount(before.length + 1);
  await expect(summary(page)).toContainText('Folds with stiff panels in every step');
  await changeStep(page, last - 1, 'Join with the next');
  await expect(page.locator('.card')).toHaveCount(before.length);
  await changeStep(page, 0, 'Duplicate');
  await expect(page.locator('.card')).toHaveCount(before.length + 1);
  // the copy folds nothing, so that it is not missed
  await changeStep(page, 1, 'Switch off');
  await expect(page.locator('.card').nth(1)).toContainText('off');
  await expect(summary(page)).toContainText('Folds with stiff panels in every step');
  await changeStep(page, 1, 'Move right');
  expect((await titles(page))[2]).toBe(before[0]);
  await page.locator('.card').nth(2).focus();
  await page.keyboard.press(`Alt+${arrowBack()}`);
  await expect.poll(() => titles(page)).toEqual([before[0], ...before]);
  await changeStep(page, 1, 'Remove');
  await expect(page.locator('.card')).toHaveCount(before.length);
  for (let k = 0; k < 7; k++) await page.keyboard.press('Control+z');
  await expect.poll(() => titles(page)).toEqual(before);
  await expect(summary(page)).toContainText('Folds with stiff panels in every step');
});

test('a card that is dragged moves its step', async ({ page }) => {
  await openWallet(page);
  const before = await titles(page);
  const [from, to] = [page.locator('.card').nth(0), page.locator('.card').nth(1)];
  const [a, b] = [(await from.boundingBox())!, (await to.boundingBox())!];
  await page.mouse.move(a.x + a.width / 2, a.y + a.height / 2);
  await page.mouse.down();
  await page.mouse.move(b.x + b.width * along(0.8), b.y + b.height / 2, { steps: 8 });
  await page.mouse.up();
  await expect.poll(() => titles(page)).toEqual([before[1], before[0], ...before.slice(2)]);
});

test('words, kind and minutes are edited in place and read again', async ({ page }) => {
  await openWallet(page);
  await foldTo(page, 1);
  await page.getByLabel('Title of the step').fill('Strip to the back');
  await page.keyboard.press('Enter');
  await expect(page.locator('.card-title').first()).toHaveText('Strip to the back');
  await page.getByLabel('Minutes for this step').fill('3');
  await page.keyboard.press('Enter');
  await expect(page.locator('.card').first()).toContainText('3 min');
  await page.getByRole('button', { name: /Kind of step/ }).click();
  await page.getByRole('menuitemradio', { name: 'tuck' }).click();
  await expect(page.locator('.card').first()).toContainText('tuck');
  await page.keyboard.press('Control+z');
  await expect(page.locator('.card').first()).toContainText('fold');
});

test('a new step takes the angle that is typed for a picked crease, and the model follows', async ({
  page,
}) => {
  await openTable(page);
  const half: Lesson = {
    ...blueSquare,
    title: 'Half sheet',
    sheet: { ...blueSquare.sheet, sideUp: 'b' },
    pattern: {
      outline: [
        [0, 0],
        [2, 0],
        [2, 1],
        [0, 1],
      ],
      lines: [{ from: [1, 0], to: [1, 1], kind: 'valley' }],
    },
  };
  await openByDialog(page, file('half.json', JSON.stringify(half)));
  await ready(page, 'Half sheet');
  await page.getByRole('button', { name: 'Add a step' }).click();
  await page.getByRole('menuitem', { name: 'fold', exact: true }).click();
  await expect(page.locator('.card')).toHaveCount(1);
  await clickSheet(page, 0.5, 0.25);
  const field = page.getByLabel(/Angle at the end of/);
  await field.fill('90');
  await page.keyboard.press('Enter');
  await foldTo(page, 1);
  // half of 100 mm lies, half stands
  await expect(page.getByTestId('model-size')).toContainText('50 × 50 × 50');
});

test('a fold made on the model adds its lines and its step, and undo takes both away', async ({ page }) => {
  await openTable(page);
  await openByDialog(page, file('square.json', JSON.stringify({ ...blueSquare, title: 'Plain square' })));
  await expect(page.getByRole('heading', { name: 'Plain square' })).toBeVisible();
  await page.locator('.model-board').focus();
  await page.keyboard.press('6');
  await idle(page);
  await page.keyboard.press('a');
  await expect(page.locator('.across-rows')).toContainText('two places');
  // corners of the square, seen from above
  const board = (await page.locator('.model-board').boundingBox())!;
  const box = blueBox(await modelPixels(page));
  for (const [x, y] of [
    [box.left, box.bottom],
    [box.right, box.top],
  ] as const)
    await page.mouse.click(board.x + x, board.y + y);
  await page.getByRole('button', { name: 'Fold', exact: true }).last().click();
  await expect(page.locator('.card')).toHaveCount(1);
  await expect(summary(page)).toContainText('Folds with stiff panels in every step');
  await page.keyboard.press('Control+z');
  await expect(page.locator('.card')).toHaveCount(0);
});

test('the wallet asks which stacking is meant; the one chosen holds, and undo asks again', async ({
  page,
}) => {
  await openWallet(page);
  await foldTo(page, await page.locator('.card').count());
  await expect(page.getByTestId('stacking')).toContainText('12 ways');
  expect(await page.locator('.stacking-choice').count()).toBe(4);
  await page.getByRole('button', { name: 'Show 8 more' }).click();
  await expect(page.locator('.stacking-choice')).toHaveCount(12);
  await expect(page.locator('.section-sketch path').first()).toBeVisible();
  // each picture says in one sentence what tells it from the others
  const told = await page.getByTestId('difference').allTextContents();
  // in brackets of the made-up language it begins with one
  for (const sentence of told) expect(sentence).toMatch(/^panel \d+ lies on the .+ side of panel \d+.*\.$/i);
  expect(new Set(told).size).toBe(12);
  await page.locator('.stacking-choice').first().click();
  await expect(page.getByTestId('locks')).toContainText('25.0 mm into a pocket 37.5 mm deep');
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);
  await page.keyboard.press('Control+z');
  await expect(page.getByTestId('stacking')).toContainText('12 ways');
});

test('the twist that no stiff motion reaches shows its finished shape, six layers deep, and says so', async ({
  page,
}) => {
  await openTable(page);
  await openByDialog(page, lessonFile('twist-coaster'));
  await page.getByRole('button', { name: 'Show the finished shape' }).click();
  await expect(page.getByTestId('model-size')).toContainText('90 × 90 × 0');
  await expect(page.locator('.by-hand')).toContainText('no motion to it was found');
  await expect(page.locator('.findings-part')).toContainText('one stacking, at most 6 layers');
});

test('a step is located in words and by corners, which are ringed; a precrease step names what it makes', async ({
  page,
}) => {
  await openWallet(page);
  await foldTo(page, 1);
  const words = page.getByLabel('How the fold is located');
  await words.fill('A twelfth up.');
  await page.getByRole('heading', { level: 1 }).click();
  // a corner that no landmark names yet: the right end of the lowest crease
  await clickSheet(page, 1, 1 / 12);
  await page.getByText('Locates “Bottom strip behind”').click();
  await page.locator('.sheet-board').focus();
  await page.keyboard.press('Escape');
  await expect(page.getByTestId('sheet-drawing').locator('.ring-landmark')).toHaveCount(2);

  await page.getByRole('button', { name: 'Add a step' }).click();
  await page.getByRole('menuitem', { name: 'precrease', exact: true }).click();
  await expect(page.getByRole('slider')).toHaveValue('2', { timeout: 20_000 });
  await expect(page.getByTestId('sheet-drawing').locator('.ring-landmark')).toHaveCount(0);
  await clickSheet(page, 0.5, 1 / 3);
  await page.getByText('Precreased in this step').click();
  const made = page.getByTestId('prepare');
  await made.getByLabel('How crease 1 is found').fill('A third.');
  await made.getByRole('button', { name: 'side A up' }).click();
  await made.getByRole('button', { name: 'crease', exact: true }).click();
  const { steps } = await savedLesson(page);
  expect(steps[0]).toMatchObject({
    landmark: 'A twelfth up.',
    landmarkAt: [
      [0, 1],
      [12, 1],
    ],
  });
  expect(steps[1]!.makes).toEqual([
    { from: expect.anything(), to: expect.anything(), side: 'b', landmark: 'A third.', pinch: true },
  ]);
  for (const { from, to } of steps[1]!.makes!) expect([from[1], to[1]]).toEqual([4, 4]);
});

/** Blue and white paper in the small picture of a step: how much there is of each, and how wide it is against its height. */
async function pictureOf(page: Page, card: number) {
  const source = await page.locator('.card-picture img').nth(card).getAttribute('src');
  const { width, height, data } = PNG.sync.read(Buffer.from(source!.split(',')[1]!, 'base64'));
  const paper = Array.from({ length: width * height }, (_, k) => k).filter((k) => data[4 * k + 3]! > 128);
  const blue = paper.filter((k) => data[4 * k + 2]! > data[4 * k]! + 30).length / paper.length;
  const [xs, ys] = [paper.map((k) => k % width), paper.map((k) => Math.floor(k / width))];
  const span = (of: readonly number[]) => Math.max(...of) - Math.min(...of);
  return { blue, wide: span(xs) / span(ys) };
}

test('small pictures turn with a step that turns the model round, and show the other side of one turned over', async ({
  page,
}) => {
  const strip: Lesson = {
    ...blueSquare,
    title: 'Strip',
    pattern: {
      outline: [
        [0, 0],
        [1, 0],
        [1, 0.33],
        [0, 0.33],
      ],
      lines: [],
    },
    steps: [
      { kind: 'note', title: 'Look', sentence: '', drives: [] },
      { kind: 'rotate', title: 'Round', sentence: '', turn: 90, drives: [] },
      { kind: 'turn-over', title: 'Over', sentence: '', drives: [] },
    ],
  };
  await openTable(page);
  await openByDialog(page, file('strip.json', JSON.stringify(strip)));
  await ready(page, 'Strip');
  await expect(page.locator('.card-picture img')).toHaveCount(3, { timeout: 20_000 });
  const [plain, round, over] = [await pictureOf(page, 0), await pictureOf(page, 1), await pictureOf(page, 2)];
  expect(plain.wide).toBeGreaterThan(1.9);
  expect(round.wide).toBeLessThan(1.6);
  for (const { blue } of [plain, round]) expect(blue).toBeGreaterThan(0.8);
  expect(over.blue).toBeLessThan(0.1);
  // another turn of the step is another picture
  await page.locator('.card').nth(1).click();
  await page.getByRole('radio', { name: '180°' }).click();
  await expect.poll(async () => (await pictureOf(page, 1)).wide, { timeout: 20_000 }).toBeGreaterThan(1.9);
});

test('undo reaches past a field that holds nothing new, and is the field’s own while it does', async ({
  page,
}) => {
  await openTable(page);
  await foldTo(page, 1);
  const title = page.locator('.column .title-input');
  const was = await title.inputValue();
  await title.fill('Walls up');
  await title.press('Enter');
  await expect(page.locator('.card-title').first()).toHaveText('Walls up');
  await title.focus();
  await page.keyboard.press('Control+z');
  await expect(page.locator('.card-title').first()).toHaveText(was);
  await expect(title).toBeFocused();
  await page.keyboard.press('Control+y');
  await expect(page.locator('.card-title').first()).toHaveText('Walls up');
  await page.keyboard.press('End');
  await page.keyboard.type('!');
  await page.keyboard.press('Control+z');
  await expect(title).toHaveValue('Walls up');
  await expect(page.locator('.card-title').first()).toHaveText('Walls up');
});

test('a field in hand names the step whose value it changes, while another passes by', async ({ page }) => {
  await openTable(page);
  await clickSheet(page, 0.5, 3 / 7);
  await foldTo(page, 0.9);
  const field = page.locator('.angle-field input');
  const first = await page.locator('.card-title').first().textContent();
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await field.focus();
  await expect(page.getByRole('slider')).toHaveAttribute('aria-valuetext', /^Step 2/);
  await expect(field).toHaveAccessibleName(new RegExp(`“${first}”`));
  await field.fill('45');
  await field.press('Enter');
  const [one, two] = (await savedLesson(page)).steps;
  expect(one!.drives.some(({ angle }) => angle === 45)).toBe(true);
  expect(two!.drives.some(({ angle }) => angle === 45)).toBe(false);
});

for (const [width, height] of [
  [1440, 900],
  [390, 844],
] as const)
  test(`a failure moves nothing on screen, ${width} x ${height}; the sample says that it is meant to`, async ({
    page,
  }) => {
    await page.setViewportSize({ width, height });
    await openTable(page);
    const seen = page.evaluate(
      () =>
        new Promise<string[]>((resolve) => {
          const places = new Set<string>();
          let after = 0;
          const look = () => {
            if (document.querySelector('h1')?.textContent === 'Framed twist coaster') {
              const at = ['.model-board', '.storyboard', '.fold-range', '.transport'].map((one) => {
                const { top, height } = document.querySelector(one)!.getBoundingClientRect();
                return `${one} ${Math.round(top)} ${Math.round(height)}`;
              });
              places.add(at.join('; '));
              // a few pictures more, for what follows late
              if (document.querySelector('.card-place-fails') && ++after > 20) return resolve([...places]);
            }
            requestAnimationFrame(look);
          };
          look();
        }),
    );
    await drop(page, lessonFile('twist-coaster'));
    await ready(page, 'Framed twist coaster');
    expect(await seen).toHaveLength(1);
    if (width > 1000) await expect(page.locator('.findings-part')).toContainText('is here to show');
  });

test('likely mistakes name their creases, are told apart, and lead back to them', async ({ page }) => {
  await openTable(page);
  await foldTo(page, 2);
  await page.getByRole('button', { name: 'If a learner’s looks different' }).click();
  const wrongs = page.getByTestId('wrongs');
  await expect(wrongs.locator('.wrong-right')).toContainText('As it should look');
  const choices = wrongs.getByRole('button');
  await expect(choices.filter({ hasText: 'folding…' })).toHaveCount(0, { timeout: 40_000 });
  const names = await wrongs.locator('li button .choice-words').allTextContents();
  expect(names.length).toBeGreaterThan(3);
  expect(new Set(names).size).toBe(names.length);
  for (const name of names) expect(name).toMatch(/[Cc]reases? \d+|Begun with/);
  const first = choices.first();
  const numbers = (await first.textContent())!.match(/^Creases? ([\d, and]+) /)![1]!.match(/\d+/g)!;
  await expect(first.locator('.at-fault-lines')).toHaveAttribute('d', /M.*L/);
  await first.click();
  await expect(page.locator('.column .selected-title')).toContainText(`no. ${numbers[0]}`);
});
