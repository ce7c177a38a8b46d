/**
 * The arrangement: strokes that cross, overlap, repeat and stop a hair short become lines that meet only at their
 * ends. Works in rounds until a round changes nothing:
 *   1. points nearer than the snap length become one;
 *   2. equal lines become one (which kind wins is decided by `precedence`);
 *   3. a point nearer than the snap length to a line is put on it, lines that cross get a point at the crossing,
 *      and all lines are split there.
 * Two rounds are enough for exact drawings: one to split, one to see that nothing is left.
 */
import Flatbush from 'flatbush';
import { groupNearPoints, hash, nextPower } from '../numeric/plane.ts';
import { cross } from '../numeric/predicates.ts';
import { ROUNDING } from '../numeric/tolerance.ts';
import { KIND } from './kind.ts';

/** Strokes in arrays: ends, kind and angle of each. */
export interface Strokes {
  readonly x1: Float64Array;
  readonly y1: Float64Array;
  readonly x2: Float64Array;
  readonly y2: Float64Array;
  readonly kind: Uint8Array;
  readonly angle: Float64Array;
}

/** Two strokes that lie on each other along one line from a to b; the loser is left out there. */
interface Overlap {
  readonly winner: number;
  readonly loser: number;
  readonly a: number;
  readonly b: number;
}

export interface Arrangement {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly from: Int32Array;
  readonly to: Int32Array;
  /** The stroke that each line came from. */
  readonly stroke: Int32Array;
  /** How far each point was moved in all, 0 for points that stayed. */
  readonly moved: Float64Array;
  /** Point that each stroke starts and ends at; equal where the stroke is too short to be drawn. */
  readonly strokeEnds: Int32Array;
  readonly overlaps: readonly Overlap[];
  /** False when there were more crossings than `limit` and the work was given up. */
  readonly complete: boolean;
}

/** More rounds than any drawing was seen to need; the rounds stop by themselves. */
const MOST_ROUNDS = 20;

/**
 * Arranges strokes.
 * @param snap points nearer than this become one; same unit as the coordinates
 * @param limit give up when the drawing has more crossings than this
 */
export function arrange(strokes: Strokes, snap: number, limit: number): Arrangement {
  const work = new Work(strokes, snap, limit);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    work.mergePoints();
    work.mergeLines();
    if (!work.split()) break;
  }
  return work.result();
}

/** Does stroke i win over stroke j where both lie on one line? Never depends on the order of the strokes alone. */
function winsOver(strokes: Strokes, i: number, j: number): boolean {
  const rank = precedence(strokes, i) - precedence(strokes, j);
  if (rank !== 0) return rank < 0;
  const longer = strokeLength(strokes, i) - strokeLength(strokes, j);
  if (Math.abs(longer) > ROUNDING) return longer > 0;
  if (strokes.kind[i] !== strokes.kind[j]) return strokes.kind[i]! < strokes.kind[j]!;
  const sharper = Math.abs(strokes.angle[i]!) - Math.abs(strokes.angle[j]!);
  return sharper !== 0 && !Number.isNaN(sharper) ? sharper > 0 : i < j;
}

/** Raw edges first, then cuts, folds with a given angle, folds, undecided lines, marks. */
function precedence(strokes: Strokes, i: number): number {
  switch (strokes.kind[i]) {
    case KIND.edge:
      return 0;
    case KIND.cut:
      return 1;
    case KIND.mountain:
    case KIND.valley:
      return Number.isNaN(strokes.angle[i]!) ? 3 : 2;
    case KIND.unassigned:
      return 4;
    default:
      return 5;
  }
}

function strokeLength(strokes: Strokes, i: number): number {
  return Math.hypot(strokes.x2[i]! - strokes.x1[i]!, strokes.y2[i]! - strokes.y1[i]!);
}

/** The state between rounds. */
class Work {
  complete = true;
  private x: Float64Array;
  private y: Float64Array;
  private moved: Float64Array;
  /** 1 for points that are new or moved since the last search: only their lines can meet anything anew. */
  private touched: Uint8Array;
  private from: Int32Array;
  private to: Int32Array;
  private stroke: Int32Array;
  private readonly strokeEnds: Int32Array;
  private readonly overlaps: Overlap[] = [];
  private readonly strokes: Strokes;
  private readonly snap: number;
  private readonly limit: number;

