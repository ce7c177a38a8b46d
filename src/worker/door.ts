/**
 * The page's side of a worker. Every request is answered: by the worker, or, where it cannot be loaded, throws, or falls
 * silent while something is asked of it, by `broke` with the reason; the next request then starts a new worker.
 */

import type { Alive, Broke, Cancelled, Numbered, Unnumbered } from './answers.ts';

/** What a worker looks like from the page. */
export interface WorkerPort {
  postMessage(message: unknown, transfer?: Transferable[]): void;
  terminate(): void;
  onmessage: ((event: MessageEvent) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  onmessageerror: ((event: MessageEvent) => void) | null;
}

type Listener<A> = (answer: A | Broke | Cancelled) => void;

/** A worker that says nothing for this long, with something asked of it, is taken for dead, milliseconds. */
const SILENCE = 20_000;

export class Door<R extends Numbered, A extends Numbered> {
  private next = 1;
  private port: WorkerPort | null = null;
  private readonly waiting = new Map<number, Listener<A>>();
  private watch: ReturnType<typeof setTimeout> | undefined;
  private held: Promise<unknown> | null = null;

  constructor(
    private readonly start: () => WorkerPort,
    private readonly silence = SILENCE,
    /** Fetches what answers cannot be told without; they are held until it is there. */
    private readonly needed: (() => Promise<unknown>) | null = null,
  ) {}

  /** Are there requests without an answer? */
  get busy(): boolean {
    return this.waiting.size > 0;
  }

  /** Asks for one answer. */
  ask(request: Unnumbered<R>, transfer: Transferable[] = []): Promise<A | Broke | Cancelled> {
    return new Promise((resolve) => {
      const job = this.listen(
        request,
        (answer) => {
          this.forget(job);
          resolve(answer);
        },
        transfer,
      );
    });
  }

  /** Asks, and hears every answer until `forget`. @returns the job's number */
  listen(request: Unnumbered<R>, listener: Listener<A>, transfer: Transferable[] = []): number {
    const job = this.next++;
    this.waiting.set(job, listener);
    try {
      this.open().postMessage({ ...request, job }, transfer);
      this.keepWatch();
    } catch (error) {
      // after the caller has got its number
      void Promise.resolve().then(() => this.fail(error instanceof Error ? error.message : String(error)));
    }
    return job;
  }

  /** Another listener for what is still to come of a job; false where nothing is. */
  hear(job: number, listener: Listener<A>): boolean {
    if (!this.waiting.has(job)) return false;
    this.waiting.set(job, listener);
    return true;
  }

  /** Says something that no answer of its own is waited for. */
  tell(request: Unnumbered<R>): void {
    this.forget(this.listen(request, () => {}));
  }

  /** Hears no more of a job. */
  forget(job: number): void {
    this.waiting.delete(job);
    if (!this.busy) clearTimeout(this.watch);
  }

  /** Ends the worker and whatever it does; what waits is told that it was cancelled. */
  close(): void {
    this.shut((job) => ({ kind: 'cancelled', job }));
  }

  private fail(message: string): void {
    this.shut((job) => ({ kind: 'broke', job, message }));
  }

  private shut(answer: (job: number) => Broke | Cancelled): void {
    clearTimeout(this.watch);
    this.port?.terminate();
    this.port = null;
    const waiting = [...this.waiting];
    this.waiting.clear();
    for (const [job, listener] of waiting) listener(answer(job));
  }

  private open(): WorkerPort {
    if (this.port) return this.port;
    const port = this.start();
    this.held = this.needed?.().then(() => (this.held = null)) ?? null;
    port.onmessage = ({ data }: MessageEvent<A | Alive>) => {
      if (port !== this.port) return;
      this.keepWatch();
      if (isAlive(data)) return;
      const hear = () => port === this.port && this.waiting.get(data.job)?.(data);
      if (this.held) void this.held.then(hear);
      else hear();
    };
    port.onerror = (event) => {
      if (port === this.port) this.fail(event.message || 'not-loaded');
    };
    port.onmessageerror = () => {
      if (port === this.port) this.fail('unreadable');
    };
    this.port = port;
    return port;
  }

  /** Waits for the next sign of life. A page that slept does not hold its own sleep against the worker. */
  private keepWatch(): void {
    clearTimeout(this.watch);
    if (!this.busy) return;
    const due = Date.now() + this.silence;
    this.watch = setTimeout(() => {
      if (Date.now() > due + this.silence / 2) this.keepWatch();
      else if (this.busy) this.fail('silent');
    }, this.silence);
  }
}

const isAlive = (message: Numbered): message is Alive => message.kind === 'alive';

/** Worker's side: says that work goes on, twice a second at most, whenever it is called. */
export function signOfLife(job: number, send: (alive: Alive) => void): () => void {
  let last = Date.now();
  return () => {
    const now = Date.now();
    if (now - last < 500) return;
    last = now;
    send({ kind: 'alive', job });
  };
}
