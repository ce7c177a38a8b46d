/**
 * The lines of a net that a straight edge has become when the net was drawn from it and others. Each edge is given a
 * path from the point its start has become to the point its end has become, so that the boundary of a panel stays
 * closed even where lines run nearer to each other than the tolerance.
 */
import Flatbush from 'flatbush';
import type { Net } from '../sheet/rings.ts';
import { lineIndexOf } from './line-index.ts';

export class NetPaths {
  private readonly points: Flatbush;

  /** @param snap points nearer to each other than this have become one */
  constructor(
    private readonly net: Net,
    private readonly snap: number,
  ) {
    this.points = new Flatbush(Math.max(1, net.x.length));
    for (let v = 0; v < net.x.length; v++) this.points.add(net.x[v]!, net.y[v]!);
    if (net.x.length === 0) this.points.add(0, 0);
    this.points.finish();
  }

  /** Lines of the net that the edge runs along, from its start to its end. */
  linesOf(x1: number, y1: number, x2: number, y2: number): number[] {
    const start = this.points.neighbors(x1, y1, 1)[0]!;
    const end = this.points.neighbors(x2, y2, 1)[0]!;
    if (start === end) return [];
    // points move when lines are joined: seldom by more than the snap length, never by much
    for (let reach = 3 * this.snap; reach < 1; reach *= 4) {
      const path = this.pathWithin(reach, start, end, [x1, y1, x2, y2]);
      if (path) return path;
    }
    return [];
  }

  /** The path that strays least, through points no further from the edge than `reach`. */
  private pathWithin(
    reach: number,
    start: number,
    end: number,
    [x1, y1, x2, y2]: readonly [number, number, number, number],
  ): number[] | null {
    const { net } = this;
    const length = Math.hypot(x2 - x1, y2 - y1);
    const [dx, dy] = [(x2 - x1) / length, (y2 - y1) / length];
    const off = (v: number) => Math.abs((net.x[v]! - x1) * dy - (net.y[v]! - y1) * dx);
    const along = (v: number) => (net.x[v]! - x1) * dx + (net.y[v]! - y1) * dy;
    const near = (v: number) => off(v) < reach && along(v) > -reach && along(v) < length + reach;
    const lines = new Set<number>();
    for (const { lines: some, end: until } of lineIndexOf(net).along(x1, y1, dx, dy, -reach, reach)) {
      for (const e of some) if (near(net.from[e]!) && near(net.to[e]!)) lines.add(e);
      if (until > length + reach) break;
    }
    const leaving = new Map<number, number[]>();
    for (const e of lines)
      for (const v of [net.from[e]!, net.to[e]!]) {
        const list = leaving.get(v);
        if (list) list.push(e);
        else leaving.set(v, [e]);
      }
    return shortestPath(net, leaving, start, end, (e, to) => {
      const size = Math.hypot(
        net.x[net.from[e]!]! - net.x[net.to[e]!]!,
        net.y[net.from[e]!]! - net.y[net.to[e]!]!,
      );
      return size + off(to);
    });
  }
}

/** Shortest path by cost (Dijkstra 1959), over the few lines along one edge. */
function shortestPath(
  net: Net,
  leaving: ReadonlyMap<number, readonly number[]>,
  start: number,
  end: number,
  costOf: (line: number, to: number) => number,
): number[] | null {
  const cost = new Map([[start, 0]]);
  const by = new Map<number, number>();
  const done = new Set<number>();
  const open = new Set([start]);
  while (open.size > 0) {
    let here = -1;
    for (const v of open) if (here < 0 || cost.get(v)! < cost.get(here)!) here = v;
    if (here === end) break;
    open.delete(here);
    done.add(here);
    for (const e of leaving.get(here) ?? []) {
      const to = net.from[e]! === here ? net.to[e]! : net.from[e]!;
      if (done.has(to)) continue;
      const through = cost.get(here)! + costOf(e, to);
      if (through >= (cost.get(to) ?? Number.POSITIVE_INFINITY)) continue;
      cost.set(to, through);
      by.set(to, e);
      open.add(to);
    }
  }
  if (!by.has(end)) return null;
  const path: number[] = [];
  for (let v = end; v !== start; ) {
    const e = by.get(v)!;
    path.push(e);
    v = net.from[e]! === v ? net.to[e]! : net.from[e]!;
  }
  return path.reverse();
}
