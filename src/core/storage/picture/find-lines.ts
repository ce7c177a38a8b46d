/** Straight lines among ridge points: votes in angle and offset, the strongest first, its points taken out. */
import { along, beside, directionOf, type FittedLine, fitLine } from './line-fit.ts';
import { angleBetween, type Ridges, turned } from './ridges.ts';

/** Steps of the angle in a half turn, and of the offset in pixels, in which votes are counted. */
const ANGLES = 360;
const OFFSET = 2;
/** A point votes this far about its own direction, and lies on a line within this of its direction. */
const OWN_DIRECTION = (5 * Math.PI) / 180;
const NEAR_DIRECTION = (14 * Math.PI) / 180;
/** Points are looked at together over so many pixels; they leave a line when they lie this far beside it. */
const WINDOW = 8;
const OFF_LINE = 0.4;
/** More lines than this are not looked for. */
export const MOST_LINES = 2500;

interface FindOptions {
  /** Width at half height, pixels. */
  readonly width: number;
  /** Gaps up to this are joined, pixels. */
  readonly gap: number;
  readonly progress: (share: number) => void;
}

export function findLines(ridges: Ridges, diagonal: number, options: FindOptions): FittedLine[] {
  const finder = new LineFinder(ridges, diagonal, options);
  return finder.all();
}

class LineFinder {
  private readonly votes: Float32Array;
  private readonly offsets: number;
  private readonly alive: Uint8Array;
  private left: number;
  private readonly least: number;
  private readonly near: number;

  constructor(
    private readonly ridges: Ridges,
    private readonly diagonal: number,
    private readonly options: FindOptions,
  ) {
    this.offsets = Math.ceil((2 * diagonal) / OFFSET) + 3;
    this.votes = new Float32Array(ANGLES * this.offsets);
    this.alive = new Uint8Array(ridges.count).fill(1);
    this.left = ridges.count;
    this.least = Math.max(6, 2.2 * options.width);
    this.near = 0.5 + 0.35 * options.width;
    for (let p = 0; p < ridges.count; p++) if (ridges.sure[p]) this.vote(p, 1);
  }

  all(): FittedLine[] {
    const lines: FittedLine[] = [];
    const { votes } = this;
    const total = this.left;
    for (let tries = 0; tries < 2 * MOST_LINES && lines.length < MOST_LINES; tries++) {
      let best = 0;
      for (let cell = 1; cell < votes.length; cell++) if (votes[cell]! > votes[best]!) best = cell;
      if (votes[best]! < this.least * 0.6) break;
      const points = this.pointsAbout(best);
      const line = points && fitLine(points, this.ridges.x, this.ridges.y);
      if (line && points) {
        if (this.isEnough(points, line)) lines.push(line);
        this.takeOut(line);
      }
      // a heap of votes without a line is not looked at again
      if (!line) votes[best] = 0;
      this.options.progress(1 - this.left / total);
    }
    return lines;
  }

  private vote(p: number, weight: number): void {
    const { x, y, angle } = this.ridges;
    const step = Math.PI / ANGLES;
    const normal = turned(angle[p]! + Math.PI / 2);
    const reach = Math.round(OWN_DIRECTION / step);
    const middle = Math.round(normal / step);
    for (let k = middle - reach; k <= middle + reach; k++) {
      const at = (k + ANGLES) % ANGLES;
      const offset = x[p]! * Math.cos(at * step) + y[p]! * Math.sin(at * step);
      const place = (offset + this.diagonal) / OFFSET;
      const low = Math.floor(place);
      this.votes[at * this.offsets + low]! += weight * (1 - place + low);
      this.votes[at * this.offsets + low + 1]! += weight * (place - low);
    }
  }

  /** The points of the strongest line near a cell, without those beyond a gap; null where there are too few. */
  private pointsAbout(cell: number): number[] | null {
    const { x, y, angle, sure, count } = this.ridges;
    const step = Math.PI / ANGLES;
    const normal = Math.floor(cell / this.offsets) * step;
    const offset = (cell % this.offsets) * OFFSET - this.diagonal;
    const [cos, sin] = [Math.cos(normal), Math.sin(normal)];
    const reach = 2.5 * OFFSET;
    const about: number[] = [];
    for (let p = 0; p < count; p++) {
      if (!this.alive[p] || !sure[p] || Math.abs(x[p]! * cos + y[p]! * sin - offset) > reach) continue;
      if (angleBetween(angle[p]!, normal + Math.PI / 2) < NEAR_DIRECTION) about.push(p);
    }
    if (about.length < 3) return null;
    let points = this.strongest(about, normal, offset);
    for (let round = 0; round < 3; round++) {
      if (points.length < 3) return null;
      const line = fitLine(points, x, y);
      const wide = round === 0 ? 1.5 * this.near : this.near;
      points = this.longestRun(this.pointsOn(line, wide), line);
    }
    return points.length < 3 ? null : points;
  }

