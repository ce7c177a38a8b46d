/**
 * A session without a browser. `quietAround` gives it a world in which nobody answers but the shelf; `workingAround` one
 * in which the workers' own code runs, and lessons are kept in a database.
 */
import { expect, vi } from 'vitest';
import type { Point } from '../../src/core/numeric/vector.ts';
import type { Around, Clock, Memory, Screen } from '../../src/desk/around.ts';
import { Desk } from '../../src/desk/desk.ts';
import { Painter } from '../../src/desk/play/painter.ts';
import * as proposed from '../../src/desk/run/proposed.ts';
import * as insideReads from '../../src/desk/tools/inside-reads.ts';
import type { KeptLesson, ShelfOfLessons } from '../../src/keep/kept.ts';
import { Shelf } from '../../src/keep/shelf.ts';
import { Solver } from '../../src/worker/client.ts';
import type { WorkerPort } from '../../src/worker/door.ts';
import { Files } from '../../src/worker/file-client.ts';
import { FileJobs } from '../../src/worker/file-jobs.ts';
import type { FileRequest } from '../../src/worker/file-protocol.ts';
import { Jobs } from '../../src/worker/jobs.ts';
import { LayerSolver } from '../../src/worker/layer-client.ts';
import { takeLayerRequest } from '../../src/worker/layer-jobs.ts';
import type { LayerRequest } from '../../src/worker/layer-protocol.ts';
import type { Request } from '../../src/worker/protocol.ts';

/** Time that passes only when the test says so. */
export class HandClock implements Clock {
  private time = 0;
  private next = 0;
  private readonly waiting = new Map<number, { readonly at: number; readonly call: (now: number) => void }>();

  now = (): number => this.time;
  later = (call: () => void, milliseconds: number) => this.wait(call, milliseconds);
  /** Sixty pictures a second. */
  frame = (call: (now: number) => void) => this.wait(call, 1000 / 60);

  /** Lets so many milliseconds pass; what falls due is called in its turn. */
  pass(milliseconds: number): void {
    const end = this.time + milliseconds;
    for (;;) {
      const due = [...this.waiting].filter(([, { at }]) => at <= end).sort(([, a], [, b]) => a.at - b.at)[0];
      if (!due) break;
      this.waiting.delete(due[0]);
      this.time = due[1].at;
      due[1].call(this.time);
    }
    this.time = end;
  }

  private wait(call: (now: number) => void, milliseconds: number) {
    const id = this.next++;
    this.waiting.set(id, { at: this.time + milliseconds, call });
    return () => void this.waiting.delete(id);
  }
}

function memoryOfItsOwn(): Memory {
  const texts = new Map<string, string>();
  return {
    read: (of, name) => texts.get(`${of} ${name}`) ?? null,
    write: (of, name, text) => texts.set(`${of} ${name}`, text),
  };
}

const never = new Promise<never>(() => {});

/** A shelf that takes everything and has nothing. */
const emptyShelf: ShelfOfLessons = {
  put: async (_lesson, { revision }) => ({ kind: 'kept', revision }),
  change: async () => ({ kind: 'kept', revision: 1 }),
  states: async () => new Map(),
  get: async () => null,
  list: async (): Promise<KeptLesson[]> => [],
  picture: async () => null,
  putPicture: async () => {},
  look: async () => null,
  putLook: async () => {},
  last: async () => null,
  putLast: async () => {},
  versions: async () => [],
  putVersion: async () => ({ kind: 'kept', revision: 0 }),
  removeVersion: async () => {},
  tidy: async () => {},
};

/** Waits until something is so, however busy the machine is. */
export const eventually = <T>(check: () => T | Promise<T>): Promise<T> =>
  vi.waitFor(check, { timeout: 30_000, interval: 5 });

/** Waits until the run of the lesson on the table has answered everything. */
export async function settled(desk: Desk): Promise<void> {
  await vi.waitFor(
    () => {
      const { computing, steps } = desk.store.run;
      expect(desk.store.document.checked && !computing).toBe(true);
      expect(steps.every(({ end, layers }) => !end?.closes || layers)).toBe(true);
    },
    { timeout: 60_000, interval: 20 },
  );
}

/** A line through two places of the sheet in hand, mm; the drawing tool is in hand. */
export function drawLine(desk: Desk, from: Point, to: Point): void {
  desk.drawing.hands.choose('through');
  desk.drawing.hands.pressAt(...from);
  desk.drawing.hands.pressAt(...to);
}

