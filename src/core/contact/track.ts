/**
 * Contact along the motion of one step: which panels pass through each other, when first, where and how deep, and on
 * which side the motion brings panels together.
 *
 * A pair that stands further apart than it can move before the next pose is safe. For any other, time is halved until
 * that holds, or a crossing shows, or the way that is left is too short to matter (UNSEEN). What lies between two
 * poses is a pose too (see TrackPoses), never a guess. Panels that come to lie on each other do not cross at any
 * moment even when one of them has gone through: their sides are watched as well (see Sides).
 */
import type { LayerOrder } from '../layer/problem.ts';
import { ARRIVED, PRESSED, STILL, TOUCH, UNSEEN } from '../numeric/tolerance.ts';
import type { TrackPose } from '../pose/track.ts';
import { kindJoinsPanels } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { bodiesOf } from './bodies.ts';
import { boxTree, onSheet } from './crossings.ts';
import { type Give, giveOf, type PaperFacts } from './give.ts';
import {
  apart,
  crossPair,
  keepsSide,
  type PairCrossing,
  planeGap,
  relativeMotion,
  turningMotion,
} from './pair.ts';
import { type PosedPanels, shareCrease, sharePoint } from './shapes.ts';
import { type MotionSides, Sides } from './sides.ts';
import { type Moment, TrackPoses } from './track-poses.ts';

interface ContactTask {
  readonly sheet: Sheet;
  /** Neighbours should lie within TRACK_STEP, as on the tracks that foldStep gives. */
  readonly poses: readonly TrackPose[];
  readonly still: number;
  /**
   * Layer orders at the start and the end of the step, where they are known: the motion is held against them. The one
   * at the end may depend on what the motion says.
   */
  readonly startOrder?: LayerOrder;
  readonly endOrder?: LayerOrder | ((sides: MotionSides) => LayerOrder);
  /** What the sheet is of, where it is known: by that paper gives. */
  readonly paper?: PaperFacts;
  /** Asked between two poses; once it says so nothing more of the way is watched. */
  readonly timeIsUp?: () => boolean;
}

export interface Contact {
  /** The lower number first. */
  readonly panels: readonly [number, number];
  /** The one of the two that goes further in the step. */
  readonly mover: number;
  /**
   * through: at some moment one panel is seen to pass through the other. side: none is, but it stands on the side where
   * the layers do not have it, while the two lie over each other.
   */
  readonly kind: 'through' | 'side';
  /** Moment at which it begins, 0 at the start of the step, 1 at its end. */
  readonly first: number;
  /** Deepest, sheet units, and the moment of that. */
  readonly depth: number;
  readonly deepest: number;
  /** Where it is deepest, on the flat sheet as each of the panels has it. */
  readonly at: readonly (readonly [number, number])[];
}

interface TrackContacts {
  /** Deepest first. */
  readonly contacts: readonly Contact[];
  /** Nothing is told where the way was not watched to its end. */
  readonly sides: MotionSides;
  /** Moment up to which the way was watched: 1, unless time was up. */
  readonly watched: number;
}

/**
 * Panels hinged on each other that lie on each other at the end: a fold lays one on the side of the other to which its
 * crease goes, all of it; where the crease has not moved they lie as before. @param sheet its creases, folded flat or not
 */
export function hingedSides(sheet: Sheet, poses: readonly TrackPose[]): Pick<MotionSides, 'pairs' | 'kept'> {
  const pairs: [number, number, 1 | -1][] = [];
  const kept: [number, number][] = [];
  const end = poses.at(-1)!.angle;
  for (let e = 0; e < sheet.creaseKind.length; e++) {
    const [f, g] = [sheet.halfEdgePanel[2 * e]!, sheet.halfEdgePanel[2 * e + 1]!];
    if (f === NONE || g === NONE || !kindJoinsPanels(sheet.creaseKind[e]!)) continue;
    if (Math.PI - Math.abs(end[e]!) > PRESSED) continue;
    if (poses.every(({ angle }) => Math.abs(angle[e]! - end[e]!) < ARRIVED)) kept.push([f, g]);
    else pairs.push([f, g, end[e]! > 0 ? 1 : -1]);
  }
  return { pairs, kept };
}

