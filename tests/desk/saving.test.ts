/** A lesson handed over as a file: under which name, with which pose, and what is said when it cannot be written. */
import { describe, expect, test } from 'vitest';
import { words } from '../../src/words/words.ts';
import type { FileFormat } from '../../src/worker/protocol.ts';
import { deskInHand, passed } from '../support/hand-solver.ts';
import { creaseAt, letter } from '../support/letter.ts';

/** Saves a lesson of a title. @returns the names that were handed over, and the desk */
async function saved(title: string, format: FileFormat = 'lesson') {
  const names: string[] = [];
  const hand = deskInHand({ ...letter, title }, { handOver: (name) => names.push(name) });
  hand.solver.finishAll();
  hand.desk.playhead.moveTo(0.5);
  void hand.desk.saving.save(format);
  await passed();
  return { ...hand, names };
}

const written = { kind: 'written', bytes: new Uint8Array(1), type: 'text/plain' };

test.each([
  ['Letter of Aldermoor', 'letter-of-aldermoor'],
  ['  “Kite”, 2nd try! ', 'kite-2nd-try'],
  ['纸鹤', '纸鹤'],
  ['Étui', 'étui'],
  ['E\u0301tui', 'e\u0301tui'],
  ['काग़ज़ की नाव', 'काग़ज़-की-नाव'],
  ['../..', 'lesson'],
])('a lesson called %s is saved as %s.json', async (title, name) => {
  const { names, solver, desk } = await saved(title);
  await solver.answer('write', written);
  expect(names).toEqual([`${name}.json`]);
  expect(desk.store.look.notice).toEqual({ text: words.saved(`${name}.json`), tone: 'plain' });
});

describe.each(['fold', 'svg', 'glb', 'obj'] as const)('a file of kind %s', (format) => {
  test('has the pose that is shown, and its own ending', async () => {
    const { names, solver, desk } = await saved('Kite', format);
    const [[asked, what]] = solver.asks('write') as [[FileFormat, { angle: Float64Array }]];
    expect(asked).toBe(format);
    expect(what.angle[creaseAt(desk.store.document.sheet!, 100)]).toBeCloseTo(Math.PI / 2, 12);
    await solver.answer('write', written);
    expect(names).toEqual([`kite.${format}`]);
  });
});

test('what broke while it was written is said, and nothing is handed over', async () => {
  const { names, solver, desk } = await saved('Kite');
  await solver.answer('write', { kind: 'broke', message: 'no room' });
  expect(names).toEqual([]);
  expect(desk.store.look.notice).toEqual({ text: words.broke('no room'), tone: 'trouble' });
});