  constructor(strokes: Strokes, snap: number, limit: number) {
    this.strokes = strokes;
    this.snap = snap;
    this.limit = limit;
    const count = strokes.x1.length;
    this.x = new Float64Array(count * 2);
    this.y = new Float64Array(count * 2);
    for (let i = 0; i < count; i++) {
      this.x[2 * i] = strokes.x1[i]!;
      this.y[2 * i] = strokes.y1[i]!;
      this.x[2 * i + 1] = strokes.x2[i]!;
      this.y[2 * i + 1] = strokes.y2[i]!;
    }
    this.moved = new Float64Array(count * 2);
    this.touched = new Uint8Array(count * 2).fill(1);
    this.from = Int32Array.from({ length: count }, (_, i) => 2 * i);
    this.to = Int32Array.from({ length: count }, (_, i) => 2 * i + 1);
    this.stroke = Int32Array.from({ length: count }, (_, i) => i);
    this.strokeEnds = Int32Array.from({ length: count * 2 }, (_, k) => k);
  }

  result(): Arrangement {
    const { x, y, from, to, stroke, moved, strokeEnds, overlaps, complete } = this;
    return { x, y, from, to, stroke, moved, strokeEnds, overlaps, complete };
  }

  /** Makes points nearer than the snap length one. */
  mergePoints(): void {
    const { x, y, moved } = this;
    const count = x.length;
    const groups = groupNearPoints(x, y, count, this.snap);
    // corners of the outline stay put: where a group holds any, the rest comes to them
    const weight = new Float64Array(count).fill(1);
    for (let e = 0; e < this.from.length; e++) {
      if (this.strokes.kind[this.stroke[e]!] !== KIND.edge) continue;
      weight[this.from[e]!] = weight[this.to[e]!] = Number.POSITIVE_INFINITY;
    }
    const heavy = new Uint8Array(count);
    const size = new Int32Array(count);
    for (let p = 0; p < count; p++) if (weight[p] !== 1) heavy[groups.find(p)] = 1;
    const sumX = new Float64Array(count);
    const sumY = new Float64Array(count);
    for (let p = 0; p < count; p++) {
      const root = groups.find(p);
      if (heavy[root] === 1 && weight[p] === 1) continue;
      size[root]!++;
      sumX[root]! += x[p]! - x[root]!;
      sumY[root]! += y[p]! - y[root]!;
    }
    const number = new Int32Array(count).fill(-1);
    let fresh = 0;
    for (let p = 0; p < count; p++) if (groups.find(p) === p) number[p] = fresh++;
    if (fresh === count) return;
    const nx = new Float64Array(fresh);
    const ny = new Float64Array(fresh);
    const nmoved = new Float64Array(fresh);
    const ntouched = new Uint8Array(fresh);
    for (let p = 0; p < count; p++) {
      const root = groups.find(p);
      if (root !== p) continue;
      nx[number[p]!] = x[p]! + sumX[p]! / size[p]!;
      ny[number[p]!] = y[p]! + sumY[p]! / size[p]!;
    }
    for (let p = 0; p < count; p++) {
      const k = (number[p] = number[groups.find(p)]!);
      nmoved[k] = Math.max(nmoved[k]!, moved[p]! + Math.hypot(x[p]! - nx[k]!, y[p]! - ny[k]!));
      if (this.touched[p] === 1 || size[groups.find(p)]! > 1) ntouched[k] = 1;
    }
    this.x = nx;
    this.y = ny;
    this.moved = nmoved;
    this.touched = ntouched;
    for (let e = 0; e < this.from.length; e++) {
      this.from[e] = number[this.from[e]!]!;
      this.to[e] = number[this.to[e]!]!;
    }
    for (let k = 0; k < this.strokeEnds.length; k++) this.strokeEnds[k] = number[this.strokeEnds[k]!]!;
  }

