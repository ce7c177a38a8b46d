/** A made-up language, longer than English and every text in brackets, goes through every room; once from right to left. */
import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { drop, expect, file, test } from './support.ts';

const sizes = {
  desk: { width: 1440, height: 900 },
  phone: { width: 390, height: 844 },
} as const;

/** What a teacher wrote: every text of the sample lessons, and names that the tool keeps as they are. */
const written: string[] = [];
JSON.parse(readFileSync('public/lessons/pencil-case.json', 'utf8'), (_, value) => {
  if (typeof value === 'string') written.push(value);
  return value;
});
const samples: string[] = JSON.parse(readFileSync('public/lessons/index.json', 'utf8')).flatMap(
  (one: Record<string, unknown>) => Object.values(one).filter((value) => typeof value === 'string'),
);

/** Texts on screen that are in no brackets, and texts that are cut off; of what is seen now. */
async function troublesIn(page: Page): Promise<{ bare: string[]; cut: string[] }> {
  const known = [...written, ...samples]
    .filter((text) => text.length > 1)
    .sort((a, b) => b.length - a.length);
  return page.evaluate((texts) => {
    const isBare = (text: string) => {
      let rest = text;
      for (let before = ''; before !== rest; ) {
        before = rest;
        rest = rest.replace(/\[[^[\]]*\]/g, ' ');
      }
      const small = rest.toLowerCase();
      let left = small;
      for (const known of texts) left = left.replaceAll(known.toLowerCase(), ' ');
      // units, paper sizes, and file kinds are the same in all languages
      return /\p{L}/u.test(left.replace(/\b(mm|cm|min|svg|dxf|fold|a[3-6]|letter|creaseway)\b/g, ' '));
    };
    const seen = (element: Element) => {
      const { width, height } = element.getBoundingClientRect();
      const style = getComputedStyle(element);
      return width > 1 && height > 1 && style.visibility !== 'hidden' && Number(style.opacity) > 0;
    };
    /** Does a text reach out of something that hides what does? Where it ends in three dots it was meant to. */
    const isCut = (text: Node, holder: Element) => {
      const range = document.createRange();
      range.selectNodeContents(text);
      const { left, right } = range.getBoundingClientRect();
      for (let box: Element | null = holder; box; box = box.parentElement) {
        const { overflowX, textOverflow } = getComputedStyle(box);
        if (textOverflow === 'ellipsis' || /auto|scroll/.test(overflowX)) return false;
        const edge = box.getBoundingClientRect();
        if (/hidden|clip/.test(overflowX) && (left < edge.left - 1 || right > edge.right + 1)) return true;
      }
      return left < -1 || right > innerWidth + 1;
    };
    const bare = new Set<string>();
    const cut = new Set<string>();
    for (const element of document.body.querySelectorAll('*')) {
      if (!seen(element) || element.closest('kbd, script, style, textarea')) continue;
      for (const node of element.childNodes)
        if (node.nodeType === Node.TEXT_NODE && isBare(node.textContent ?? '')) {
          // one text may stand in several nodes
          const whole = element.textContent ?? '';
          if (isBare(whole)) bare.add(whole.trim());
        }
      for (const name of ['aria-label', 'title', 'placeholder', 'alt', 'aria-valuetext']) {
        const text = element.getAttribute(name);
        if (text && isBare(text)) bare.add(`${name}: ${text}`);
      }
      for (const node of element.childNodes)
        if (node.nodeType === Node.TEXT_NODE && node.textContent?.trim() && isCut(node, element))
          cut.add(`${element.className}: ${element.textContent}`);
    }
    if (document.documentElement.scrollWidth > innerWidth) cut.add('the page is wider than the window');
    return { bare: [...bare], cut: [...cut] };
  }, known);
}

async function expectWhole(page: Page, room: string): Promise<void> {
  await test.step(room, async () => {
    expect(await troublesIn(page), room).toEqual({ bare: [], cut: [] });
  });
}

async function open(page: Page, language: string): Promise<void> {
  await page.goto(`./?words=${language}`);
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Long pencil case', { timeout: 20_000 });
  await expect(page.getByTestId('summary')).toContainText('Folds rigidly in every step', { timeout: 30_000 });
  await expect(page.locator('.app')).toHaveAttribute('data-graphics', 'shown');
}

