/** What every message between the page and a worker has, and what any worker may answer. */

/** Every message names the job that it belongs to. */
export interface Numbered {
  readonly kind: string;
  readonly job: number;
}

/** Said by the door itself, or by a worker that cannot answer otherwise. */
export interface Broke {
  readonly kind: 'broke';
  readonly job: number;
  readonly message: string;
}

/** The request was taken back before it was answered. */
export interface Cancelled {
  readonly kind: 'cancelled';
  readonly job: number;
}

/** Sent by a worker in the middle of long work, so that it is not taken for dead. */
export interface Alive {
  readonly kind: 'alive';
  readonly job: number;
}

/** A request as it is asked, before it gets its number. */
export type Unnumbered<R> = R extends Numbered ? Omit<R, 'job'> : never;
