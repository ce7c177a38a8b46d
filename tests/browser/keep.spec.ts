/** What was done to a lesson is there again, however the page ended; nothing is overwritten unseen. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import { type BrowserContext, chromium, type Page } from '@playwright/test';
import {
  difference,
  expect,
  file,
  foldTo,
  idle,
  inMotion,
  lessonFile,
  modelPixels,
  openByDialog,
  openLessons,
  openSaving,
  openTable,
  ready,
  slider,
  test,
} from './support.ts';

const title = 'Two-band ticket wallet';
const wallet = () => lessonFile('ticket-wallet');

/** Names side A anew, by the paper's popover. */
async function nameSide(page: Page, name: string): Promise<void> {
  const field = page.getByLabel('Name of side A');
  if (!(await field.isVisible())) await page.keyboard.press('p');
  await field.fill(name);
}

async function sideName(page: Page): Promise<string> {
  await page.keyboard.press('p');
  const name = await page.getByLabel('Name of side A').inputValue();
  await page.keyboard.press('Escape');
  return name;
}

/** All rows of a store of the database. */
const keptRows = <Row>(page: Page, store: string) =>
  page.evaluate(
    (name) =>
      new Promise<unknown[]>((resolve, reject) => {
        const opening = indexedDB.open('creaseway');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const all = opening.result.transaction(name).objectStore(name).getAll();
          all.onsuccess = () => {
            opening.result.close();
            resolve(all.result);
          };
        };
      }),
    store,
  ) as Promise<Row[]>;

/** Names of side A as the database holds them, in the order of writing. */
async function keptNames(page: Page): Promise<string[]> {
  const rows = await keptRows<{ text: string; changed: number }>(page, 'lessons');
  rows.sort((a, b) => a.changed - b.changed);
  return rows.map(({ text }) => JSON.parse(text).sheet.sides.a.name);
}

/** The rooms of a phone that the database says were shown last. */
const keptViews = async (page: Page) =>
  (await keptRows<{ view: string }>(page, 'looks')).map(({ view }) => view);

/** Has a page draw no model, as where a browser has no WebGL. */
const withoutModel = (on: Page | BrowserContext) =>
  on.addInitScript(() => {
    const { getContext } = HTMLCanvasElement.prototype;
    HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, kind: string, ...more) {
      return kind.startsWith('webgl') ? null : getContext.call(this, kind as '2d', ...(more as []));
    } as typeof getContext;
  });

/** The title of the lesson on the table, as soon as there is one. */
async function opened(page: Page, title: string): Promise<void> {
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(title, { timeout: 30_000 });
}

test('an edit is there after the page is opened again, at the same step; the sample stays as it was', async ({
  page,
}) => {
  await openTable(page);
  await nameSide(page, 'Harbour');
  await page.keyboard.press('Escape');
  await foldTo(page, 2);
  await page.reload();
  await ready(page, 'Long pencil case');
  expect(await sideName(page)).toBe('Harbour');
  await expect(page.getByRole('slider')).toHaveValue('2');
  expect(await keptNames(page)).toEqual(['Harbour']);
  await openLessons(page);
  await page.getByRole('menuitem', { name: /Long pencil case/ }).click();
  await expect.poll(() => sideName(page)).toBe('Sea blue');
  expect(await keptNames(page)).toEqual(['Harbour']);
});

test('a first visit keeps nothing and shows the demo lesson; a file that is opened is kept once', async ({
  page,
}) => {
  await openTable(page);
  expect(await keptNames(page)).toEqual([]);
  for (let k = 0; k < 2; k++) {
    await openByDialog(page, wallet());
    await ready(page, title);
  }
  await expect.poll(async () => (await keptNames(page)).length).toBe(1);
  await page.reload();
  await ready(page, title);
});

test('undo of an opening and of edits is kept too', async ({ page }) => {
  await openTable(page);
  await nameSide(page, 'Harbour');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Control+z');
  await expect.poll(() => keptNames(page)).toEqual(['Sea blue']);
});