/** Through every room that keys and menus lead to, each looked at while it is open. */
async function walk(page: Page, isPhone: boolean): Promise<void> {
  await expectWhole(page, 'the table');
  for (const [key, room] of [
    ['g', 'glass'],
    ['v', 'fan'],
    ['c', 'slice'],
    ['l', 'peel'],
  ] as const) {
    await page.keyboard.press(key);
    await expect(page.locator('.inside-rows:visible')).toHaveCount(1);
    await expectWhole(page, room);
    await page.keyboard.press('Escape');
  }
  await page.keyboard.press('p');
  await expect(page.getByRole('dialog')).toBeVisible();
  await expectWhole(page, 'paper');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await page.keyboard.press('?');
  await expect(page.getByRole('dialog')).toBeVisible();
  await expectWhole(page, 'keys');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  const menus = page.locator('header button[aria-haspopup]:visible');
  for (let k = 0; k < (await menus.count()); k++) {
    await menus.nth(k).click();
    await expect(page.getByRole('menu')).toBeVisible();
    await expectWhole(page, `menu ${k + 1} of the header`);
    await page.keyboard.press('Escape');
    await expect(page.getByRole('menu')).toHaveCount(0);
  }
  for (const panel of ['Your lessons', 'About this lesson', 'Versions']) {
    await page
      .locator(`header button[aria-haspopup]${isPhone ? '.narrow-only' : '.wide-only'}`)
      .first()
      .click();
    await page.getByRole('menuitem', { name: `[${panel}` }).click();
    await expect(page.getByRole('dialog')).toBeVisible();
    await expectWhole(page, panel);
    await page.keyboard.press('Escape');
    await expect(page.getByRole('dialog')).toHaveCount(0);
  }
  await page.getByRole('button', { name: '[Change “' }).first().click();
  await expect(page.getByRole('menu')).toBeVisible();
  await expectWhole(page, 'the menu of a step');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('menu')).toHaveCount(0);
  if (isPhone) return;
  await page.locator('.sheet-board').focus();
  await page.keyboard.press('ArrowRight');
  await expect(page.getByTestId('selection')).toBeVisible();
  await expectWhole(page, 'a crease in the column');
  await page.keyboard.press('Escape');
  await page.keyboard.press('a');
  await expect(page.getByText('[Point at two places')).toBeVisible();
  await expectWhole(page, 'folding on the model');
  await page.keyboard.press('Escape');
  await page.keyboard.press('e');
  const tool = page.locator('.draw-tool');
  await expect(tool).toBeVisible();
  for (const [key, name] of [
    ['8', 'Beside, at a distance'],
    ['9', 'Equal parts'],
    ['g', 'Grid'],
    ['s', 'Pick lines'],
    ['k', 'Change the kind'],
    ['x', 'Erase'],
    ['p', 'Move a point'],
    ['1', 'Through two points'],
  ] as const) {
    await page.keyboard.press(key);
    await expect(tool).toContainText(`[${name}`);
    await expectWhole(page, `drawing, ${key}`);
  }
  await tool.click();
  await expect(page.getByRole('menu')).toBeVisible();
  await expectWhole(page, 'the tools of drawing');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('menu')).toHaveCount(0);
}

/** What is asked of a drawing before it is opened. */
async function walkDrawing(page: Page): Promise<void> {
  const drawing = readFileSync(new URL('../fixtures/drawings/zc-two-sheets.svg', import.meta.url));
  await drop(page, file('Long pencil case.svg', drawing));
  const dialog = page.getByRole('dialog');
  await expect(dialog).toContainText('[Which of these 2 sheets?');
  await expectWhole(page, 'several sheets');
  await dialog.getByRole('button', { name: '[Sheet 1' }).click();
  await expect(dialog).toContainText('[What do these lines mean?');
  await expectWhole(page, 'the lines of a drawing');
  await page.keyboard.press('Escape');
  await expect(dialog).toHaveCount(0);
}

for (const [name, viewport] of Object.entries(sizes)) {
  test(`a made-up language fits every room of a ${name}`, async ({ page }) => {
    await page.setViewportSize(viewport);
    await open(page, 'made-up');
    await walk(page, name === 'phone');
    await walkDrawing(page);
  });
}

test('a language from right to left fits every room', async ({ page }) => {
  await open(page, 'made-up-rtl');
  await expect(page.locator('html')).toHaveAttribute('dir', 'rtl');
  await walk(page, false);
});

test('an unknown language leaves the words as they are', async ({ page }) => {
  await page.goto('./?words=nobody');
  await expect(page.getByRole('button', { name: 'Lessons' })).toBeVisible();
  await expect(page.locator('html')).not.toHaveAttribute('dir', 'rtl');
});
