import { describe, expect, it } from 'vitest';
import { square } from '../../src/core/draw/outline.ts';
import { type Lesson, lessonFormat, lessonVersion, type Step } from '../../src/core/lesson/lesson.ts';
import { nameless as names, plainSides } from '../../src/core/lesson/plain-sides.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { Solver } from '../../src/worker/client.ts';
import type { WorkerPort } from '../../src/worker/door.ts';
import { Jobs } from '../../src/worker/jobs.ts';
import type { Answer, Request } from '../../src/worker/protocol.ts';
import type { Reply } from '../../src/worker/work.ts';

import { readAsPage } from '../support/page-run.ts';

const text = (content: string) => new TextEncoder().encode(content);

/** A square with one valley across the middle, folded by a right angle and then flat. */
function book(): Lesson {
  const middle = { from: [0, 0.5], to: [1, 0.5] } as const;
  const fold = (angle: number): Step => ({
    ...{ title: `To ${angle}`, sentence: '', kind: 'fold' },
    drives: [{ ...middle, angle }],
  });
  return {
    ...{ format: lessonFormat, version: lessonVersion, title: 'Book', place: '' },
    credit: { maker: '', status: '' },
    sheet: { size: 150, sideUp: 'b', sides: plainSides(names.sides) },
    pattern: { outline: square(1), lines: [{ ...middle, kind: 'valley', angle: 180 }] },
    steps: [fold(90), fold(180)],
  };
}

const choices = { bend: false, free: false };

/** Jobs with everything they answer, and a pause that the test lets go. */
function jobs(pause: () => Promise<void> = async () => {}) {
  const said: Answer[] = [];
  return { said, jobs: new Jobs((answer) => said.push(answer), pause) };
}

describe('the worker', () => {
  it('computes the steps one after the other, each from the end of the one before', async () => {
    const { said, jobs: worker } = jobs();
    await worker.take({ kind: 'bake', job: 7, lesson: book(), choices });
    const steps = said.filter((one) => one.kind === 'step');
    expect(steps.map((one) => one.step)).toEqual([0, 1]);
    expect(said.at(-1)).toEqual({ kind: 'baked', job: 7 });
    const fold = sheetOfLesson(book()).sheet!.creaseKind.indexOf(1);
    const ends = steps.map((one) => [one.poses[0]!.angle[fold]!, one.poses.at(-1)!.angle[fold]!]);
    expect(ends[0]![0]).toBeCloseTo(0, 9);
    expect(ends[0]![1]).toBeCloseTo(Math.PI / 2, 6);
    expect(ends[1]![0]).toBeCloseTo(Math.PI / 2, 6);
    expect(ends[1]![1]).toBeCloseTo(Math.PI, 6);
  });

  it('says nothing more of a job once Cancel has been answered', async () => {
    let steps = 0;
    const worker: { jobs?: Jobs } = {};
    const { said, jobs: made } = jobs(async () => {
      if (++steps === 4) await worker.jobs!.take({ kind: 'cancel', job: 8, target: 7 });
    });
    worker.jobs = made;
    await made.take({ kind: 'bake', job: 7, lesson: book(), choices });
    const cancelled = said.findIndex((one) => one.kind === 'cancelled');
    expect(cancelled).toBeGreaterThan(0);
    expect(said.slice(cancelled + 1).filter((one) => one.job === 7)).toEqual([]);
  });

  it('cancelling a job that has ended does not stop a later one', async () => {
    const { said, jobs: worker } = jobs();
    await worker.take({ kind: 'bake', job: 1, lesson: book(), choices });
    await worker.take({ kind: 'cancel', job: 2, target: 1 });
    await worker.take({ kind: 'bake', job: 1, lesson: book(), choices });
    expect(said.at(-1)).toEqual({ kind: 'baked', job: 1 });
  });

  it('writes every format of a folded sheet', async () => {
    const { said, jobs: worker } = jobs();
    const { ready } = await readAsPage('a.fold', text(JSON.stringify(foldFile)));
    for (const format of ['lesson', 'fold', 'svg', 'glb', 'obj'] as const)
      await worker.take({
        kind: 'write',
        job: 2,
        format,
        lesson: ready.lesson,
        sheet: ready.sheet,
        angle: new Float64Array(ready.sheet.creaseKind.length),
        still: 0,
      });
    const written = said.map((one) => (one.kind === 'written' ? one.bytes : new Uint8Array()));
    expect(written).toHaveLength(5);
    const read = (k: number) => new TextDecoder().decode(written[k]);
    expect(JSON.parse(read(0)).format).toBe('creaseway-lesson');
    expect(JSON.parse(read(1)).file_spec).toBe(1.2);
    expect(read(2)).toContain('<svg');
    expect(read(3).slice(0, 4)).toBe('glTF');
    expect(read(4)).toMatch(/^v /m);
  });
});

it('a sheet of 297 mm is 297 mm again after it was saved as FOLD and opened', async () => {
  const { said, jobs: worker } = jobs();
  const bytes = text(JSON.stringify(foldFile));
  const first = await readAsPage('a.fold', bytes);
  const { lesson, sheet } = first.ready;
  const { sizeAssumed, ...paper } = lesson.sheet;
  // the file says nothing of its size
  expect([paper.size, sizeAssumed]).toEqual([200, true]);
  const sized = { ...lesson, sheet: { ...paper, size: 297 } };
  const angle = new Float64Array(sheet.creaseKind.length);
  await worker.take({ kind: 'write', job: 2, format: 'fold', lesson: sized, sheet, angle, still: 0 });
  const written = said[0]!;
  if (written.kind !== 'written') throw new Error(`answered ${written.kind}`);
  const again = await readAsPage('b.fold', written.bytes);
  expect(again.ready.lesson.sheet.size).toBe(297);
});

const foldFile = {
  file_spec: 1.2,
  vertices_coords: [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
    [0, 0.5],
    [1, 0.5],
  ],
  edges_vertices: [
    [0, 1],
    [1, 5],
    [5, 2],
    [2, 3],
    [3, 4],
    [4, 0],
    [4, 5],
  ],
  edges_assignment: ['B', 'B', 'B', 'B', 'B', 'B', 'V'],
};

/** A worker that hears everything and answers when the test does. */
function portThat(hears: (message: unknown) => void): WorkerPort {
  return { postMessage: hears, terminate: () => {}, onmessage: null, onerror: null, onmessageerror: null };
}

describe("the page's side", () => {
  it('drops what arrives late for a cancelled job', async () => {
    const sent: Request[] = [];
    const port = portThat((message) => void sent.push(message as Request));
    const solver = new Solver(() => port);
    const heard: Reply[] = [];
    const job = solver.bake(book(), choices, (answer) => heard.push(answer));
    const answer = (data: Answer) => port.onmessage!({ data } as MessageEvent);
    const pose = { at: 0.5, angle: new Float64Array(7) };
    answer({ kind: 'pose', job, step: 0, pose });
    const cancelled = solver.cancel(job);
    answer({ kind: 'pose', job, step: 0, pose });
    answer({ kind: 'cancelled', job });
    await cancelled;
    answer({ kind: 'pose', job, step: 0, pose });
    expect(heard).toHaveLength(1);
    expect(sent.map((one) => one.kind)).toEqual(['bake', 'cancel']);
  });
});