  /** Drops lines that shrank to a point, and all but the strongest of lines with the same ends. */
  mergeLines(): void {
    const { from, to, stroke } = this;
    // open hash table of kept lines by their two ends
    const table = new Int32Array(nextPower(from.length * 2)).fill(-1);
    const mask = table.length - 1;
    let kept = 0;
    for (let e = 0; e < from.length; e++) {
      const a = from[e]!;
      const b = to[e]!;
      if (a === b) continue;
      let slot = hash(Math.min(a, b), Math.max(a, b)) & mask;
      let old = table[slot]!;
      while (old >= 0 && !((from[old] === a && to[old] === b) || (from[old] === b && to[old] === a))) {
        slot = (slot + 1) & mask;
        old = table[slot]!;
      }
      if (old < 0) {
        table[slot] = kept;
        from[kept] = a;
        to[kept] = b;
        stroke[kept++] = stroke[e]!;
      } else if (stroke[old] !== stroke[e]) {
        const wins = winsOver(this.strokes, stroke[e]!, stroke[old]!);
        const winner = wins ? stroke[e]! : stroke[old]!;
        this.overlaps.push({ winner, loser: wins ? stroke[old]! : stroke[e]!, a, b });
        if (!wins) continue;
        from[old] = a;
        to[old] = b;
        stroke[old] = winner;
      }
    }
    this.from = from.slice(0, kept);
    this.to = to.slice(0, kept);
    this.stroke = stroke.slice(0, kept);
  }

  /** Splits lines at points on them and at crossings; answers whether there were any. */
  split(): boolean {
    const found = this.findMeetings();
    const { onLine, onPoint, crossLine, crossX } = found;
    this.touched.fill(0);
    if (!this.complete || (onLine.length === 0 && crossX.length === 0)) return false;
    this.putPointsOnLines(onLine, onPoint);
    const base = this.x.length;
    this.x = joinFloats(this.x, found.crossX);
    this.y = joinFloats(this.y, found.crossY);
    this.moved = joinFloats(this.moved, new Array<number>(crossX.length).fill(0));
    const touched = new Uint8Array(this.x.length).fill(1, base);
    touched.set(this.touched);
    for (const p of onPoint) touched[p] = 1;
    this.touched = touched;
    for (let k = 0; k < crossX.length; k++) {
      onLine.push(crossLine[2 * k]!, crossLine[2 * k + 1]!);
      onPoint.push(base + k, base + k);
    }
    this.cut(onLine, onPoint);
    return true;
  }

  /** All pairs of a line and a point on it, and all crossings, by one search through a spatial index. */
  private findMeetings() {
    const { x, y, from, to, snap, touched } = this;
    const onLine: number[] = [];
    const onPoint: number[] = [];
    const crossLine: number[] = [];
    const crossX: number[] = [];
    const crossY: number[] = [];
    const count = from.length;
    const fresh = Uint8Array.from(from, (a, e) => touched[a]! | touched[to[e]!]!);
    if (!fresh.includes(1)) return { onLine, onPoint, crossLine, crossX, crossY };
    const index = new Flatbush(count);
    for (let e = 0; e < count; e++) {
      const a = from[e]!;
      const b = to[e]!;
      index.add(
        Math.min(x[a]!, x[b]!),
        Math.min(y[a]!, y[b]!),
        Math.max(x[a]!, x[b]!),
        Math.max(y[a]!, y[b]!),
      );
    }
    index.finish();
    const touch = (line: number, point: number): boolean => {
      if (!this.isOn(line, point)) return false;
      onLine.push(line);
      onPoint.push(point);
      return true;
    };
    let e = 0;
    // one function for all searches, reading e from outside: a fresh one each time would cost twice the time
    const visit = (f: number): boolean => {
      if (f === e || (f < e && fresh[f] === 1)) return false;
      const a = from[e]!;
      const b = to[e]!;
      const c = from[f]!;
      const d = to[f]!;
      let touches = false;
      if (c !== a && c !== b) touches = touch(e, c);
      if (d !== a && d !== b) touches = touch(e, d) || touches;
      if (a !== c && a !== d) touches = touch(f, a) || touches;
      if (b !== c && b !== d) touches = touch(f, b) || touches;
      if (touches || a === c || a === d || b === c || b === d) return false;
      const [ax, ay, bx, by] = [x[a]!, y[a]!, x[b]!, y[b]!];
      const [cx, cy, dx, dy] = [x[c]!, y[c]!, x[d]!, y[d]!];
      if (!cross(ax, ay, bx, by, cx, cy, dx, dy)) return false;
      const t =
        ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / ((bx - ax) * (dy - cy) - (by - ay) * (dx - cx));
      crossLine.push(e, f);
      crossX.push(ax + t * (bx - ax));
      crossY.push(ay + t * (by - ay));
      if (crossX.length > this.limit) this.complete = false;
      return false;
    };
    for (; e < count && this.complete; e++) {
      if (fresh[e] === 0) continue;
      const a = from[e]!;
      const b = to[e]!;
      index.search(
        Math.min(x[a]!, x[b]!) - snap,
        Math.min(y[a]!, y[b]!) - snap,
        Math.max(x[a]!, x[b]!) + snap,
        Math.max(y[a]!, y[b]!) + snap,
        visit,
      );
    }
    return { onLine, onPoint, crossLine, crossX, crossY };
  }

