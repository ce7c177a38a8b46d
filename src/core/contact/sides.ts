/**
 * Sides: while one panel lies over another, on which side of it has the motion had it, and how far off. Paper that is
 * seen clear on one side and then clear on the other, without having left the place, has gone through; and what the
 * layer order says at the start and the end of a step counts as seen. The side that it was least far on is the one it
 * should not have been on, and that distance is how far paper would have to give.
 */
import type { LayerOrder } from '../layer/problem.ts';
import { TOUCH, UNSEEN } from '../numeric/tolerance.ts';
import type { Give } from './give.ts';
import { coverOf, type Summit } from './overlap.ts';
import { type PosedPanels, placeOver, seenFrom } from './shapes.ts';
import type { Moment } from './track-poses.ts';

/** Pairs [f, g, side]: panel f is brought onto the side of g that faced up at the start (1), the other (-1), untold (0). */
export interface MotionSides {
  /** Panels that lie on each other at the end and came together in this step. Panels beside one crease are left out. */
  readonly pairs: readonly (readonly [number, number, 1 | -1 | 0])[];
  /** Per pair: the furthest off that f stood on that side while it lay over g, sheet units; 0 where untold. */
  readonly clearance: readonly number[];
  /** Panels that lay on each other throughout the step. */
  readonly kept: readonly (readonly [number, number])[];
}

/** A panel that stood on a side of another where it cannot have been. */
interface WrongSide {
  readonly panels: readonly [number, number];
  readonly first: number;
  readonly depth: number;
  readonly deepest: number;
  readonly at: readonly (readonly [number, number])[];
}

/** What was seen on one side. */
interface Seen {
  far: number;
  first: number;
  deepest: number;
  at: readonly (readonly [number, number])[];
}

interface Pair {
  /** Up at the start, and down: how far off while all of it was on that side. */
  seen: [Seen, Seen];
  /** Likewise, while part of it was on the other side. */
  partly: [Seen, Seen];
  /** Likewise, while only one of the two saw the other over itself: enough to tell the side, not how far off. */
  aslant: [Seen, Seen];
  flat: boolean;
  /** How far off it stood when it was last looked at, up positive; null before, and while part of it was on either side. */
  last: { readonly moment: number; readonly height: number } | null;
  /** Have lain on each other since the start of the step. */
  resting: boolean;
  /** Poses before the pair was first met. */
  readonly before: () => Iterable<Moment>;
}

const unseen = (): Seen => ({ far: 0, first: 1, deepest: 0, at: [] });
const newPair = (before: Pair['before']): Pair => ({
  seen: [unseen(), unseen()],
  partly: [unseen(), unseen()],
  aslant: [unseen(), unseen()],
  flat: false,
  last: null,
  resting: false,
  before,
});
const finite = (far: number) => (Number.isFinite(far) ? far : 0);
/** Panels that stand steeper on each other than this (cosine) are left to the test for crossings. */
const STEEP = 0.1;

export class Sides {
  private readonly pairs = new Map<number, Pair>();
  private readonly doubts = new Set<number>();
  private readonly wrong: WrongSide[] = [];
  private readonly startSides: Map<number, 1 | -1 | 0>;
  private readonly panels: number;

  constructor(
    private readonly start: PosedPanels,
    order: LayerOrder,
    private readonly give: Give,
  ) {
    this.panels = start.shapes.panels;
    this.startSides = this.sidesOf(order, start);
  }

  /** A pair at the start of the step, the lower number first. */
  begin(a: number, b: number): void {
    const cover = isSteep(this.start, a, b) ? null : coverBothWays(this.start, a, b);
    if (!cover || Math.max(cover.up.height, cover.down.height) > TOUCH) return;
    const seen: [Seen, Seen] = [unseen(), unseen()];
    const key = a * this.panels + b;
    believe(seen, this.startSides.get(key) ?? 0);
    this.pairs.set(key, { ...newPair(() => []), seen, flat: true, resting: true });
  }