interface Through {
  first: number;
  depth: number;
  deepest: number;
  at: [number, number][];
  /** Way to the deepest moment, in poses (see TrackPoses). */
  way: number;
}

/** Halvings of the time between two poses. */
const MOST_HALVINGS = 12;
/** Panels that were in touch at both ends and the middle of this much of a piece stay in touch in between. */
const RESTING_HALVINGS = 3;
/** Steps in which the deepest moment is closed in on, each half as long as the one before. */
const DEEPENINGS = 9;
/** Blended poses wander a little more than straight from one end to the other. */
const WANDER = 1.25;
/** Boxes allow for turns of this many radians. */
const WIDEST_TURN = 0.5;
/**
 * Two intervals are watched as one piece where no panel turns by more than this in both, radians: a height then leaves
 * the parabola through its three values by turn^3 / (72 sqrt 3) of the panel's reach (error of interpolation), less than
 * UNSEEN.
 */
const TURN_OF_TWO = 0.2;

/** Contacts between the panels along a track, as far as time allows. */
export function contactsOfTrack(task: ContactTask): TrackContacts {
  const watch = new Watch(task);
  const last = task.poses.length - 1;
  for (let k = 0; k < last; k += 2) {
    if (task.timeIsUp?.()) return watch.end(k);
    watch.piece(k, Math.min(k + 2, last));
  }
  return watch.end();
}

/**
 * On which side the motion of a step brings panels together that lie on each other at its end. Orders are not asked for:
 * this is what tells them.
 */
export function sidesOfTrack(task: Omit<ContactTask, 'startOrder' | 'endOrder'>): MotionSides {
  return contactsOfTrack(task).sides;
}

class Watch {
  private readonly poses: TrackPoses;
  private readonly sides: Sides;
  private readonly crossing = new Map<number, Through>();
  /** Pairs that cross at the end of the interval before. */
  private crossingNow = new Set<number>();
  private readonly panels: number;
  private readonly give: Give;
  private readonly body: Int32Array;
  private readonly start: PosedPanels;

  constructor(private readonly task: ContactTask) {
    const { sheet, poses, still, paper } = task;
    this.poses = new TrackPoses(sheet, poses, still);
    this.give = giveOf(this.poses.shapes, paper);
    this.body = bodiesOf(sheet, poses);
    this.panels = this.poses.shapes.panels;
    this.start = this.poses.at(0);
    const { start } = this;
    this.sides = new Sides(start, task.startOrder ?? [], this.give);
    const tree = boxTree(this.poses.shapes);
    tree.fit(start, start, TOUCH);
    tree.pairs((a, b) => {
      if (shareCrease(this.poses.shapes, a, b)) return;
      const crossing = crossPair(start, a, b);
      if (crossing) this.note(a, b, 0, crossing);
      if (crossing) this.crossingNow.add(this.key(a, b));
      this.sides.begin(a, b);
    });
  }

  private key(a: number, b: number): number {
    return a * this.panels + b;
  }

  /** A part of the way, of two intervals at most; in halves where panels turn by more than it takes to follow them. */
  piece(from: number, to: number): void {
    this.poses.forgetBefore(from);
    const [p, q] = [this.poses.at(from), this.poses.at(to)];
    if (this.isWide(from, to)) {
      const middle = (from + to) / 2;
      this.piece(from, middle);
      this.piece(middle, to);
      return;
    }
    const { shapes } = this.poses;
    const tree = boxTree(shapes);
    tree.fit(p, q, 2 * TOUCH);
    const near = new Set<number>();
    const crossing = new Set<number>();
    const close: [number, number, number][] = [];
    const look = (a: number, b: number) => {
      const key = this.key(a, b);
      near.add(key);
      if (this.body[a] === this.body[b]) {
        if (this.crossingNow.has(key)) crossing.add(key);
        return;
      }
      const watched = this.crossingNow.has(key) || this.sides.isDoubtful(key);
      const gap = planeGap(p, a, b);
      const atMost = sharePoint(shapes, a, b) ? turningMotion(p, q, a, b) : tree.wayBetween(a, b);
      if (!watched && gap > TOUCH + WANDER * atMost) {
        this.sides.leave(a, b);
        return;
      }
      const way = relativeMotion(p, q, a, b);
      if (way < STILL) {
        if (this.crossingNow.has(key)) crossing.add(key);
      } else if (gap > TOUCH + WANDER * way && !watched) this.sides.leave(a, b);
      else close.push([a, b, WANDER * way]);
    };
    tree.pairs((a, b) => {
      if (!shareCrease(shapes, a, b)) look(a, b);
    });
    for (const key of this.sides.doubtful())
      if (!near.has(key)) look(Math.floor(key / this.panels), key % this.panels);
    for (const [a, b, way] of close) {
      if (this.follow(from, to, a, b, way)) crossing.add(this.key(a, b));
      for (let part = from; part < to; part = Math.min(to, Math.floor(part) + 1)) {
        const next = Math.min(to, Math.floor(part) + 1);
        this.sides.watch(a, b, this.momentAt(part), this.momentAt(next), () => this.poses.before(part));
      }
    }
    this.sides.keepOnly(near);
    this.crossingNow = crossing;
  }

