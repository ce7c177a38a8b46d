/**
 * The page's side of the solver's worker. Jobs are numbered; what arrives for a job that was cancelled or replaced
 * is dropped here, so that nothing of it is seen once Cancel has been answered.
 */
import type { Lesson } from '../core/lesson/lesson.ts';
import type { Answer, FileFormat, FoldChoices, ReadyLesson, Request } from './protocol.ts';

type Unnumbered = Request extends infer R ? (R extends Request ? Omit<R, 'job'> : never) : never;
type Listener = (answer: Answer) => void;

export interface Port {
  postMessage(message: unknown, transfer?: Transferable[]): void;
  onmessage: ((event: MessageEvent) => void) | null;
}

export class Solver {
  private next = 1;
  private readonly listeners = new Map<number, Listener>();

  constructor(private readonly port: Port) {
    port.onmessage = (event: MessageEvent<Answer>) => this.listeners.get(event.data.job)?.(event.data);
  }

  /** Opens a file; resolves with the lesson, the question of the mapping step, or the refusal. */
  open(name: string, bytes: Uint8Array): Promise<Answer> {
    return this.once({ kind: 'open', name, bytes }, [bytes.buffer as ArrayBuffer]);
  }

  map(mapping: Extract<Request, { kind: 'map' }>['mapping']): Promise<Answer> {
    return this.once({ kind: 'map', mapping });
  }

  trueUp(ready: Pick<ReadyLesson, 'lesson' | 'sheet'>): Promise<Answer> {
    return this.once({ kind: 'true-up', lesson: ready.lesson, sheet: ready.sheet });
  }

  rebuild(lesson: Lesson): Promise<Answer> {
    return this.once({ kind: 'rebuild', lesson });
  }

  write(
    format: FileFormat,
    what: Omit<Extract<Request, { kind: 'write' }>, 'kind' | 'job' | 'format'>,
  ): Promise<Answer> {
    return this.once({ kind: 'write', format, ...what });
  }

  correct(step: number, angle: Float64Array): Promise<Answer> {
    return this.once({ kind: 'correct', step, angle });
  }

  drag(what: Omit<Extract<Request, { kind: 'drag' }>, 'kind' | 'job'>): Promise<Answer> {
    return this.once({ kind: 'drag', ...what });
  }

  /** Computes the tracks of all steps; answers come to `listen` until the job ends. @returns the job's number */
  bake(ready: Pick<ReadyLesson, 'sheet' | 'stages'>, choices: FoldChoices, listen: Listener): number {
    const job = this.next++;
    this.listeners.set(job, (answer) => {
      if (answer.kind === 'baked' || answer.kind === 'broke') this.listeners.delete(job);
      listen(answer);
    });
    this.post({ kind: 'bake', job, sheet: ready.sheet, stages: ready.stages, choices });
    return job;
  }

  /** Stops a job; resolves when the worker has answered, after which nothing of the job is heard. */
  cancel(target: number): Promise<void> {
    return new Promise((resolve) => {
      if (!this.listeners.has(target)) return resolve();
      this.listeners.set(target, (answer) => {
        if (answer.kind !== 'cancelled') return;
        this.listeners.delete(target);
        resolve();
      });
      this.post({ kind: 'cancel', job: this.next++, target });
    });
  }

  private once(request: Unnumbered, transfer?: Transferable[]): Promise<Answer> {
    const job = this.next++;
    return new Promise((resolve) => {
      this.listeners.set(job, (answer) => {
        this.listeners.delete(job);
        resolve(answer);
      });
      this.post({ ...request, job } as Request, transfer);
    });
  }

  private post(request: Request, transfer: Transferable[] = []): void {
    this.port.postMessage(request, transfer);
  }
}

/** Starts the worker. */
export function startSolver(): Solver {
  return new Solver(new Worker(new URL('./solver.worker.ts', import.meta.url), { type: 'module' }));
}
