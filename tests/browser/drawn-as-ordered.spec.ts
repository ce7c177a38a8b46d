/** On the real stage: paper that the layers have behind other paper is not drawn before it while it slides in. */
import type { Page } from '@playwright/test';
import type { PNG } from 'pngjs';
import { eyeOf, viewNames } from '../../src/core/lesson/eye.ts';
import { lookThrough } from '../oracles/raster.ts';
import {
  drawnLesson,
  judgedLessons,
  MOMENTS,
  orderedStack,
  type WrongPixel,
  wronglyHides,
  wrongPixel,
} from '../support/drawn-as-ordered.ts';
import { sampleOf } from '../support/lessons.ts';
import { type IdMoment, MIXED, NOTHING, nameByColour, takeIdPictures } from './id-pictures.ts';
import {
  addRule,
  clickSheet,
  expect,
  idle,
  lessonFile,
  modelPixels,
  openByDialog,
  openTable,
  ready,
  slider,
  test,
} from './support.ts';

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

/** The picture of the model alone, nothing over it, once it rests. */
async function modelAlone(page: Page): Promise<PNG> {
  await page.mouse.move(2, 450);
  await idle(page);
  return modelPixels(page);
}

/** Goes to the end of the last step, where all layers are known, and looks from one of the named sides. */
async function lookAtEnd(page: Page, view: string): Promise<void> {
  await addRule(
    page,
    '.inside-rows, .tooltip { visibility: hidden; } .model-board { outline: none !important; }',
  );
  await slider(page).focus();
  await page.keyboard.press('End');
  const asked = page.getByRole('region', { name: 'Which stacking is meant?' });
  await expect(page.getByTestId('locks').or(asked)).toBeVisible();
  await page.getByRole('button', { name: 'View', exact: true }).click();
  await page.getByRole('menuitem', { name: view }).click();
  await idle(page);
  await addRule(page, '.tool-dock { visibility: hidden !important; }');
}

/** Moves the slider back by so many twentieths of a step. */
async function stepBack(page: Page, presses: number): Promise<void> {
  await slider(page).focus();
  for (let k = 0; k < presses; k++) await page.keyboard.press('ArrowLeft');
}

/** A panel is a rectangle and seen whole. @param at a place within it on the flat sheet @param wide width by height, less than it has */
async function isSeenWhole(page: Page, at: readonly [number, number], wide: number): Promise<void> {
  const plain = await modelAlone(page);
  await clickSheet(page, ...at);
  const lit = await modelAlone(page);
  const { share, across, up } = filled(changed(plain, lit), plain.width);
  expect(across / up).toBeGreaterThan(wide);
  expect(share).toBeGreaterThan(0.97);
  await page.keyboard.press('Escape');
}

test('the front wall of the pencil case is seen whole while the flap slides in behind it', async ({
  page,
}) => {
  await openTable(page);
  await lookAtEnd(page, 'Front');
  // through the last two steps, back to where the flap is still over the rim
  for (const presses of [2, 5, 8, 10]) {
    await stepBack(page, presses);
    // y 0 to 1 of 7, x 1 to 6: 150 by 30 mm, in perspective
    await isSeenWhole(page, [3.5 / 7, 0.5 / 7], 4);
  }
});

test('the bands of the ticket wallet are seen whole while its side slides in behind them', async ({
  page,
}) => {
  await openTable(page);
  await openByDialog(page, lessonFile('ticket-wallet'));
  await ready(page, 'Two-band ticket wallet');
  await lookAtEnd(page, 'From above');
  for (const presses of [0, 3]) {
    await stepBack(page, presses);
    // the band in front of the middle pocket: x 4 to 9 of 12, y 0 to 1
    await isSeenWhole(page, [6.5 / 12, 0.5 / 12], 4);
  }
});

/** Every so many moments are judged; all in soak. The last is the end of the lesson. */
const EVERY_MOMENT = process.env.CREASEWAY_SOAK === undefined ? 23 : 1;
/** Every so many pixels are judged: about one for each millimetre of the model. */
const EVERY_PIXEL = 4;

/** Puts the slider at a place, as a pointer that drags it does. */
async function slideTo(page: Page, place: number): Promise<void> {
  await slider(page).evaluate((range, value) => {
    Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!.set!.call(range, String(value));
    range.dispatchEvent(new Event('input', { bubbles: true }));
  }, place);
  await idle(page);
}

/** What is judged of the pictures of a moment. `odd`: pixels that show a panel which does not lie there. */
function judge(
  moment: IdMoment,
  hides: ReturnType<typeof wronglyHides>,
): { wrong: WrongPixel[]; judged: number; odd: number } {
  const wrong: WrongPixel[] = [];
  let [judged, odd] = [0, 0];
  for (const { pinhole, triangles, width, height, panel } of moment.pictures)
    lookThrough(triangles, pinhole, { width, height, every: EVERY_PIXEL }).forEach((row, y) => {
      row.forEach((hits, x) => {
        const name = panel[y]![x]!;
        if (name === MIXED || (name === NOTHING && hits.length === 0)) return;
        judged++;
        const shown = hits.find(({ id }) => id === name);
        if (!shown) odd++;
        else wrong.push(...hits.filter((hit) => hides(shown, hit)).map((hit) => wrongPixel(shown, hit)));
      });
    });
  return { wrong, judged, odd };
}

/** A lesson on the table whose paper is drawn in colours that name its panels. */
async function openNamed(page: Page, name: string) {
  await openTable(page);
  const lesson = sampleOf(name);
  if (name !== 'pencil-case') await openByDialog(page, lessonFile(name));
  await ready(page, lesson.title);
  await nameByColour(page);
  return lesson;
}

const sevenEyes = viewNames.map((view) => eyeOf(view));

// common practice, no source: an id picture by the graphics card, held against all that lies under its pixels
for (const [name, first] of judgedLessons)
  test(`drawn as ordered, moment after moment, in the page's seven views: ${name}`, async ({ page }) => {
    test.setTimeout(1_200_000);
    const lesson = await openNamed(page, name);
    const drawn = drawnLesson(lesson);
    const order = orderedStack(drawn, first);
    const last = lesson.steps.length;
    const wrong: WrongPixel[] = [];
    let [judged, odd] = [0, 0];
    for (let k = MOMENTS; k > 0; k -= EVERY_MOMENT) {
      await slideTo(page, first + ((last - first) * k) / MOMENTS);
      const moment = await takeIdPictures(page, sevenEyes, EVERY_PIXEL);
      const found = judge(moment, wronglyHides(drawn.run.plan.sheet, moment.placement, order));
      wrong.push(...found.wrong);
      judged += found.judged;
      odd += found.odd;
    }
    expect(wrong).toEqual([]);
    // of pixels at the rim of a panel it is a matter of rounding whose they are
    expect(odd / judged).toBeLessThan(1e-3);
    expect(judged).toBeGreaterThan((MOMENTS / EVERY_MOMENT) * sevenEyes.length * 1000);
  });

test('the same pictures of the pencil case with stiff panels show the flap outside the wall', async ({
  page,
}) => {
  const drawn = drawnLesson(await openNamed(page, 'pencil-case'));
  await slideTo(page, 5.6);
  const moment = await takeIdPictures(page, sevenEyes, EVERY_PIXEL, 'stiff');
  const hides = wronglyHides(drawn.run.plan.sheet, moment.placement, orderedStack(drawn, 4));
  expect(judge(moment, hides).wrong.length).toBeGreaterThan(100);
});
