/** Files from strangers: what stands round the sheet, several sheets, and that nothing of a file reaches out. */
import { readdirSync, readFileSync } from 'node:fs';
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { mutated, pdfContent } from '../support/mutated.ts';
import { drop, expect, file, openTable, test } from './support.ts';

const folder = new URL('../fixtures/drawings/', import.meta.url);
const drawing = (name: string) => file(name, readFileSync(new URL(name, folder)));

const dialog = (page: Page) => page.getByRole('dialog');

for (const [width, height] of [
  [1440, 900],
  [390, 844],
] as const)
  test(`of two sheets in a drawing one is asked for, ${width} x ${height}`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await openTable(page);
    await drop(page, drawing('zc-two-sheets.svg'));
    await expect(dialog(page)).toContainText('Which of these 2 sheets?');
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);
    await page.getByRole('button', { name: 'Sheet 2: 4 creases' }).click();
    await expect(dialog(page)).toContainText('8 lines round or beside the sheet were left out.');
    await page.getByRole('button', { name: 'Fold this drawing' }).click();
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('zc-two-sheets');
    await expect(page.locator('.app')).toHaveAttribute('data-panels', '4');
  });

for (const [width, height] of [
  [1440, 900],
  [390, 844],
] as const)
  test(`of a PDF file with two pages of lines one is asked for and folded, ${width} x ${height}`, async ({
    page,
  }) => {
    await page.setViewportSize({ width, height });
    await openTable(page);
    const printed = readFileSync(new URL('../fixtures/pdf/chromium-pages.pdf', import.meta.url));
    await drop(page, file('pages.pdf', printed));
    // the library that reads such files comes with the first of them
    await expect(dialog(page)).toContainText('Which of these 2 pages?', { timeout: 30_000 });
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);
    await page.getByRole('button', { name: 'Page 3: 36 lines' }).click();
    await expect(dialog(page).getByRole('combobox', { name: 'Meaning of dashed' })).toHaveValue('valley');
    await page.getByRole('button', { name: 'Fold this drawing' }).click();
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('pages');
    await expect(page.getByText('210 mm sheet')).toBeVisible();
  });

for (const [name, panels] of [
  ['pattern-3.png', '16'],
  ['pattern-6.jpg', '19'],
] as const)
  test(`${name}: lines read from a picture lie over it, are answered and folded, and never called exact`, async ({
    page,
  }) => {
    await openTable(page);
    const picture = readFileSync(new URL(`../fixtures/pictures/${name}`, import.meta.url));
    await drop(page, file(name, picture));
    await expect(dialog(page)).toContainText('a reading is never exact', { timeout: 60_000 });
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);
    await expect(dialog(page).getByRole('combobox', { name: 'Meaning of dash-dot-dot' })).toHaveValue(
      'mountain',
    );
    await page.getByRole('button', { name: 'Fold this drawing' }).click();
    await expect(page.locator('.app')).toHaveAttribute('data-panels', panels);
    await expect(page.locator('.findings')).toContainText('read from a picture');
  });

test('a frame round the sheet is left out, and taken in when asked', async ({ page }) => {
  await openTable(page);
  await drop(page, drawing('f-page-frame.svg'));
  await expect(dialog(page)).toContainText('4 lines round or beside the sheet were left out.');
  await page.getByRole('button', { name: 'Take all lines' }).click();
  await expect(dialog(page)).not.toContainText('left out');
  await page.getByRole('button', { name: 'Fold this drawing' }).click();
  await expect(page.getByText('297 mm sheet')).toBeVisible();
});

test('creases that stop short are told with their gap and drawn on at a press', async ({ page }) => {
  await openTable(page);
  await drop(page, drawing('zi-undershoot.svg'));
  await page.getByRole('button', { name: 'Fold this drawing' }).click();
  await expect(page.locator('.app')).toHaveAttribute('data-panels', '2');
  await expect(page.locator('.findings')).toContainText('stops 0.02 mm short of the next line');
  await page.getByRole('button', { name: 'Draw all 3 ends on to there' }).first().click();
  await expect(page.locator('.app')).toHaveAttribute('data-panels', '4');
  await page.keyboard.press('Control+z');
  await expect(page.locator('.app')).toHaveAttribute('data-panels', '2');
});