test('undo and redo go on after the page was opened again', async ({ page }) => {
  await openTable(page);
  for (const name of ['Harbour', 'Quay', 'Pier']) {
    await nameSide(page, name);
    await page.keyboard.press('Escape');
    // names typed within a second of each other are one edit
    await page.waitForTimeout(1000);
  }
  await page.keyboard.press('Control+z');
  await expect.poll(() => keptNames(page)).toEqual(['Quay']);
  await page.reload();
  await ready(page, 'Long pencil case');
  await page.keyboard.press('Control+z');
  await expect.poll(() => keptNames(page)).toEqual(['Harbour']);
  await page.reload();
  await ready(page, 'Long pencil case');
  await page.keyboard.press('Control+z');
  await expect.poll(() => keptNames(page)).toEqual(['Sea blue']);
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
  for (const name of ['Harbour', 'Quay', 'Pier']) {
    await page.keyboard.press('Control+y');
    await expect.poll(() => keptNames(page)).toEqual([name]);
  }
  await expect(page.getByRole('button', { name: 'Redo' })).toBeDisabled();
});

test('the eye stands where it stood when the page was left, on either side', async ({ page }) => {
  await inMotion(page);
  await openTable(page);
  await foldTo(page, 1);
  const asOpened = await modelPixels(page);
  await page.keyboard.press('t');
  // a hand stops the frame that is still on its way to the model
  await idle(page);
  const model = page.getByRole('application', { name: /Folded model/ });
  await model.focus();
  for (const key of ['ArrowLeft', 'ArrowLeft', 'ArrowLeft', 'ArrowUp', '-']) await page.keyboard.press(key);
  await slider(page).focus();
  await idle(page);
  const left = await modelPixels(page);
  expect(difference(asOpened, left)).toBeGreaterThan(0.03);
  await page.reload();
  await ready(page, 'Long pencil case');
  await expect(slider(page)).toHaveValue('1');
  await slider(page).focus();
  // the frame eases toward the model and stops a thousandth of the sheet short, from either side
  await expect
    .poll(async () => difference(left, await modelPixels(page)), { timeout: 15_000 })
    .toBeLessThan(0.01);
  await expect(page.getByRole('button', { name: 'Turn over' })).toHaveAttribute('aria-pressed', 'true');
});

test('on a phone the view that was shown is shown again', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await openTable(page);
  await page.getByRole('radio', { name: 'Sheet' }).click();
  await expect(page.locator('.app')).toHaveAttribute('data-view', 'sheet');
  await expect.poll(() => keptViews(page)).toEqual(['sheet']);
  await page.reload();
  await opened(page, 'Long pencil case');
  await expect(page.locator('.app')).toHaveAttribute('data-view', 'sheet');
});