  /**
   * A pair that moves, at the two ends of a part of the step. One that is met for the first time is followed back, as
   * far as it takes to know whether it stood further off than paper gives.
   */
  watch(a: number, b: number, from: Moment, to: Moment, before: () => Iterable<Moment>): void {
    if (isSteep(to.posed, a, b)) {
      this.leave(a, b);
      return;
    }
    const key = a * this.panels + b;
    let pair = this.pairs.get(key);
    if (!pair) {
      pair = newPair(before);
      if (this.look(pair, a, b, from) && !pair.flat)
        for (const earlier of before())
          if (furthest(pair) > this.give(a, b) || !this.look(pair, a, b, earlier) || pair.flat) break;
    }
    if (this.look(pair, a, b, to)) this.pairs.set(key, pair);
    else {
      this.judge(a, b, pair);
      this.pairs.delete(key);
    }
    if (this.pairs.has(key) && inDoubt(pair, this.give(a, b))) this.doubts.add(key);
    else this.doubts.delete(key);
  }

  /** Pairs that may stand on a wrong side, where it is not yet known how far off they get. */
  doubtful(): number[] {
    return [...this.doubts];
  }

  isDoubtful(key: number): boolean {
    return this.doubts.has(key);
  }

  /** A pair that no longer lies over each other. */
  leave(a: number, b: number): void {
    const key = a * this.panels + b;
    const pair = this.pairs.get(key);
    if (!pair) return;
    this.pairs.delete(key);
    this.doubts.delete(key);
    this.judge(a, b, pair);
  }

  /** Forgets all pairs but these. */
  keepOnly(near: ReadonlySet<number>): void {
    for (const key of this.pairs.keys())
      if (!near.has(key)) this.leave(Math.floor(key / this.panels), key % this.panels);
  }

  /** What the motion says of pairs that lie on each other now. */
  told(): MotionSides {
    const pairs: [number, number, 1 | -1 | 0][] = [];
    const clearance: number[] = [];
    const kept: [number, number][] = [];
    for (const key of [...this.pairs.keys()].sort((p, q) => p - q)) {
      const { flat, resting, seen, aslant } = this.pairs.get(key)!;
      const [a, b] = [Math.floor(key / this.panels), key % this.panels];
      if (!flat) continue;
      if (resting) {
        kept.push([a, b]);
        continue;
      }
      const own = (side: 0 | 1) => {
        const far = Math.max(finite(seen[side].far), aslant[side].far);
        return far > UNSEEN ? far : 0;
      };
      const [up, down] = [own(0), own(1)];
      pairs.push([a, b, up === down ? 0 : up > down ? 1 : -1]);
      clearance.push(Math.max(up, down));
    }
    return { pairs, clearance, kept };
  }

  /** Ends the watch, with the layer order at the last pose: all that stood on a wrong side. */
  end(last: PosedPanels, order: LayerOrder): readonly WrongSide[] {
    const endSides = this.sidesOf(order, last);
    for (const [key, pair] of this.pairs) {
      if (pair.flat && !pair.resting) believe(pair.seen, endSides.get(key) ?? 0);
      this.judge(Math.floor(key / this.panels), key % this.panels, pair);
    }
    this.pairs.clear();
    return this.wrong;
  }

  /** Takes in how a pair stands at a moment; false when neither covers the other. */
  private look(pair: Pair, a: number, b: number, { posed, moment }: Moment): boolean {
    if (isSteep(posed, a, b)) return false;
    const cover = coverBothWays(posed, a, b);
    if (!cover) return false;
    const [isUp, isDown] = [cover.up.height > TOUCH, cover.down.height > TOUCH];
    pair.flat = !isUp && !isDown;
    const { last } = pair;
    pair.last = isUp && isDown ? null : { moment, height: cover.up.height - cover.down.height };
    if (pair.flat) return true;
    // drawn creases waver by a little on the way
    if (Math.max(cover.up.height, cover.down.height) > UNSEEN) pair.resting = false;
    const list = !cover.both ? pair.aslant : isUp && isDown ? pair.partly : pair.seen;
    if (!cover.both && isUp && isDown) return true;
    const began = cameOver(last, pair.last, moment);
    note(list[0], cover.up, 1, posed, a, b, moment, began);
    note(list[1], cover.down, -1, posed, a, b, moment, began);
    return true;
  }

