import { describe, expect, it } from 'vitest';
import { nameless } from '../../src/core/lesson/plain-sides.ts';
import { bytesOf as text } from '../../src/core/storage/text.ts';
import { sentenceOf } from '../../src/words/findings.ts';
import { FileJobs } from '../../src/worker/file-jobs.ts';
import type { FileAnswer } from '../../src/worker/file-protocol.ts';

function reader() {
  const said: FileAnswer[] = [];
  return { said, worker: new FileJobs((answer) => said.push(answer)) };
}

describe('the worker that reads files', () => {
  it('refuses an empty file with one sentence', async () => {
    const { said, worker } = reader();
    await worker.take({ kind: 'open', job: 1, name: 'nothing.svg', bytes: text(''), names: nameless });
    expect(said.map(({ kind }) => kind)).toEqual(['stage', 'refused']);
    expect(said.at(-1)!.kind).toBe('refused');
    const last = said.at(-1)!;
    const [found] = last.kind === 'refused' ? last.findings : [];
    expect(sentenceOf(found!)).toMatch(/\.$/);
  });

  it('asks what the lines of an unnamed drawing mean, and folds it with the answer', async () => {
    const { said, worker } = reader();
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10" width="100mm" height="100mm">
      <rect x="0" y="0" width="10" height="10" fill="none" stroke="#000" stroke-width="0.2"/>
      <path d="M0 5H10" stroke="#333" stroke-dasharray="1 0.5"/></svg>`;
    await worker.take({ kind: 'open', job: 1, name: 'card.svg', bytes: text(svg), names: nameless });
    const answer = said.at(-1)!;
    if (answer.kind !== 'asks-mapping') throw new Error(`answered ${answer.kind}`);
    const { asked } = answer;
    const dashed = asked.groups.find((group) => group.dash === 'dashed')!;
    expect(asked.guess[dashed.key]?.kind).toBe('valley');
    await worker.take({
      kind: 'map',
      job: 2,
      mapping: { ...asked.guess, [dashed.key]: { kind: 'mountain' } },
    });
    const ready = said.at(-1)!;
    if (ready.kind !== 'ready') throw new Error(`answered ${ready.kind}`);
    expect(ready.ready.sheet.panelRings).toHaveLength(2);
    expect(ready.ready.lesson.sheet.size).toBeCloseTo(100, 6);
    expect([...ready.ready.sheet.creaseKind]).toContain(0);
  });
});
