/**
 * A hierarchy of boxes over the panels, built once from where they lie on the flat sheet and refitted for every pose.
 * Neighbours on the sheet stay neighbours when it is folded, so the tree keeps its use; refitting is a single pass,
 * where an index for points that do not move would have to be built anew for each frame. Beside the box in the first
 * of two poses each node holds how far, at least and at most, its corners go along each axis: what two nodes do alike
 * brings them no nearer to each other, so that a whole flap swinging through space costs nothing.
 */
import type { PanelShapes, PosedPanels } from './shapes.ts';

export class BoxTree {
  /** Low x, y, z and high x, y, z of each node. Children come after their parent. */
  private readonly box: Float64Array;
  /** Least way along x, y, z of any corner, and most. */
  private readonly way: Float64Array;
  private readonly leafOf: Int32Array;
  /** Number of a node's second child; its first child is the next node. 0 for leaves. */
  private readonly second: Int32Array;
  private readonly panel: Int32Array;
  private readonly shapes: PanelShapes;
  private readonly waiting: number[] = [];

  constructor(shapes: PanelShapes) {
    this.shapes = shapes;
    const nodes = Math.max(0, 2 * shapes.panels - 1);
    this.box = new Float64Array(6 * nodes);
    this.way = new Float64Array(6 * nodes);
    this.leafOf = new Int32Array(shapes.panels);
    this.second = new Int32Array(nodes);
    this.panel = new Int32Array(nodes).fill(-1);
    const middles = middlesOf(shapes);
    const order = Int32Array.from({ length: shapes.panels }, (_, panel) => panel);
    if (nodes > 0) this.build(order, middles, 0, 0, order.length);
  }

  /** Splits panels lo..hi at the middle of their longer side; returns the next free node. */
  private build(order: Int32Array, middle: Float64Array, node: number, lo: number, hi: number): number {
    if (hi - lo === 1) {
      this.panel[node] = order[lo]!;
      this.leafOf[order[lo]!] = node;
      return node + 1;
    }
    const part = order.subarray(lo, hi);
    const spread = [0, 1].map((axis) => {
      let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
      for (const panel of part) {
        low = Math.min(low, middle[2 * panel + axis]!);
        high = Math.max(high, middle[2 * panel + axis]!);
      }
      return high - low;
    });
    const axis = spread[0]! >= spread[1]! ? 0 : 1;
    part.sort((a, b) => middle[2 * a + axis]! - middle[2 * b + axis]!);
    const half = (lo + hi) >> 1;
    const after = this.build(order, middle, node + 1, lo, half);
    this.second[node] = after;
    return this.build(order, middle, after, half, hi);
  }

  /** Takes in two poses; `margin` is added all round. */
  fit(from: PosedPanels, to: PosedPanels, margin: number): void {
    const { box, way, second, panel } = this;
    for (let node = second.length - 1; node >= 0; node--) {
      if (panel[node]! >= 0) {
        this.fitPanel(node, panel[node]!, from.corner, to.corner, margin / 2);
        continue;
      }
      const [a, b] = [6 * (node + 1), 6 * second[node]!];
      for (let k = 0; k < 3; k++) {
        box[6 * node + k] = Math.min(box[a + k]!, box[b + k]!);
        box[6 * node + 3 + k] = Math.max(box[a + 3 + k]!, box[b + 3 + k]!);
        way[6 * node + k] = Math.min(way[a + k]!, way[b + k]!);
        way[6 * node + 3 + k] = Math.max(way[a + 3 + k]!, way[b + 3 + k]!);
      }
    }
  }

  private fitPanel(node: number, panel: number, p: Float64Array, q: Float64Array, margin: number): void {
    const { box, way } = this;
    const o = 6 * node;
    const { first } = this.shapes;
    for (let k = 0; k < 3; k++) {
      let [low, high, least, most] = [1e300, -1e300, 1e300, -1e300];
      for (let c = 3 * first[panel]! + k; c < 3 * first[panel + 1]!; c += 3) {
        const at = p[c]!;
        const gone = q[c]! - at;
        if (at < low) low = at;
        if (at > high) high = at;
        if (gone < least) least = gone;
        if (gone > most) most = gone;
      }
      box[o + k] = low - margin;
      box[o + 3 + k] = high + margin;
      way[o + k] = least;
      way[o + 3 + k] = most;
    }
  }

  /** At least as long as the way that any point of one panel goes as the other sees it, in a straight line. */
  wayBetween(a: number, b: number): number {
    return this.relativeWay(6 * this.leafOf[a]!, 6 * this.leafOf[b]!);
  }

  private relativeWay(a: number, b: number): number {
    const { way } = this;
    let sum = 0;
    for (let k = 0; k < 3; k++) {
      const most = Math.max(way[a + 3 + k]! - way[b + k]!, way[b + 3 + k]! - way[a + k]!);
      sum += most * most;
    }
    return Math.sqrt(sum);
  }

  /** Every pair of panels whose boxes meet on the way, once, the lower number first. */
  pairs(found: (a: number, b: number) => void): void {
    const { second, panel, waiting } = this;
    if (second.length === 0) return;
    waiting.length = 0;
    waiting.push(0, 0);
    while (waiting.length > 0) {
      const m = waiting.pop()!;
      const n = waiting.pop()!;
      if (n === m) {
        if (second[n] === 0) continue;
        const [a, b] = [n + 1, second[n]!];
        waiting.push(a, a, b, b, a, b);
        continue;
      }
      if (!this.meet(n, m)) continue;
      const [nLeaf, mLeaf] = [second[n] === 0, second[m] === 0];
      if (nLeaf && mLeaf) {
        const [a, b] = [panel[n]!, panel[m]!];
        if (a < b) found(a, b);
        else found(b, a);
      } else if (mLeaf || (!nLeaf && this.girth(n) > this.girth(m))) {
        waiting.push(n + 1, m, second[n]!, m);
      } else waiting.push(n, m + 1, n, second[m]!);
    }
  }

  /** Do the boxes of two nodes meet at any moment? An arc of less than half a radian leaves its chord by an eighth. */
  private meet(n: number, m: number): boolean {
    const { box, way } = this;
    const [a, b] = [6 * n, 6 * m];
    let swing = -1;
    for (let k = 0; k < 3; k++) {
      // the nearer of the two may come up by this much of the other's way
      const above = box[a + k]! - box[b + 3 + k]!;
      const below = box[b + k]! - box[a + 3 + k]!;
      if (above <= 0 && below <= 0) continue;
      if (swing < 0) swing = this.relativeWay(a, b) / 8;
      if (above > 0 && above + way[a + k]! - way[b + 3 + k]! > swing && above > swing) return false;
      if (below > 0 && below + way[b + k]! - way[a + 3 + k]! > swing && below > swing) return false;
    }
    return true;
  }

  private girth(n: number): number {
    const { box } = this;
    const o = 6 * n;
    return box[o + 3]! - box[o]! + (box[o + 4]! - box[o + 1]!) + (box[o + 5]! - box[o + 2]!);
  }
}

function middlesOf({ panels, first, flat }: PanelShapes): Float64Array {
  const middle = new Float64Array(2 * panels);
  for (let panel = 0; panel < panels; panel++) {
    const count = first[panel + 1]! - first[panel]!;
    for (let c = first[panel]!; c < first[panel + 1]!; c++) {
      middle[2 * panel]! += flat[2 * c]! / count;
      middle[2 * panel + 1]! += flat[2 * c + 1]! / count;
    }
  }
  return middle;
}