  /**
   * Is a point within the snap length of a line, and nearer to both its ends than they are to each other? The second
   * half means that splitting leaves shorter lines only, so that the rounds come to an end.
   */
  private isOn(line: number, point: number): boolean {
    const { x, y } = this;
    const a = this.from[line]!;
    const b = this.to[line]!;
    const dx = x[b]! - x[a]!;
    const dy = y[b]! - y[a]!;
    const px = x[point]! - x[a]!;
    const py = y[point]! - y[a]!;
    const square = dx * dx + dy * dy;
    const off = dx * py - dy * px;
    if (off * off > this.snap * this.snap * square) return false;
    const [qx, qy] = [px - dx, py - dy];
    return px * px + py * py < square && qx * qx + qy * qy < square;
  }

  /** Moves each point that may move onto the lines that it was found near. */
  private putPointsOnLines(onLine: readonly number[], onPoint: readonly number[]): void {
    const near = new Map<number, number[]>();
    for (let k = 0; k < onPoint.length; k++) {
      const list = near.get(onPoint[k]!);
      if (list === undefined) near.set(onPoint[k]!, [onLine[k]!]);
      else list.push(onLine[k]!);
    }
    const own = new Map<number, number[]>();
    for (let e = 0; e < this.from.length; e++) {
      for (const p of [this.from[e]!, this.to[e]!]) {
        if (!near.has(p)) continue;
        const list = own.get(p);
        if (list === undefined) own.set(p, [e]);
        else list.push(e);
      }
    }
    const goals: [number, number, number][] = [];
    for (const [p, lines] of near) {
      const goal = this.goalOnLines(p, lines, own.get(p) ?? []);
      if (goal !== null) goals.push([p, ...goal]);
    }
    for (const [p, gx, gy] of goals) {
      this.moved[p]! += Math.hypot(gx - this.x[p]!, gy - this.y[p]!);
      this.x[p] = gx;
      this.y[p] = gy;
    }
  }

  /**
   * Where point p goes so as to lie on the lines found near it; null when it stays and the lines come to it. A free
   * end runs on along its own line. A corner stays, for moving it would bend its lines; but the outline bends last.
   */
  private goalOnLines(p: number, lines: readonly number[], own: readonly number[]): [number, number] | null {
    const isEdge = (e: number) => this.strokes.kind[this.stroke[e]!] === KIND.edge;
    const edges = lines.filter(isEdge);
    if (own.some(isEdge) && edges.length === 0) return null;
    if (edges.length === 0 && this.spread(own)) return null;
    const targets = edges.length > 0 ? edges : lines;
    if (targets.every((e) => this.distance(e, p) <= ROUNDING)) return null;
    const first = targets.reduce((best, e) => (this.distance(e, p) < this.distance(best, p) ? e : best));
    const away = ([gx, gy]: [number, number]) => Math.hypot(gx - this.x[p]!, gy - this.y[p]!);
    // the shortest way that keeps another line straight, so that the order of lines does not matter
    for (const others of [targets, own]) {
      const goals = others.map((e) => this.meeting(first, e)).filter((goal) => goal !== null);
      const goal = goals.sort((g, h) => away(g) - away(h))[0];
      if (goal !== undefined && away(goal) <= 3 * this.snap) return goal;
    }
    return this.foot(first, p);
  }

