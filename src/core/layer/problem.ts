/**
 * The layer orders of one pose as a problem that is set up once and asked several questions: one order, how many,
 * each in turn, and why none.
 */
import type { Placement } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { type Asked, askedConditions, type OrderedPair } from './asked.ts';
import { ConditionTable } from './condition-table.ts';
import { addCreaseDirections, eachTransitivity } from './conditions.ts';
import { type LayerConflict, whyNone } from './conflict.ts';
import { type Overlaps, overlapsOf } from './overlaps.ts';
import { linePieces } from './pieces.ts';
import { groupByPlane, type Planes } from './planes.ts';
import { OutOfTime } from './search.ts';
import { StateSearch } from './solver.ts';
import { addStrandConditions, type Grazes, type LinePiece } from './strands.ts';

/** One state: every pair that overlaps, once for each area where it does. */
export type LayerOrder = readonly OrderedPair[];

export interface LayerCount {
  /** How many states there are, or at least how many when not `exact`. */
  readonly states: bigint;
  readonly exact: boolean;
}

export type { LayerConflict } from './conflict.ts';

/** Says when to give up. */
type TimeIsUp = () => boolean;
const never: TimeIsUp = () => false;
const nothing: readonly Asked[] = [];

export class LayerProblem {
  readonly planes: Planes;
  readonly overlaps: Overlaps;
  readonly pieces: readonly LinePiece[];
  /** Most layers at any point. */
  readonly deepest: number;
  /** All conditions but those asked. */
  readonly table: ConditionTable;
  private last: { asked: readonly Asked[]; search: StateSearch } | null = null;
  private timeIsUp: TimeIsUp;
  /** The pose, placed. */
  readonly placement: Placement;

  /**
   * @param angle fold angle per crease, radians; a pose that closes. The sign of a half turn of an unassigned crease
   * does not count: it may go either way.
   * @param placement the same pose, placed
   * @param timeIsUp asked while the problem is set up
   * @param grazes panels of which a raw edge reaches through another by less than counts; none where left out
   * @throws OutOfTime
   */
  constructor(
    sheet: Sheet,
    angle: Float64Array,
    placement: Placement,
    timeIsUp: TimeIsUp = never,
    grazes: Grazes = () => false,
  ) {
    this.timeIsUp = timeIsUp;
    this.placement = placement;
    const tick = this.ticker();
    this.planes = groupByPlane(sheet, placement, tick);
    this.overlaps = overlapsOf(this.planes, tick);
    this.pieces = linePieces(this.planes, tick);
    this.table = new ConditionTable(eachTransitivity(this.planes, this.overlaps, tick));
    addCreaseDirections(this.table, sheet, angle, this.planes, this.overlaps, this.pieces);
    for (const piece of this.pieces)
      addStrandConditions(this.table, sheet, this.planes, this.overlaps, piece, grazes, tick);
    this.deepest = this.planes.groups.reduce(
      (most, { cover }) => cover.reduce((deep, panels) => Math.max(deep, panels.length), most),
      0,
    );
  }

  /**
   * One state, without waiting for a count; null where there is none.
   * @throws OutOfTime
   */
  first(asked: readonly Asked[] = nothing, timeIsUp = never): LayerOrder | null {
    const state = this.search(asked, timeIsUp)?.first(timeIsUp) ?? null;
    return state && this.orderOf(state);
  }

  /** How many states; where time is up, those counted until then. */
  count(asked: readonly Asked[] = nothing, timeIsUp = never): LayerCount {
    try {
      return this.search(asked, timeIsUp)?.count(timeIsUp) ?? { states: 0n, exact: true };
    } catch (error) {
      if (error instanceof OutOfTime) return { states: 0n, exact: false };
      throw error;
    }
  }

  /**
   * Every state once, one after another.
   * @throws OutOfTime
   */
  *states(asked: readonly Asked[] = nothing, timeIsUp = never): Generator<LayerOrder, void> {
    const search = this.search(asked, timeIsUp);
    if (search) for (const state of search.states(timeIsUp)) yield this.orderOf(state);
  }

  /**
   * Why there is no state; null where there is one. What is named is cut down until time is up.
   * @throws OutOfTime
   */
  conflict(asked: readonly Asked[] = nothing, timeIsUp = never): LayerConflict | null {
    const { conditions, senseless } = askedConditions(this, asked);
    if (senseless.length > 0) return { ...senseless[0]!, creases: [] };
    if (this.search(asked, timeIsUp)?.first(timeIsUp)) return null;
    return whyNone(this.overlaps, this.table, conditions, timeIsUp);
  }

  /** null where something is asked that this pose cannot have. */
  private search(asked: readonly Asked[], timeIsUp: TimeIsUp): StateSearch | null {
    this.timeIsUp = timeIsUp;
    if (this.last?.asked === asked) return this.last.search;
    const { conditions, senseless } = askedConditions(this, asked);
    if (senseless.length > 0) return null;
    const search = new StateSearch(
      this.overlaps.list.length,
      this.table,
      conditions.map(({ of }) => of),
      this.ticker(),
    );
    this.last = { asked, search };
    return search;
  }

  /** Asks whether time is up once in a while, and throws where it is. */
  private ticker(): () => void {
    let ticks = 0;
    return () => {
      if ((++ticks & 1023) === 0 && this.timeIsUp()) throw new OutOfTime();
    };
  }

  private orderOf(state: Uint8Array): LayerOrder {
    return this.overlaps.list.map(({ first, second }, unknown) => {
      const firstOnNormalSide = state[unknown] === 0;
      return [first, second, firstOnNormalSide === this.planes.up[second]! > 0 ? 1 : -1];
    });
  }
}