  private momentAt(way: number): Moment {
    return { posed: this.poses.at(way), moment: this.poses.moment(way) };
  }

  private isWide(from: number, to: number): boolean {
    const turn = largestTurn(this.poses.at(from).placement.rotation, this.poses.at(to).placement.rotation);
    if (to - from <= 1) return turn > WIDEST_TURN && to - from > 1 / 16;
    return turn > TURN_OF_TWO || Math.abs(this.shareOfMiddle(from, to) - 0.5) > 0.1;
  }

  /** When the pose half-way is reached, as a share of a piece's time: poses need not follow one another evenly. */
  private shareOfMiddle(from: number, to: number): number {
    const [start, end] = [this.poses.moment(from), this.poses.moment(to)];
    return (this.poses.moment((from + to) / 2) - start) / (end - start);
  }

  /** Does one of two panels keep to a side of the other's plane in a piece of the way? */
  private keepsSide(from: number, to: number, a: number, b: number): boolean {
    const middle = { posed: this.poses.at((from + to) / 2), share: this.shareOfMiddle(from, to) };
    return keepsSide(this.poses.at(from), middle, this.poses.at(to), a, b);
  }

  /** Looks for crossings of a pair in a piece of the way; says whether it crosses at the end of it. */
  private follow(from: number, to: number, a: number, b: number, way: number): boolean {
    const [p, q] = [this.poses.at(from), this.poses.at(to)];
    const crossedBefore = this.crossingNow.has(this.key(a, b));
    if (!crossedBefore && this.keepsSide(from, to, a, b)) return false;
    const gap = crossedBefore ? 0 : apart(p, a, b, way);
    if (!crossedBefore && gap >= way) return false;
    const after = crossPair(q, a, b);
    if (after) this.note(a, b, crossedBefore ? to : this.firstCrossing(from, to, a, b), after, to);
    if (!crossedBefore && !after) {
      this.search(from, to, a, b, gap, 0);
      return false;
    }
    const middle = (from + to) / 2;
    const half = crossPair(this.poses.at(middle), a, b);
    if (half) this.note(a, b, middle, half);
    return after !== null;
  }

  /** Looks for a crossing between two moments at which there is none. */
  private search(from: number, to: number, a: number, b: number, gap: number, level: number): void {
    const [p, q] = [this.poses.at(from), this.poses.at(to)];
    const way = WANDER * relativeMotion(p, q, a, b);
    if (way < UNSEEN || level >= MOST_HALVINGS || gap >= way) return;
    const gapAfter = apart(q, a, b, way);
    if (gap + gapAfter >= way) return;
    if (this.keepsSide(from, to, a, b)) return;
    const middle = (from + to) / 2;
    const m = this.poses.at(middle);
    const crossing = crossPair(m, a, b);
    if (crossing) {
      this.note(a, b, this.firstCrossing(from, middle, a, b), crossing, middle);
      return;
    }
    const gapMiddle = apart(m, a, b, way);
    if (level >= RESTING_HALVINGS && Math.max(gap, gapMiddle, gapAfter) < TOUCH) return;
    this.search(from, middle, a, b, gap, level + 1);
    this.search(middle, to, a, b, gapMiddle, level + 1);
  }

  /** Way to the first moment of a crossing that is there at `to` and not at `from`. */
  private firstCrossing(from: number, to: number, a: number, b: number): number {
    if (to - from <= 0.5 ** MOST_HALVINGS) return to;
    const middle = (from + to) / 2;
    return crossPair(this.poses.at(middle), a, b)
      ? this.firstCrossing(from, middle, a, b)
      : this.firstCrossing(middle, to, a, b);
  }

