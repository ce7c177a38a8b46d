/**
 * The page's side of the solver's worker. What arrives for a job that was cancelled or replaced is dropped here, so that
 * nothing of it is seen once Cancel has been answered.
 */
import type { Lesson } from '../core/lesson/lesson.ts';
import type { LessonNames } from '../core/lesson/lesson-of-sheet.ts';
import type { Unnumbered } from './answers.ts';
import { Door, type WorkerPort } from './door.ts';
import type { Answer, FileFormat, FoldChoices, Request } from './protocol.ts';
import type { Asked, Reply, SolverWork } from './work.ts';

export class Solver implements SolverWork {
  private readonly door: Door<Request, Answer>;

  constructor(start: () => WorkerPort, needed?: () => Promise<unknown>) {
    this.door = new Door(start, undefined, needed);
  }

  /** Opens a file; resolves with the lesson, the question which sheet or what its lines are, or the refusal. */
  open(name: string, bytes: Uint8Array, names: LessonNames): Promise<Reply> {
    return this.once({ kind: 'open', name, bytes, names }, [bytes.buffer as ArrayBuffer]);
  }

  takeSheet(region: number | 'all'): Promise<Reply> {
    return this.once({ kind: 'take-sheet', region });
  }

  map(mapping: Asked<'map'>['mapping']): Promise<Reply> {
    return this.once({ kind: 'map', mapping });
  }

  trueUp(lesson: Lesson): Promise<Reply> {
    return this.once({ kind: 'true-up', lesson });
  }

  rebuild(lesson: Lesson): Promise<Reply> {
    return this.once({ kind: 'rebuild', lesson });
  }

  write(format: FileFormat, what: Omit<Asked<'write'>, 'format'>): Promise<Reply> {
    return this.once({ kind: 'write', format, ...what });
  }

  correct(step: number, angle: Float64Array): Promise<Reply> {
    return this.once({ kind: 'correct', step, angle });
  }

  drag(what: Asked<'drag'>): Promise<Reply> {
    return this.once({ kind: 'drag', ...what });
  }

  /** Computes the tracks of all steps; answers come to `listen` until the job ends. @returns the job's number */
  bake(lesson: Lesson, choices: FoldChoices, listen: (answer: Reply) => void): number {
    const job = this.door.listen({ kind: 'bake', lesson, choices }, (answer) => {
      if (answer.kind === 'baked' || answer.kind === 'broke') this.door.forget(job);
      listen(answer);
    });
    return job;
  }

  /** Stops a job; resolves when the worker has answered, after which nothing of the job is heard. */
  cancel(target: number): Promise<void> {
    return new Promise((resolve) => {
      const waits = this.door.hear(target, ({ kind }) => {
        if (kind !== 'cancelled' && kind !== 'broke') return;
        this.door.forget(target);
        resolve();
      });
      if (waits) this.door.tell({ kind: 'cancel', target });
      else resolve();
    });
  }

  private once(request: Unnumbered<Request>, transfer?: Transferable[]): Promise<Reply> {
    return this.door.ask(request, transfer);
  }
}

/** The worker starts with the first request. @param needed fetches what its answers cannot be told without */
export function startSolver(needed: () => Promise<unknown>): Solver {
  return new Solver(
    () => new Worker(new URL('./solver.worker.ts', import.meta.url), { type: 'module' }),
    needed,
  );
}
