/** What findings on motions and on the states they end in tell. Angles in degrees. */

type Nothing = Readonly<Record<string, never>>;

/** Forced half-way on a crease, how the paper tears. */
export interface TornOpen {
  readonly crease: number;
  /** Corners that would not close, and by how much the worst. */
  readonly corners: readonly number[];
  readonly rotation: number;
  /** How wide the paper gapes: in mm, or in shares of the sheet's side where its size is not known. */
  readonly gap: number;
  readonly unit: 'mm' | 'share';
}

export interface MotionValues {
  /** `atEnd`: how much is still bent at the end; null where it is flat again */
  'motion-bends': { readonly most: number; readonly atEnd: number | null };
  'motion-fails': {
    readonly bendTried: boolean;
    /** Creases of which another angle than asked would close. */
    readonly wrong: readonly { readonly crease: number; readonly angle: number; readonly asked: number }[];
    /** Creases that are asked for another angle than in the finished pattern. */
    readonly atOdds: readonly number[];
    /** Creases that stop short, by up to `by`. */
    readonly short: readonly number[];
    readonly by: number;
    /** The crease before which others would have to leap. */
    readonly stuck: number | null;
    readonly torn: TornOpen | null;
  };
  'motion-stopped': Nothing;
  /** At a share of the step a crease leaps by so many degrees. */
  'motion-jumps': { readonly at: number; readonly crease: number; readonly by: number };
  /** The finished angles, at a share of them, are missed most at a crease. */
  'state-missed': { readonly part: number; readonly by: number; readonly crease: number };
  'run-broke': { readonly why: string };
  'kind-flipped': { readonly how: 'on-the-way' } | { readonly how: 'in-file'; readonly count: number };
  'crease-left-short': { readonly by: number };
  'angle-assumed':
    | { readonly how: 'settled'; readonly by: number }
    | { readonly how: 'edges' | 'lines'; readonly count: number };
}