  /** Do these lines run in more than one direction? */
  private spread(lines: readonly number[]): boolean {
    const first = lines[0];
    return first !== undefined && lines.some((e) => this.sine(first, e) > 1e-3);
  }

  private direction(e: number): [number, number] {
    const dx = this.x[this.to[e]!]! - this.x[this.from[e]!]!;
    const dy = this.y[this.to[e]!]! - this.y[this.from[e]!]!;
    const length = Math.hypot(dx, dy);
    return [dx / length, dy / length];
  }

  private sine(e: number, f: number): number {
    const [ex, ey] = this.direction(e);
    const [fx, fy] = this.direction(f);
    return Math.abs(ex * fy - ey * fx);
  }

  private distance(e: number, p: number): number {
    const [dx, dy] = this.direction(e);
    const a = this.from[e]!;
    return Math.abs(dx * (this.y[p]! - this.y[a]!) - dy * (this.x[p]! - this.x[a]!));
  }

  private foot(e: number, p: number): [number, number] {
    const [dx, dy] = this.direction(e);
    const a = this.from[e]!;
    const along = dx * (this.x[p]! - this.x[a]!) + dy * (this.y[p]! - this.y[a]!);
    return [this.x[a]! + along * dx, this.y[a]! + along * dy];
  }

  /** Where two lines meet when drawn on, or null when they are all but parallel. */
  private meeting(e: number, f: number): [number, number] | null {
    if (e === f || this.sine(e, f) < 1e-2) return null;
    const [ex, ey] = this.direction(e);
    const [fx, fy] = this.direction(f);
    const a = this.from[e]!;
    const c = this.from[f]!;
    const t = ((this.x[c]! - this.x[a]!) * fy - (this.y[c]! - this.y[a]!) * fx) / (ex * fy - ey * fx);
    return [this.x[a]! + t * ex, this.y[a]! + t * ey];
  }

  /** Cuts lines at the points found on them. */
  private cut(onLine: readonly number[], onPoint: readonly number[]): void {
    const { from, to, stroke } = this;
    const start = new Int32Array(from.length + 1);
    for (const e of onLine) start[e + 1]!++;
    for (let e = 0; e < from.length; e++) start[e + 1]! += start[e]!;
    const fill = start.slice();
    const points = new Int32Array(onLine.length);
    for (let k = 0; k < onLine.length; k++) points[fill[onLine[k]!]!++] = onPoint[k]!;
    const most = from.length + points.length;
    const newFrom = new Int32Array(most);
    const newTo = new Int32Array(most);
    const newStroke = new Int32Array(most);
    let count = 0;
    for (let e = 0; e < from.length; e++) {
      const on = points.subarray(start[e]!, start[e + 1]!);
      if (on.length > 1) this.sortAlong(e, on);
      let last = from[e]!;
      for (let k = 0; k <= on.length; k++) {
        const p = k < on.length ? on[k]! : to[e]!;
        if (p === last) continue;
        newFrom[count] = last;
        newTo[count] = p;
        newStroke[count++] = stroke[e]!;
        last = p;
      }
    }
    this.from = newFrom.slice(0, count);
    this.to = newTo.slice(0, count);
    this.stroke = newStroke.slice(0, count);
  }

  /** Sorts points from the start of a line to its end. */
  private sortAlong(line: number, points: Int32Array): void {
    const { x, y } = this;
    const a = this.from[line]!;
    const dx = x[this.to[line]!]! - x[a]!;
    const dy = y[this.to[line]!]! - y[a]!;
    const along = (p: number) => (x[p]! - x[a]!) * dx + (y[p]! - y[a]!) * dy;
    points.sort((p, q) => along(p) - along(q));
  }
}

function joinFloats(head: Float64Array, tail: readonly number[]): Float64Array {
  const all = new Float64Array(head.length + tail.length);
  all.set(head);
  all.set(tail, head.length);
  return all;
}
