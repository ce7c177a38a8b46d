/** What the browser tests share: a page that must stay free of complaints, and small readers of the screen. */
import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { PNG } from 'pngjs';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { readLesson } from '../../src/core/storage/lesson/read.ts';
import { countWork, idle } from './idle.ts';
import { test as base, expect, inEnglish, writeFile } from './other-words.ts';

/** A page that fails the test when the console holds an error or a warning, and that can be asked whether it rests. */
export const test = base.extend({
  context: async ({ context }, use) => {
    await countWork(context);
    await use(context);
  },
  page: async ({ page }, use) => {
    const complaints: string[] = [];
    page.on('console', (message) => {
      const ours = !message.text().startsWith('[.WebGL-');
      if (ours && (message.type() === 'error' || message.type() === 'warning'))
        complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    await use(page);
    expect(complaints).toEqual([]);
  },
});

export { expect, idle };

/** For a spec that is about what moves: nobody asks the page to keep still. */
export const inMotion = (page: Page): Promise<void> => page.emulateMedia({ reducedMotion: 'no-preference' });

/** Opens the page and waits until the first lesson is folded and the model is drawn. */
export async function openTable(page: Page): Promise<void> {
  await page.goto('./');
  await ready(page, 'Long pencil case');
}

/** Waits until a lesson of this title is on the table and all that is asked of it is answered. */
export async function ready(page: Page, title: string): Promise<void> {
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(title, { timeout: 20_000 });
  await expect(page.getByTestId('summary')).not.toHaveText(/being|has not been computed|^$/, {
    timeout: 30_000,
  });
  await expect(page.locator('.app')).toHaveAttribute('data-graphics', 'shown');
}

export function slider(page: Page) {
  return page.getByRole('slider');
}

/** Sets the slider by the keyboard: from its start, a twentieth of a step for each press. */
export async function foldTo(page: Page, place: number): Promise<void> {
  await slider(page).focus();
  await page.keyboard.press('Home');
  for (let k = 0; k < Math.round(place * 20); k++) await page.keyboard.press('ArrowRight');
  await idle(page);
}

/** A fact of the column, by its name. */
export async function fact(page: Page, name: string): Promise<string> {
  const line = page.locator('.fact:visible', {
    has: page.locator('dt', { hasText: new RegExp(`^${name}$`) }),
  });
  return (await line.locator('dd').textContent()) ?? '';
}

export async function angleNow(page: Page): Promise<number> {
  return Number((await fact(page, 'Now')).replace('°', '').replace('−', '-'));
}

/** Clicks a place of the flat sheet, given in sheet coordinates: the longer side is 1, y up. */
export async function clickSheet(page: Page, x: number, y: number): Promise<void> {
  await bringUp(page, 'Sheet');
  await page.mouse.click(...(await paperPlaces(page))(x, y));
}

/** A rule of style for the page, which its policy lets scripts of its own make, but no style element. */
export const addRule = (page: Page, rules: string) =>
  page.evaluate((text) => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(text);
    document.adoptedStyleSheets.push(sheet);
  }, rules);

/** The pixels of the model view. */
export async function modelPixels(page: Page): Promise<PNG> {
  await bringUp(page, 'Model');
  return PNG.sync.read(await page.getByTestId('model-canvas').screenshot());
}

/** Share of pixels that lie near a colour. */
export function share(png: PNG, [r, g, b]: readonly [number, number, number], within = 40): number {
  let count = 0;
  for (let k = 0; k < png.data.length; k += 4)
    if (Math.hypot(png.data[k]! - r, png.data[k + 1]! - g, png.data[k + 2]! - b) < within) count++;
  return count / (png.data.length / 4);
}

/** Share of pixels that differ between two pictures of one size. */
export function difference(one: PNG, other: PNG): number {
  let count = 0;
  for (let k = 0; k < one.data.length; k += 4) {
    const off = [0, 1, 2].reduce((sum, c) => sum + Math.abs(one.data[k + c]! - other.data[k + c]!), 0);
    if (off > 24) count++;
  }
  return count / (one.data.length / 4);
}

/** The rectangle of blue paper in a picture, a little inside its rim. */
export function blueBox({ width, height, data }: PNG) {
  const box = { left: width, right: 0, top: height, bottom: 0 };
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const [r, g, b] = [0, 1, 2].map((k) => data[4 * (y * width + x) + k]!);
      // the ring of the focus is a brighter blue
      if (b! < r! + 40 || b! < g! + 20 || b! > 168) continue;
      box.left = Math.min(box.left, x + 2);
      box.right = Math.max(box.right, x - 2);
      box.top = Math.min(box.top, y + 2);
      box.bottom = Math.max(box.bottom, y - 2);
    }
  return box;
}

export interface LooseFile {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}