/** Opens the table, and hears of every request and every breach of the page's policy from then on. */
async function watchOutside(page: Page): Promise<() => Promise<{ elsewhere: string[]; broken: string[] }>> {
  const asked: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  await page.addInitScript(() => {
    const state = { broken: [] as string[], answers: 0 };
    Object.assign(window, { outside: state });
    document.addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI }) =>
      state.broken.push(`${violatedDirective} ${blockedURI}`),
    );
    // what the worker that reads files has answered
    const Real = window.Worker;
    window.Worker = class extends Real {
      constructor(url: string | URL, options?: WorkerOptions) {
        super(url, options);
        if (!String(url).includes('file')) return;
        this.addEventListener('message', ({ data }) => {
          if (data.kind !== 'stage') state.answers++;
        });
      }
    };
  });
  await openTable(page);
  await expect(page.locator('meta[http-equiv="Content-Security-Policy"]')).toHaveAttribute(
    'content',
    /default-src 'self'/,
  );
  const { origin } = new URL(page.url());
  return async () => ({
    elsewhere: asked.filter((url) => !url.startsWith(origin) && !/^(?:data|blob):/.test(url)),
    broken: await page.evaluate(
      () => (window as unknown as { outside: { broken: string[] } }).outside.broken,
    ),
  });
}

const answers = (page: Page) =>
  page.evaluate(() => (window as unknown as { outside: { answers: number } }).outside.answers);

test('no drawing makes the page ask anybody else for anything, and the policy of the page is kept', async ({
  page,
}) => {
  const outside = await watchOutside(page);
  for (const name of readdirSync(folder).filter((one) => /\.(?:svg|dxf|fold)$/.test(one))) {
    await drop(page, drawing(name));
    const sheets = page.getByRole('button', { name: /^Sheet 1:/ });
    const fold = page.getByRole('button', { name: 'Fold this drawing' });
    const notice = page.getByTestId('notice');
    const opened = page.getByRole('heading', { level: 1, name: name.replace(/\.\w+$/, ''), exact: true });
    await expect(sheets.or(fold).or(notice).or(opened).first()).toBeVisible();
    if (await sheets.isVisible()) {
      await sheets.click();
      await expect(fold).toBeVisible();
    }
    if (await fold.isVisible()) {
      await fold.click();
      await expect(opened).toBeVisible();
    }
    await page.keyboard.press('Escape');
    await expect(notice).toHaveCount(0);
  }
  expect(await outside()).toEqual({ elsewhere: [], broken: [] });
});

const DROPS = process.env.CREASEWAY_SOAK === undefined ? 25 : 2000;
const FIRST = 71_000;

test(`${DROPS} files changed at random are answered, reach nothing outside and run nothing (seed ${FIRST})`, async ({
  page,
}) => {
  test.setTimeout(60_000 + DROPS * 3000);
  const outside = await watchOutside(page);
  const dialogs: string[] = [];
  const errors: string[] = [];
  page.on('dialog', (one) => void dialogs.push(one.message()));
  page.on('pageerror', (error) => void errors.push(error.message));
  const kinds = ['svg', 'dxf', 'pdf', 'svg', 'fold'] as const;
  const plain = {
    svg: drawing('ze-legend.svg').buffer.toString(),
    dxf: drawing('dxf-blocks-case.dxf').buffer.toString(),
    fold: drawing('fold-unitfn.fold').buffer.toString(),
    pdf: pdfContent,
  };
  for (let k = 0; k < DROPS; k++) {
    const kind = kinds[k % kinds.length]!;
    const before = await answers(page);
    await drop(page, file(`changed-${k}.${kind}`, mutated(kind, plain[kind], FIRST + k)));
    await expect.poll(() => answers(page), `seed ${FIRST + k}`).toBeGreaterThan(before);
    await page.keyboard.press('Escape');
  }
  await expect(page.locator('.app')).toBeVisible();
  expect({ ...(await outside()), dialogs, errors }).toEqual({
    elsewhere: [],
    broken: [],
    dialogs: [],
    errors: [],
  });
});