test('a saved lesson carries its pictures, and the shelf shows it at once when it is opened', async ({
  page,
  browser,
}) => {
  await openTable(page);
  await expect(page.locator('.card-picture img')).toHaveCount(6, { timeout: 20_000 });
  await nameSide(page, 'Harbour');
  await page.keyboard.press('Escape');
  const saving = page.waitForEvent('download');
  await openSaving(page);
  await page.getByRole('menuitem', { name: 'Lesson', exact: true }).click();
  const bytes = readFileSync((await (await saving).path())!);
  const { pictures, ...lesson } = JSON.parse(bytes.toString());
  expect(pictures).toHaveLength(lesson.steps.length);
  expect(bytes.length).toBeLessThan(500_000);
  expect(JSON.stringify(lesson)).not.toContain('base64');

  // where no model can be drawn, pictures can only be those of the file
  const context = await browser.newContext();
  const other = await context.newPage();
  await withoutModel(other);
  await other.goto('./');
  await opened(other, 'Long pencil case');
  await openByDialog(other, file('saved.json', bytes));
  await expect(other.locator('.card-picture img')).toHaveCount(pictures.length, { timeout: 20_000 });
  await openLessons(other);
  await other.getByRole('menuitem', { name: 'Your lessons' }).click();
  const shown = other.locator('.library-picture img');
  await expect(shown).toHaveAttribute('src', pictures.at(-1));
  expect(await shown.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(100);

  const broken = { ...lesson, pictures: [`${pictures[0].slice(0, 200)}`, ...pictures.slice(1)] };
  await other.keyboard.press('Escape');
  await openByDialog(other, file('broken.json', JSON.stringify({ ...broken, title: 'Broken picture' })));
  await expect(other.getByRole('heading', { level: 1 })).toHaveText('Broken picture');
  await expect(other.getByRole('region', { name: 'Findings' })).toContainText('picture of step 1');
  await context.close();
});

test('a second tab on the same lesson says so and keeps its changes as a copy', async ({ page, context }) => {
  await openTable(page);
  await nameSide(page, 'Harbour');
  await page.keyboard.press('Escape');
  await expect.poll(() => keptNames(page)).toEqual(['Harbour']);
  const other = await context.newPage();
  await other.goto('./');
  await ready(other, 'Long pencil case');
  await expect(other.getByTestId('notice')).toContainText('open in another tab');
  await nameSide(other, 'Slate');
  await expect(other.getByTestId('notice')).toContainText('Kept as a copy');
  await expect.poll(() => keptNames(page)).toEqual(['Harbour', 'Slate']);
  await nameSide(page, 'Harbour two');
  await expect.poll(async () => (await keptNames(page)).sort()).toEqual(['Harbour two', 'Slate']);
});

test('the second tab takes over what the first wrote last, once the first is closed', async ({
  page,
  context,
}) => {
  await openTable(page);
  await nameSide(page, 'Harbour');
  await page.keyboard.press('Escape');
  await expect.poll(() => keptNames(page)).toEqual(['Harbour']);
  const other = await context.newPage();
  await other.goto('./');
  await ready(other, 'Long pencil case');
  await expect(other.getByTestId('notice')).toContainText('open in another tab');
  await nameSide(page, 'Quay');
  await page.keyboard.press('Escape');
  await expect.poll(() => keptNames(page)).toEqual(['Quay']);
  await page.close();
  await expect.poll(() => sideName(other), { timeout: 15_000 }).toBe('Quay');
  await nameSide(other, 'Pier');
  await expect.poll(() => keptNames(other)).toEqual(['Pier']);
});

test('where tabs cannot know of each other, neither writes over the other', async ({ page, context }) => {
  // a browser without locks; the second tab reads the lesson and sleeps while the first one goes on
  await context.addInitScript(() => Object.defineProperty(navigator, 'locks', { value: undefined }));
  await openTable(page);
  await nameSide(page, 'Harbour');
  await expect.poll(() => keptNames(page)).toEqual(['Harbour']);
  const other = await context.newPage();
  await other.goto('./');
  await ready(other, 'Long pencil case');
  await nameSide(page, 'Quay');
  await expect.poll(() => keptNames(page)).toEqual(['Quay']);
  // three edits in one breath: the turn of the first is taken, that of the second and third would be free
  await other.keyboard.press('p');
  await other.getByLabel('Name of side A').evaluate((field: HTMLInputElement) => {
    const write = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!.set!;
    for (const name of ['S', 'Sl', 'Slate']) {
      write.call(field, name);
      field.dispatchEvent(new Event('input', { bubbles: true }));
    }
  });
  await expect(other.getByTestId('notice')).toContainText('kept as a copy');
  await expect.poll(async () => (await keptNames(page)).sort()).toEqual(['Quay', 'Slate']);
  await nameSide(page, 'Quay two');
  await expect.poll(async () => (await keptNames(page)).sort()).toEqual(['Quay two', 'Slate']);
});

test('lessons that an earlier page kept are there, and are kept on', async ({ page }) => {
  await page.route('**/before', (route) =>
    route.fulfill({ contentType: 'text/html', body: '<link rel="icon" href="data:,">' }),
  );
  await page.goto('./before');
  const text = JSON.stringify({ ...JSON.parse(wallet().buffer.toString()), version: 1 });
  await page.evaluate(async (text) => {
    await new Promise<void>((resolve, reject) => {
      const opening = indexedDB.open('creaseway', 1);
      opening.onerror = () => reject(opening.error);
      opening.onupgradeneeded = () => {
        const database = opening.result;
        database.createObjectStore('lessons', { keyPath: 'id' });
        for (const name of ['pictures', 'looks', 'last']) database.createObjectStore(name);
        database
          .createObjectStore('versions', { keyPath: 'key', autoIncrement: true })
          .createIndex('of', 'of');
      };
      opening.onsuccess = () => {
        const database = opening.result;
        const writing = database.transaction(['lessons', 'last', 'looks'], 'readwrite');
        const { title, place } = JSON.parse(text);
        writing.objectStore('lessons').put({ id: 'old', title, place, text, changed: 1, revision: 7 });
        writing.objectStore('last').put({ id: 'old', sample: null }, 'last');
        writing.objectStore('looks').put({ place: 1, bend: false, free: false }, 'old');
        writing.oncomplete = () => {
          database.close();
          resolve();
        };
      };
    });
  }, text);
  await page.goto('./');
  await ready(page, title);
  await nameSide(page, 'Harbour');
  await expect.poll(() => keptNames(page), { timeout: 20_000 }).toEqual(['Harbour']);
});

test('a full disk is said plainly, the lesson can be saved as a file, and is kept once there is room', async ({
  page,
}) => {
  await openTable(page);
  await page.evaluate(() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = () => {
      throw new DOMException('no room', 'QuotaExceededError');
    };
    Object.assign(window, {
      room: () => {
        IDBObjectStore.prototype.put = put;
      },
    });
  });
  await nameSide(page, 'Harbour');
  await page.keyboard.press('Escape');
  await expect(page.getByTestId('notice')).toContainText('The disk is full');
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);
  const saving = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save as a file' }).click();
  const saved = JSON.parse(readFileSync((await (await saving).path())!, 'utf8'));
  expect(saved.sheet.sides.a.name).toBe('Harbour');
  expect(await keptNames(page)).toEqual([]);
  await page.evaluate(() => (window as unknown as { room: () => void }).room());
  await expect.poll(() => keptNames(page), { timeout: 15_000 }).toEqual(['Harbour']);
  await expect(page.getByTestId('notice')).toContainText('Kept again');
});

