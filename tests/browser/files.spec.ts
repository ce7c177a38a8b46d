import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { words } from '../../src/words/words.ts';
import {
  clickSheet,
  drop,
  expect,
  fact,
  file,
  type LooseFile,
  openByDialog,
  openSaving,
  openTable,
  ready,
  test,
} from './support.ts';

const fixture = (name: string) => readFileSync(new URL(`../fixtures/${name}`, import.meta.url));
const lessonFile = () => readFileSync(new URL('../../public/lessons/cuffed-tray.json', import.meta.url));

// Panels of the second scenario, from its own description.
const panels = 19;

/** Both scenarios fold stiffly from the flat sheet, with an order of layers and no contact, by their own description. */
async function foldsRigidly(page: Page): Promise<void> {
  await expect(page.getByTestId('summary')).toHaveText(words.allWell(0, 0), { timeout: 60_000 });
}

/** In the column; on a phone it rises from below. */
const selection = (page: Page) => page.getByTestId('selection').filter({ visible: true });

test('opens each kind of file by the dialog', async ({ page }) => {
  await openTable(page);
  for (const name of ['s2.svg', 's2.dxf', 's2.fold']) {
    await openByDialog(page, file(name, fixture(name)));
    await expect(page.getByRole('heading', { level: 1 })).not.toHaveText('Long pencil case');
    await expect(page.getByTestId('notice')).toHaveCount(0);
    await foldsRigidly(page);
    await clickSheet(page, 0.5, 0.5);
    await expect(selection(page)).toContainText('Panel');
  }
  await openByDialog(page, file('tray.json', lessonFile()));
  await ready(page, 'Cuffed tray and its lid');
  await expect(page.locator('.card')).toHaveCount(2);
});

test('opens each kind of file that is dropped', async ({ page }) => {
  await openTable(page);
  for (const name of ['s5.svg', 's5.dxf', 's5.fold']) {
    await drop(page, file(name, fixture(name)));
    await expect(page.getByTestId('notice')).toHaveCount(0);
    await foldsRigidly(page);
    await expect(page.locator('.drop-place')).toHaveCount(0);
  }
  await drop(page, file('tray.json', lessonFile()));
  await ready(page, 'Cuffed tray and its lid');
});

const unnamed = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100" width="100mm" height="100mm">
  <rect width="100" height="100" fill="none" stroke="#111" stroke-width="1"/>
  <path d="M0 50H100" stroke="#0a0" stroke-dasharray="6 3"/>
  <path d="M0 25H100" stroke="#a0a" stroke-dasharray="8 2 1 2 1 2"/></svg>`;

test('asks what the lines of a drawing mean, dash style first, and folds it as answered', async ({
  page,
}) => {
  await openTable(page);
  await openByDialog(page, file('card.svg', unnamed));
  const dialog = page.getByRole('dialog');
  await expect(dialog).toContainText('What do these lines mean?');
  await expect(dialog.locator('.line-row')).toHaveCount(3);
  const meaning = (what: string) => dialog.getByRole('combobox', { name: `Meaning of ${what}` });
  await expect(meaning('dashed')).toHaveValue('valley');
  await expect(meaning('dash-dot-dot')).toHaveValue('mountain');
  await meaning('dash-dot-dot').selectOption('Mark');
  await dialog.getByRole('button', { name: 'Fold this drawing' }).click();
  await ready(page, 'card');
  await clickSheet(page, 0.5, 0.75);
  await expect(selection(page)).toContainText('Mark');
  await clickSheet(page, 0.5, 0.5);
  await expect(selection(page)).toContainText('Valley crease');
  expect(await fact(page, 'Length')).toBe('100 mm');
});

test('leaving the question leaves the open lesson', async ({ page }) => {
  await openTable(page);
  await openByDialog(page, file('card.svg', unnamed));
  await page.getByRole('dialog').getByRole('button', { name: 'Leave it' }).click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Long pencil case');
});

test('a drawing that misses by a hair is trued up when asked', async ({ page }) => {
  const rough = JSON.parse(fixture('s1.fold').toString());
  const [first] = [
    rough.vertices_coords.findIndex(([x, y]: number[]) => x! > 29 && x! < 181 && y! > 29 && y! < 181),
  ];
  rough.vertices_coords[first] = rough.vertices_coords[first].map((v: number) => v + 0.05);
  await openTable(page);
  await openByDialog(page, file('rough.fold', JSON.stringify(rough)));
  const offer = page.getByRole('button', { name: /^True up \(worst corner moves/ });
  await expect(offer).toBeVisible();
  await offer.click();
  await expect(offer).toHaveCount(0);
  await expect(page.getByText(/does not close|no longer close/i)).toHaveCount(0);
});

const svg = (inside: string) => `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">${inside}</svg>`;
const edge = '<rect id="edge" width="10" height="10"/>';
const foldOf = (change: object) =>
  JSON.stringify({
    file_spec: 1.2,
    vertices_coords: [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ],
    edges_vertices: [
      [0, 1],
      [1, 2],
      [2, 3],
      [3, 0],
    ],
    edges_assignment: ['B', 'B', 'B', 'B'],
    ...change,
  });
