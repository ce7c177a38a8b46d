/**
 * The layer orders of one pose as a problem that is set up once and asked several questions: one order, how many,
 * each in turn, and why none.
 */
import type { Placement } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { type Asked, askedConditions, type OrderedPair } from './asked.ts';
import { creaseDirections, transitivity } from './conditions.ts';
import { Overlaps } from './overlaps.ts';
import { linePieces } from './pieces.ts';
import { groupByPlane, type Planes } from './planes.ts';
import { StateSearch } from './solver.ts';
import { type Condition, conditionsAt, type LinePiece, type Origin } from './strands.ts';

/** One state: every pair that overlaps, once for each area where it does. */
export type LayerOrder = readonly OrderedPair[];

export interface LayerCount {
  /** How many states there are, or at least how many when not `exact`. */
  readonly states: bigint;
  readonly exact: boolean;
}

/** Conditions that cannot hold together, as few as were found. */
export interface LayerConflict {
  readonly panels: number[];
  readonly creases: number[];
  readonly message: string;
}

type OutOfTime = () => boolean;

export class LayerProblem {
  readonly planes: Planes;
  readonly overlaps: Overlaps;
  readonly pieces: readonly LinePiece[];
  /** Most layers at any point. */
  readonly deepest: number;
  private readonly conditions: readonly Condition[];
  private last: { asked: readonly Asked[]; search: StateSearch } | null = null;

  /**
   * @param angle fold angle per crease, radians; a pose that closes. The sign of a half turn of an unassigned crease
   * does not count: it may go either way.
   * @param placement the same pose, placed
   */
  constructor(sheet: Sheet, angle: Float64Array, placement: Placement) {
    this.planes = groupByPlane(sheet, placement);
    this.overlaps = new Overlaps(this.planes, sheet.panelRings.length);
    this.pieces = linePieces(this.planes);
    this.conditions = [
      ...creaseDirections(sheet, angle, this.planes, this.overlaps, this.pieces),
      ...transitivity(this.planes, this.overlaps),
      ...this.pieces.flatMap((piece) => conditionsAt(sheet, this.planes, this.overlaps, piece)),
    ];
    this.deepest = this.planes.groups.reduce(
      (most, { cover }) => cover.reduce((deep, panels) => Math.max(deep, panels.length), most),
      0,
    );
  }

  /** One state, without waiting for a count; null where there is none. */
  first(asked: readonly Asked[] = []): LayerOrder | null {
    const state = this.search(asked)?.first() ?? null;
    return state && this.orderOf(state);
  }

  /** How many states; when `outOfTime` says so, those counted until then. */
  count(asked: readonly Asked[] = [], outOfTime: OutOfTime = () => false): LayerCount {
    return this.search(asked)?.count(outOfTime) ?? { states: 0n, exact: true };
  }

  /** Every state once, one after another. */
  *states(asked: readonly Asked[] = []): Generator<LayerOrder, void> {
    const search = this.search(asked);
    if (search) for (const state of search.states()) yield this.orderOf(state);
  }

  /** Why there is no state; null where there is one. */
  conflict(asked: readonly Asked[] = [], outOfTime: OutOfTime = () => false): LayerConflict | null {
    const { conditions, senseless } = askedConditions(this.planes, this.overlaps, asked);
    if (senseless.length > 0) return { ...senseless[0]!, creases: [] };
    const search = this.search(asked);
    if (search?.first()) return null;
    return describeConflict(this.overlaps.list.length, [...this.conditions, ...conditions], outOfTime);
  }

  /** null where something is asked that this pose cannot have. */
  private search(asked: readonly Asked[]): StateSearch | null {
    if (this.last?.asked === asked) return this.last.search;
    const { conditions, senseless } = askedConditions(this.planes, this.overlaps, asked);
    if (senseless.length > 0) return null;
    const search = new StateSearch(this.overlaps.list.length, [...this.conditions, ...conditions]);
    this.last = { asked, search };
    return search;
  }

  private orderOf(state: Uint8Array): LayerOrder {
    return this.overlaps.list.map(({ first, second }, unknown) => {
      const firstOnNormalSide = state[unknown] === 0;
      return [first, second, firstOnNormalSide === this.planes.up[second]! > 0 ? 1 : -1];
    });
  }
}

/** Leaves out conditions as long as what is left still contradicts itself: by halves, then one by one. */
function describeConflict(
  unknowns: number,
  conditions: readonly Condition[],
  outOfTime: OutOfTime,
): LayerConflict {
  let left = [...conditions];
  for (let size = Math.ceil(left.length / 2); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 2))
    for (let k = 0; k < left.length && !outOfTime(); ) {
      const fewer = [...left.slice(0, k), ...left.slice(k + size)];
      if (fewer.length < left.length && !new StateSearch(unknowns, fewer).first()) left = fewer;
      else k += size;
    }
  const all: Origin = {
    panels: [...new Set(left.flatMap(({ origin }) => origin.panels))].sort((a, b) => a - b),
    creases: [...new Set(left.flatMap(({ origin }) => origin.creases))].sort((a, b) => a - b),
  };
  const asked = [...new Set(left.flatMap(({ origin }) => origin.asked ?? []))];
  return { panels: [...all.panels], creases: [...all.creases], message: conflictWords(all, asked) };
}

function conflictWords({ panels, creases }: Origin, asked: readonly string[]): string {
  const at = creases.length > 0 ? ` at creases ${creases.join(', ')}` : '';
  const stack = `Panels ${panels.join(', ')} cannot be stacked`;
  if (asked.length === 0)
    return `${stack} without paper passing through paper${at}: change the way one of these creases folds.`;
  return `${stack} as asked (${asked.join('; ')}) without paper passing through paper${at}: ask for less, or otherwise.`;
}