  private judge(a: number, b: number, pair: Pair): void {
    const wrong = wrongOne(pair);
    if (wrong.far <= UNSEEN || !Number.isFinite(wrong.far)) return;
    // how it came there: back to where it did not yet lie over the other
    for (const earlier of pair.before()) if (!this.look(pair, a, b, earlier) || pair.flat) break;
    const { far, first, deepest, at } = wrongOne(pair);
    this.wrong.push({ panels: [a, b], first, depth: far, deepest, at });
  }

  /** Sides of an order as the higher number of each pair sees the lower; 0 where they lie both ways in two places. */
  private sidesOf(order: LayerOrder, posed: PosedPanels): Map<number, 1 | -1 | 0> {
    const sides = new Map<number, 1 | -1 | 0>();
    for (const [f, g, side] of order) {
      const alike = cosineOf(posed, f, g) > 0;
      const own = f < g || !alike ? side : side === 1 ? -1 : 1;
      const key = f < g ? f * this.panels + g : g * this.panels + f;
      const before = sides.get(key);
      sides.set(key, before === undefined || before === own ? own : 0);
    }
    return sides;
  }
}

/**
 * What was seen on the side that the panel was least far on. Where the layer order says which side is the right one, all
 * that was seen on the other counts.
 */
function wrongOne({ seen: [up, down], partly }: Pair): Seen {
  const sure = [up, down].findIndex(({ far }) => !Number.isFinite(far));
  const least = up.far < down.far ? up : down;
  return sure >= 0 && partly[1 - sure]!.far > least.far ? partly[1 - sure]! : least;
}

const furthest = ({ seen: [up, down] }: Pair) => Math.max(up.far, down.far);

function inDoubt({ seen: [up, down] }: Pair, give: number): boolean {
  const least = Math.min(up.far, down.far);
  return least > UNSEEN && least <= give;
}

/**
 * Panel a over panel b, as far off as either of the two sees it, whichever is less, so that it does not matter which has
 * the higher number; or as the only one of them sees it that sees the other over itself. Null where neither does.
 */
function coverBothWays(
  posed: PosedPanels,
  a: number,
  b: number,
): { up: Summit; down: Summit; both: boolean } | null {
  const own = coverOf(posed, a, b);
  const back = coverOf(posed, b, a);
  if (!back) return own && { ...own, both: false };
  const alike = cosineOf(posed, a, b) > 0;
  const [up, down] = alike ? [back.down, back.up] : [back.up, back.down];
  if (!own) return { up, down, both: false };
  const least = (summit: Summit, other: Summit) => ({
    ...summit,
    height: Math.min(summit.height, other.height),
  });
  return { up: least(own.up, up), down: least(own.down, down), both: true };
}

/** Takes in how far off panel a stands on one side of panel b. */
function note(
  seen: Seen,
  { height, x, y }: Summit,
  side: 1 | -1,
  posed: PosedPanels,
  a: number,
  b: number,
  moment: number,
  began: number,
): void {
  if (height <= TOUCH) return;
  if (height > UNSEEN) seen.first = Math.min(seen.first, began);
  if (height <= seen.far) return;

  const [u, v] = seenFrom(posed, a, ...placeOver(posed, b, x, y, side * height));
  seen.far = height;
  seen.deepest = moment;
  seen.at = [
    [u, v],
    [x, y],
  ];
}

/** When a panel came over to the side on which it is now, between two looks at it; the later one where it did not. */
function cameOver(last: Pair['last'], now: Pair['last'], moment: number): number {
  if (!last || !now || last.moment >= moment || last.height * now.height > 0) return moment;
  return last.moment + ((moment - last.moment) * last.height) / (last.height - now.height);
}

/** What the layer order says counts as seen beyond doubt. */
function believe(seen: readonly [Seen, Seen], side: 1 | -1 | 0): void {
  if (side !== 0) seen[side > 0 ? 0 : 1].far = Number.POSITIVE_INFINITY;
}

function isSteep(posed: PosedPanels, a: number, b: number): boolean {
  return Math.abs(cosineOf(posed, a, b)) < STEEP;
}

function cosineOf({ normal: n }: PosedPanels, a: number, b: number): number {
  return n[3 * a]! * n[3 * b]! + n[3 * a + 1]! * n[3 * b + 1]! + n[3 * a + 2]! * n[3 * b + 2]!;
}