export function quietAround(clock: Clock = new HandClock()): Around {
  let names = 0;
  return {
    clock,
    memory: memoryOfItsOwn(),
    page: { chooseFile: () => {}, focus: () => {} },
    files: {
      open: () => never,
      takeSheet: () => never,
      takePage: () => never,
      map: () => never,
      cancel: () => {},
    },
    solver: {
      trueUp: () => never,
      rebuild: () => never,
      write: () => never,
      correct: () => never,
      drag: () => never,
      bake: () => 0,
      cancel: async () => {},
    },
    layers: { look: async () => null, stacks: async () => null, telling: async () => [], cancel: () => {} },
    mends: { mendFor: async () => null, cancel: () => {} },
    startWrongs: () => ({ foldWrongly: async () => null, end: () => {} }),
    shelf: emptyShelf,
    hold: () => ({ known: Promise.resolve(true), release: () => {} }),
    others: { tell: () => {}, hear: () => {} },
    fetchFile: () => Promise.reject(new Error('there is no file')),
    handOver: () => {},
    askToPersist: () => {},
    motionReduced: () => true,
    prefersDark: () => false,
    newId: () => `name ${names++}`,
  };
}

/** A stage on which nothing is seen. */
export const noScreen: Screen = {
  eye: { bearing: 0, fall: 1, zoom: 1 },
  eyeInModel: [0, 0, 10],
  leaves: null,
  extent: { width: 100, height: 100 },
  pick: () => null,
  flyTo: () => {},
  turnOver: () => {},
  turnTable: () => {},
  begin: () => {},
  remeasure: () => {},
  takePicture: () => {},
  picture: async () => null,
  setOnTable: () => never,
  setRest: () => {},
};

/** What is fetched when it is wanted is there at once. */
export function haveAll(desk: Desk): void {
  desk.tracks.paintWith(Painter);
  desk.inside.take(insideReads);
  desk.proposing.take(proposed);
}

/** A worker that runs in this thread, its messages copied as between threads. */
function port<R>(take: (request: R, answer: (said: unknown) => void) => void): WorkerPort {
  const made: WorkerPort = {
    ...{ onmessage: null, onerror: null, onmessageerror: null, terminate: () => {} },
    postMessage: (request) => {
      const asked = structuredClone(request) as R;
      setTimeout(() =>
        take(asked, (said) => made.onmessage?.({ data: structuredClone(said) } as MessageEvent)),
      );
    },
  };
  return made;
}

function filesHere(): Files {
  return new Files(() => {
    let answer: (said: unknown) => void = () => {};
    const jobs = new FileJobs((said) => answer(said));
    return port<FileRequest>((request, say) => {
      answer = say;
      void jobs.take(request);
    });
  });
}

function solverHere(): Solver {
  return new Solver(() => {
    let answer: (said: unknown) => void = () => {};
    const jobs = new Jobs((said) => answer(said));
    return port<Request>((request, say) => {
      answer = say;
      void jobs.take(request);
    });
  });
}

const realClock: Clock = {
  now: () => performance.now(),
  later: (call, milliseconds) => {
    const timer = setTimeout(call, milliseconds);
    return () => clearTimeout(timer);
  },
  frame: (call) => {
    const timer = setTimeout(() => call(performance.now()), 4);
    return () => clearTimeout(timer);
  },
};

/**
 * @param shelf a name of the database; the same name is the same shelf
 * @param fetchFile what is served beside the page
 */
export function workingAround(shelf: string, fetchFile: Around['fetchFile']): Around {
  return {
    ...quietAround(realClock),
    files: filesHere(),
    solver: solverHere(),
    layers: new LayerSolver(() => port<LayerRequest>((request, say) => say(takeLayerRequest(request)))),
    shelf: new Shelf(shelf),
    newId: () => `${Math.random().toString(36).slice(2)}`,
    fetchFile,
  };
}

/** A session that has begun, its workers at work. */
export function workingDesk(
  shelf: string,
  fetchFile: Around['fetchFile'] = () => Promise.reject(new Error('nothing is served')),
): Desk {
  const desk = new Desk(workingAround(shelf, fetchFile));
  desk.begin();
  haveAll(desk);
  return desk;
}