test('a window that keeps nothing shows the lesson all the same and says so at the first edit', async ({
  page,
}) => {
  await page.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('not here', 'InvalidStateError');
    };
  });
  await openTable(page);
  await expect(page.getByTestId('notice')).toHaveCount(0);
  await nameSide(page, 'Harbour');
  await expect(page.getByTestId('notice')).toContainText('keeps no lessons');
});

/** A number in [0, 1) from a seed (a linear congruence; constants from memory). */
function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

const soaked = process.env.CREASEWAY_SOAK === '1';
const kills = soaked ? 200 : 6;
/** Of all workers alike: another seed comes by the environment. */
const seed = Number(process.env.CREASEWAY_SEED ?? 20260);

test(`killing the page at ${kills} random moments loses at most the edit in flight (seed ${seed})`, async ({
  baseURL,
}) => {
  test.setTimeout(60_000 + kills * 12_000);
  const profile = mkdtempSync(join(tmpdir(), 'creaseway-profile-'));
  const random = randomFrom(seed);
  const use = test.info().project.use;
  let context: BrowserContext | null = null;
  try {
    context = await chromium.launchPersistentContext(profile, {
      ...use.launchOptions,
      viewport: use.viewport ?? null,
      baseURL: baseURL!,
    });
    // a model that is drawn in software would only take up time between the kills
    await withoutModel(context);
    let page = context.pages()[0]!;
    await page.goto('./');
    await opened(page, 'Long pencil case');
    let last = -1;
    const lost: number[] = [];
    for (let kill = 0; kill < kills; kill++) {
      // edits come faster than anyone types; each is told to the test once it was made
      let made = last;
      const tell = (_: number) => {};
      const session = await context.newCDPSession(page);
      await session.send('Runtime.enable');
      session.on('Runtime.consoleAPICalled', ({ args }) => {
        if (args[0]?.value === 'made') {
          made = Number(args[1]?.value);
          tell(made);
        }
      });
      await nameSide(page, `Name ${made + 1}`);
      made += 1;
      const first = made + 1;
      await page.evaluate(
        ({ first, gap }) => {
          const field = document.querySelector<HTMLInputElement>(
            '[aria-label="Name of side A"] input, input[aria-label="Name of side A"]',
          )!;
          const write = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!.set!;
          let count = first;
          setInterval(() => {
            write.call(field, `Name ${count}`);
            field.dispatchEvent(new Event('input', { bubbles: true }));
            console.log('made', count++);
          }, gap);
        },
        { first, gap: 60 + Math.floor(120 * random()) },
      );
      await page.waitForTimeout(20 + 1200 * random());
      const told = new Promise<void>((resolve) => {
        page.once('crash', () => resolve());
      });
      await Promise.race([session.send('Page.crash').catch(() => {}), told]);
      await told;
      const madeThen = made;
      page = await context.newPage();
      for (const old of context.pages()) if (old !== page) await old.close();
      await page.goto('./');
      await opened(page, 'Long pencil case');
      const name = await sideName(page);
      expect(name, `kill ${kill}`).toMatch(/^Name \d+$/);
      last = Number(name.replace('Name ', ''));
      expect(last, `kill ${kill}`).toBeGreaterThanOrEqual(madeThen - 1);
      lost.push(Math.max(0, madeThen - last));
    }
    const none = lost.filter((count) => count === 0).length;
    console.log(`${kills} kills: ${none} lost nothing, ${kills - none} lost the edit in flight`);
  } finally {
    await context?.close();
    rmSync(profile, { recursive: true, force: true });
  }
});