const deep = 30_000;

const bad: LooseFile[] = [
  file('empty.svg', ''),
  file('picture.png', Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13])),
  file('broken.json', '{"format": "creaseway-lesson", "version": 1,'),
  file(
    'huge.fold',
    foldOf({
      vertices_coords: [
        [0, 0],
        [1e308, 0],
        [1, 1],
        [0, 1],
      ],
    }),
  ),
  file('nan.svg', svg('<line class="edge" x1="NaN" y1="0" x2="1" y2="1"/>')),
  file('nothing.svg', svg('<line class="edge" x1="3" y1="3" x2="3" y2="3"/>')),
  file('open.svg', svg('<path class="edge" d="M0 0H10V10"/>')),
  file('mismatch.fold', foldOf({ edges_assignment: ['B', 'B'] })),
  file('curve.svg', svg(`${edge}<path class="valley" d="M0 5C3 0 7 0 10 5"/>`)),
  file('deep.json', `${'['.repeat(deep)}${']'.repeat(deep)}`),
  file('deep.svg', svg(`${'<g>'.repeat(deep)}${'</g>'.repeat(deep)}`)),
  file(
    'bomb.svg',
    `<!DOCTYPE svg [<!ENTITY a "${'x'.repeat(100)}"><!ENTITY b "${'&a;'.repeat(100)}"><!ENTITY c "${'&b;'.repeat(100)}">]>${svg('<text>&c;&c;</text>')}`,
  ),
];

test('each bad file gets one sentence within two seconds and leaves the lesson alone', async ({ page }) => {
  await openTable(page);
  for (const one of bad) {
    const begun = Date.now();
    await drop(page, one);
    const notice = page.getByTestId('notice');
    await expect(notice, one.name).toBeVisible({ timeout: 4000 });
    expect(Date.now() - begun, one.name).toBeLessThan(2500);
    const sentence = ((await notice.textContent()) ?? '').trim();
    expect(sentence, one.name).toMatch(/^[A-Z“"][^\n]*[.?]$/);
    expect(sentence, one.name).not.toMatch(/undefined|NaN is not|Something went wrong/);
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('Long pencil case');
    await notice.getByRole('button', { name: 'Close' }).click();
    await expect(notice).toHaveCount(0);
  }
});

test('of two outlines one is folded, and a finding says so', async ({ page }) => {
  await openTable(page);
  const two = '<rect class="edge" width="4" height="4"/><rect class="edge" x="6" width="3" height="3"/>';
  await drop(page, file('two.svg', svg(two)));
  await expect(page.locator('.findings')).toContainText(
    'The drawing has 2 separate outlines; only the largest was taken.',
  );
});

test('scripts and outside references of a drawing are never run or fetched', async ({ page }) => {
  const asked: string[] = [];
  page.on('request', (request) => {
    if (
      !request.url().startsWith('http://localhost') &&
      !request.url().startsWith('data:') &&
      !request.url().startsWith('blob:')
    )
      asked.push(request.url());
  });
  await openTable(page);
  const sly = svg(
    `<script>window.ran = true</script><image href="http://outside.invalid/a.png" onload="window.ran = true" width="1" height="1"/>
     <style>@import url(http://outside.invalid/a.css);</style>${edge}<g id="valley"><line x1="0" y1="5" x2="10" y2="5" onclick="window.ran = true"/></g>`,
  );
  await drop(page, file('sly.svg', sly));
  await ready(page, 'sly');
  await foldsRigidly(page);
  expect(await page.evaluate(() => 'ran' in window)).toBe(false);
  expect(asked).toEqual([]);
});

test('saves the lesson, and what was saved opens again', async ({ page }) => {
  await openTable(page);
  await page.keyboard.press('x');
  const saving = page.waitForEvent('download');
  await page.keyboard.press('Control+s');
  const saved = await saving;
  expect(saved.suggestedFilename()).toBe('long-pencil-case.json');
  const bytes = readFileSync((await saved.path())!);
  expect(JSON.parse(bytes.toString()).sheet.sides.a.name).toBe('White');
  await drop(page, file('again.json', bytes));
  await ready(page, 'Long pencil case');
  for (const [entry, ending] of [
    [/^FOLD/, 'fold'],
    [/^SVG/, 'svg'],
    [/^GLB/, 'glb'],
    [/^OBJ/, 'obj'],
  ] as const) {
    const next = page.waitForEvent('download');
    await openSaving(page);
    await page.getByRole('menuitem', { name: entry }).click();
    expect((await next).suggestedFilename()).toBe(`long-pencil-case.${ending}`);
  }
});

test(`the second scenario has ${panels} panels on screen, whatever file it came from`, async ({ page }) => {
  await openTable(page);
  for (const name of ['s2.svg', 's2.dxf', 's2.fold']) {
    await drop(page, file(name, fixture(name)));
    await foldsRigidly(page);
    await expect(page.locator('.app')).toHaveAttribute('data-panels', String(panels));
  }
});
