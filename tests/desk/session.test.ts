/** A whole session without a browser: drawn, folded, undone, kept, and read again by the next one. */
import 'fake-indexeddb/auto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { bytesOf } from '../../src/core/storage/text.ts';
import { standingNow, summaryOf } from '../../src/desk/run/standing.ts';
import { drawLine, settled, workingDesk } from '../support/desk.ts';

const root = new URL('../../public/', import.meta.url).pathname;
const served = async (path: string) => new Uint8Array(await readFile(join(root, path)));

const deskOf = (shelf: string) => workingDesk(shelf, served);

// common practice, no source: a square halved twice ends as a quarter, four layers deep
test('a square is drawn on, folded, undone, kept and read again', async () => {
  const desk = deskOf('session');
  expect(await desk.opening.newLesson()).toBe(true);
  await desk.drawing.begin();
  drawLine(desk, [75, 0], [75, 150]);
  await settled(desk);
  const { sheet } = desk.store.document;
  const crease = [...sheet!.creaseKind.keys()].find((one) => sheet!.creaseKind[one] === 1)!;
  await desk.steps.foldNext(-1, [crease]);
  await settled(desk);
  expect(desk.store.run.steps).toHaveLength(1);
  expect(standingNow(desk.store.state).is).toBe('sound');
  expect(summaryOf(desk.store.state).tone).toBe('well');
  expect(desk.store.run.steps[0]!.layers!.order).toHaveLength(1);

  desk.playhead.moveTo(0.5);
  const { pose } = desk.playhead;
  expect(Math.abs(pose!.angle[crease]!)).toBeCloseTo(Math.PI / 2, 1);

  const whole = desk.store.document.lesson!;
  desk.edits.undo();
  await settled(desk);
  expect(desk.store.run.steps).toHaveLength(0);
  desk.edits.undo();
  expect(desk.store.document.lesson!.pattern.lines).toHaveLength(0);
  desk.edits.redo();
  desk.edits.redo();
  await settled(desk);
  expect(desk.store.document.lesson).toEqual(whole);

  // another page, later: the same lesson lies on the table, with what can be undone
  await vi.waitFor(async () => expect((await desk.around.shelf.list())[0]?.text).toBe(JSON.stringify(whole)));
  const later = deskOf('session');
  await later.opening.begin();
  await settled(later);
  expect(later.store.document.lesson).toEqual(whole);
  expect(standingNow(later.store.state).is).toBe('sound');
  later.edits.undo();
  expect(later.store.document.lesson!.steps).toHaveLength(0);
});

test('what was undone can be made again after a restart', async () => {
  const desk = deskOf('redo');
  await desk.opening.newLesson();
  await desk.drawing.begin();
  drawLine(desk, [0, 75], [150, 75]);
  const drawn = desk.store.document.lesson!;
  desk.edits.undo();
  const plain = JSON.stringify(desk.store.document.lesson);
  await vi.waitFor(async () => expect((await desk.around.shelf.list())[0]?.text).toBe(plain));
  const later = deskOf('redo');
  await later.opening.begin();
  expect(later.store.document.canRedo).toBe(true);
  later.edits.redo();
  expect(later.store.document.lesson).toEqual(drawn);
});

test('two lessons: a hundred undos in one leave the other as it was', async () => {
  const desk = deskOf('two lessons');
  await desk.opening.newLesson();
  await desk.drawing.begin();
  drawLine(desk, [75, 0], [75, 150]);
  const first = JSON.stringify(desk.store.document.lesson);
  await vi.waitFor(async () => expect((await desk.around.shelf.list())[0]?.text).toBe(first));
  await desk.opening.newLesson();
  await desk.drawing.begin();
  drawLine(desk, [0, 75], [150, 75]);
  for (let k = 0; k < 100; k++) desk.edits.undo();
  expect(desk.store.document.lesson!.pattern.lines).toHaveLength(0);
  await vi.waitFor(async () => expect(await desk.around.shelf.list()).toHaveLength(2));
  const texts = (await desk.around.shelf.list()).map(({ text }) => text);
  expect(texts).toContain(first);
});

test('a file that cannot be used leaves the table as it was and says why', async () => {
  const desk = deskOf('refused');
  await desk.opening.begin();
  const { lesson } = desk.store.document;
  expect(await desk.opening.openBytes('letter.txt', bytesOf('Dear teacher'))).toBe(false);
  expect(desk.store.document.lesson).toBe(lesson);
  expect(desk.store.look.notice?.tone).toBe('trouble');
  expect(desk.store.look.notice?.text).toMatch(/\.$/);
});

test('every sample opens and plays to its end', async () => {
  const desk = deskOf('samples');
  await desk.opening.begin();
  const listed = JSON.parse(await readFile(join(root, 'lessons', 'index.json'), 'utf8'));
  expect(desk.store.shelf.samples).toHaveLength(listed.length);
  for (const entry of desk.store.shelf.samples) {
    await desk.opening.openSample(entry);
    await settled(desk);
    const { board } = desk.playhead;
    const steps = desk.store.run.steps.length;
    // one sample is there to show a fold that stiff paper refuses
    if (entry.refused) {
      expect(board!.reached).toBeGreaterThan(0);
      expect(board!.reached).toBeLessThan(steps);
    } else expect(board!.reached).toBe(steps);
    desk.playhead.moveTo(board!.reached);
    expect(desk.playhead.place).toBe(board!.reached);
    expect(desk.store.document.lesson!.title).toBe(entry.title);
  }
});