  /** The points on the best of many lines about a normal and an offset. */
  private strongest(about: readonly number[], normal: number, offset: number): number[] {
    const { x, y } = this.ridges;
    const step = Math.PI / ANGLES;
    // far points feel a small turn most: about their middle, turns and shifts are apart
    let [mx, my] = [0, 0];
    for (const p of about) [mx, my] = [mx + x[p]! / about.length, my + y[p]! / about.length];
    const cells = 40;
    const fine = 0.5;
    const counts = new Int32Array(cells);
    let best = { count: 0, normal, offset };
    for (let turn = -10; turn <= 10; turn++) {
      const a = normal + (turn * step) / 8;
      const [cos, sin] = [Math.cos(a), Math.sin(a)];
      const middle = offset + (mx * cos + my * sin - mx * Math.cos(normal) - my * Math.sin(normal));
      counts.fill(0);
      for (const p of about) {
        const at = Math.floor((x[p]! * cos + y[p]! * sin - middle) / fine + cells / 2);
        if (at >= 0 && at < cells) counts[at]!++;
      }
      for (let k = 1; k < cells - 1; k++) {
        const sum = counts[k - 1]! + counts[k]! + counts[k + 1]!;
        if (sum > best.count) best = { count: sum, normal: a, offset: middle + (k + 0.5 - cells / 2) * fine };
      }
    }
    const [cos, sin] = [Math.cos(best.normal), Math.sin(best.normal)];
    return about.filter((p) => Math.abs(x[p]! * cos + y[p]! * sin - best.offset) <= 1.5 * this.near);
  }

  private pointsOn(line: FittedLine, wide: number): number[] {
    const { x, y, angle, sure, count } = this.ridges;
    const direction = directionOf(line);
    const points: number[] = [];
    for (let p = 0; p < count; p++) {
      if (!this.alive[p] || Math.abs(beside(line, x[p]!, y[p]!)) > wide) continue;
      if (!sure[p] || angleBetween(angle[p]!, direction) < NEAR_DIRECTION) points.push(p);
    }
    return points;
  }

  /** Of the stretches between wide gaps, or where points leave the line for good, the one with most points. */
  private longestRun(points: number[], line: FittedLine): number[] {
    const { x, y } = this.ridges;
    const place = new Map(points.map((p) => [p, along(line, x[p]!, y[p]!)]));
    points.sort((a, b) => place.get(a)! - place.get(b)!);
    const leaves = this.leaving(points, line);
    let best: number[] = [];
    let run: number[] = [];
    for (const [k, p] of points.entries()) {
      const isBroken = k > 0 && place.get(p)! - place.get(points[k - 1]!)! > this.options.gap;
      if (isBroken || leaves[k]) run = [];
      if (!leaves[k]) run.push(p);
      if (run.length > best.length) best = run;
    }
    return best;
  }

  /** Points in windows that lie beside the line, two windows in a row: there begins another line. */
  private leaving(points: readonly number[], line: FittedLine): boolean[] {
    const { x, y } = this.ridges;
    const windows = new Map<number, { sum: number; count: number }>();
    const windowOf = (p: number) => Math.floor(along(line, x[p]!, y[p]!) / WINDOW);
    for (const p of points) {
      const known = windows.get(windowOf(p)) ?? { sum: 0, count: 0 };
      windows.set(windowOf(p), { sum: known.sum + beside(line, x[p]!, y[p]!), count: known.count + 1 });
    }
    const order = [...windows.keys()];
    const means = order.map((key) => windows.get(key)!.sum / windows.get(key)!.count);
    const isOff = means.map((mean) => Math.abs(mean) > OFF_LINE);
    const leaves = new Set(
      order.filter(
        (_, k) => isOff[k] && [k - 1, k + 1].some((next) => isOff[next] && means[next]! * means[k]! > 0),
      ),
    );
    return points.map((p) => leaves.has(windowOf(p)));
  }

  /** Points on enough different pixels along the line. */
  private isEnough(points: readonly number[], line: FittedLine): boolean {
    const { x, y } = this.ridges;
    const places = new Set(points.map((p) => Math.floor(along(line, x[p]!, y[p]!))));
    return places.size >= this.least;
  }

  private takeOut(line: FittedLine): void {
    const { x, y, angle, sure, count } = this.ridges;
    const direction = directionOf(line);
    const wide = this.near + 0.5 + 0.25 * this.options.width;
    for (let p = 0; p < count; p++) {
      if (!this.alive[p] || Math.abs(beside(line, x[p]!, y[p]!)) > wide) continue;
      const at = along(line, x[p]!, y[p]!);
      if (at < line.from - 1 || at > line.to + 1) continue;
      if (sure[p] && angleBetween(angle[p]!, direction) > 2 * NEAR_DIRECTION) continue;
      this.alive[p] = 0;
      this.left--;
      if (sure[p]) this.vote(p, -1);
    }
  }
}