export function file(name: string, content: string | Buffer): LooseFile {
  writeFile(name, content.toString());
  return { name, mimeType: 'application/octet-stream', buffer: Buffer.from(content) };
}

/** A sample lesson as a file. */
export const lessonFile = (name: string): LooseFile =>
  file(`${name}.json`, readFileSync(new URL(`../../public/lessons/${name}.json`, import.meta.url)));

/** A phone shows one view at a time, and has all menus in one. */
const isPhone = (page: Page) => page.viewportSize()!.width < 760;

/** Opens the menu that has the lessons and the panels of the shelf. */
export const openLessons = (page: Page): Promise<void> =>
  page.getByRole('button', { name: isPhone(page) ? 'More' : 'Lessons', exact: true }).click();

/** Opens the menu of what can be saved. */
export const openSaving = (page: Page): Promise<void> =>
  page.getByRole('button', { name: isPhone(page) ? 'More' : 'Save', exact: true }).click();

/** On a phone: brings the sheet or the model to the front, and closes what rose from below. */
export async function bringUp(page: Page, view: 'Sheet' | 'Model'): Promise<void> {
  if (!isPhone(page)) return;
  const radio = page.getByRole('radio', { name: view });
  if (!(await radio.isChecked())) await radio.click();
}

/** Opens a file by the dialog. */
export async function openByDialog(page: Page, given: LooseFile): Promise<void> {
  const chooser = page.waitForEvent('filechooser');
  if (isPhone(page)) {
    await openLessons(page);
    await page.getByRole('menuitem', { name: 'Open a file' }).click();
  } else await page.getByRole('button', { name: 'Open', exact: true }).click();
  await (await chooser).setFiles(given);
}

/** Lets a file fall on the page. */
export async function drop(page: Page, given: LooseFile): Promise<void> {
  const data = await page.evaluateHandle(
    ({ name, base64 }) => {
      const transfer = new DataTransfer();
      const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
      transfer.items.add(new File([bytes], name));
      return transfer;
    },
    { name: given.name, base64: given.buffer.toString('base64') },
  );
  for (const type of ['dragenter', 'dragover', 'drop'])
    await page.dispatchEvent('body', type, { dataTransfer: data });
}

/** The lesson on the table, as saving writes it. */
export async function savedLesson(page: Page): Promise<Lesson> {
  const wait = page.waitForEvent('download');
  await page.locator('.sheet-board').focus();
  await page.keyboard.press('Control+s');
  const text = readFileSync(await (await wait).path(), 'utf8');
  return readLesson(JSON.parse(text, (_, value) => (typeof value === 'string' ? inEnglish(value) : value)))
    .lesson!;
}

/** Where places of the flat sheet (the longer side is 1, y up) lie on screen, once it rests. */
export async function paperPlaces(page: Page) {
  await idle(page, { workers: false });
  const [a, d, e, f] = await page
    .getByTestId('sheet-drawing')
    .locator('.line-edge')
    .evaluate((path: SVGPathElement) => {
      const { a, d, e, f } = path.getScreenCTM()!;
      return [a, d, e, f] as const;
    });
  return (x: number, y: number) => [a * x + e, d * y + f] as const;
}

/** A new lesson on the table; `count` is told of every act that it takes. */
export async function emptySquare(page: Page, count: () => void) {
  await openTable(page);
  await openLessons(page);
  count();
  await page.getByRole('menuitem', { name: 'New lesson' }).click();
  count();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('New lesson');
}

/**
 * Miura sheet of n by n parallelograms, flat-folded, as a FOLD file: straight rows, zigzag columns, each zigzag of one
 * kind, and along the rows the kind of the zigzag on the acute side (any textbook on the pattern; checked by hand
 * with the four-crease rule: three of one kind, one of the other).
 */
export function miura(n: number): string {
  const at = (i: number, j: number) => j * (n + 1) + i;
  const zigzag = (i: number) => (i % 2 === 0 ? 'M' : 'V');
  const coords: number[][] = [];
  const edges: number[][] = [];
  const kinds: string[] = [];
  for (let j = 0; j <= n; j++) for (let i = 0; i <= n; i++) coords.push([i + 0.35 * (j % 2), j * 0.9]);
  for (let j = 0; j <= n; j++)
    for (let i = 0; i < n; i++) {
      edges.push([at(i, j), at(i + 1, j)]);
      kinds.push(j === 0 || j === n ? 'B' : j % 2 === 1 ? zigzag(i) : zigzag(i + 1));
    }
  for (let j = 0; j < n; j++)
    for (let i = 0; i <= n; i++) {
      edges.push([at(i, j), at(i, j + 1)]);
      kinds.push(i === 0 || i === n ? 'B' : zigzag(i));
    }
  return JSON.stringify({
    file_spec: 1.2,
    vertices_coords: coords,
    edges_vertices: edges,
    edges_assignment: kinds,
  });
}