  /** @param way when it begins or is still there; `deepestWay`: when it is as deep as given */
  private note(a: number, b: number, way: number, { depth, place }: PairCrossing, deepestWay = way): void {
    const key = this.key(a, b);
    const known = this.crossing.get(key);
    if (known && known.depth >= depth) return;
    const posed = this.poses.at(deepestWay);
    const deepest = this.poses.moment(deepestWay);
    const found = { depth, deepest, at: onSheet(posed, [a, b], place), way: deepestWay };
    if (known) Object.assign(known, found);
    else this.crossing.set(key, { first: this.poses.moment(way), ...found });
  }

  /** Closes in on the deepest moment of a crossing from the deepest seen so far, a pose to either side. */
  private deepen(a: number, b: number, through: Through): void {
    let reach = 0.5;
    for (let step = 0; step < DEEPENINGS; step++, reach /= 2)
      for (const way of [through.way - reach, through.way + reach]) {
        if (way < 0 || way > this.poses.count - 1) continue;
        const posed = this.poses.anywhere(way);
        const crossing = crossPair(posed, a, b);
        if (!crossing || crossing.depth <= through.depth) continue;
        const deepest = this.poses.moment(way);
        const at = onSheet(posed, [a, b], crossing.place);
        Object.assign(through, { depth: crossing.depth, deepest, at, way });
      }
  }

  /** @param reached the pose up to which the way was watched; left out: all of it */
  end(reached = this.poses.count - 1): TrackContacts {
    for (const [key, through] of this.crossing)
      this.deepen(Math.floor(key / this.panels), key % this.panels, through);
    const last = this.poses.at(this.poses.count - 1);
    const whole = reached === this.poses.count - 1;
    const sides = whole ? this.sides.told() : untold;
    const { endOrder = [] } = this.task;
    const order = typeof endOrder === 'function' ? endOrder(sides) : endOrder;
    const wrong = whole ? this.sides.end(last, order) : [];
    const contacts = new Map<number, Contact>();
    const { start } = this;
    const mover = ([a, b]: readonly [number, number]) =>
      wayOf(start, last, b) > wayOf(start, last, a) ? b : a;
    for (const [key, { first, depth, deepest, at }] of this.crossing) {
      const panels = [Math.floor(key / this.panels), key % this.panels] as const;
      if (depth > UNSEEN)
        contacts.set(key, { panels, mover: mover(panels), kind: 'through', first, depth, deepest, at });
    }
    for (const contact of wrong) {
      const key = this.key(...contact.panels);
      const known = contacts.get(key);
      // how far off it stands once it is through says nothing where it is seen passing
      if (known && known.depth > this.give(...contact.panels)) continue;
      const first = Math.min(contact.first, known?.first ?? 1);
      if (!known || known.depth < contact.depth)
        contacts.set(key, { ...contact, mover: mover(contact.panels), kind: known?.kind ?? 'side', first });
    }
    const watched = whole ? 1 : this.poses.moment(reached);
    return { contacts: [...contacts.values()].sort((p, q) => q.depth - p.depth), sides, watched };
  }
}

const untold: MotionSides = { pairs: [], clearance: [], kept: [] };

/** Furthest way of any corner of a panel. */
function wayOf(from: PosedPanels, to: PosedPanels, panel: number): number {
  const { first } = from.shapes;
  let most = 0;
  for (let c = first[panel]!; c < first[panel + 1]!; c++) {
    let sum = 0;
    for (let k = 3 * c; k < 3 * c + 3; k++) sum += (from.corner[k]! - to.corner[k]!) ** 2;
    most = Math.max(most, sum);
  }
  return most;
}

/** Largest angle, radians, by which any panel turns between two placements. */
function largestTurn(p: Float64Array, q: Float64Array): number {
  let least = 1;
  for (let i = 0; i < p.length; i += 4)
    least = Math.min(
      least,
      p[i]! * q[i]! + p[i + 1]! * q[i + 1]! + p[i + 2]! * q[i + 2]! + p[i + 3]! * q[i + 3]!,
    );
  return 2 * Math.acos(Math.max(-1, least));
}
