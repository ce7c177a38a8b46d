/** The flat sheet as path data, and what lies under the pointer on it. Geometry only. */

import { type LineKind, lineKinds } from '../../core/sheet/kind.ts';
import { distanceToCrease, ringVertices } from '../../core/sheet/near.ts';
import { NONE, type Sheet } from '../../core/sheet/sheet.ts';
import { creaseLength, panelContaining } from '../../core/sheet/walk.ts';
import type { Selection } from '../../desk/store.ts';

/** Flat lines stop this share of their length short of a raw edge, at most this much of the sheet. */
const SHORT_SHARE = 0.12;
const SHORT_MOST = 0.014;

const number = (value: number) => Number(value.toFixed(5)).toString();

/** One path per kind of line; each crease is a stroke of its own, so that its dashes begin anew. */
export function linePaths(sheet: Sheet): Record<LineKind, string> {
  const parts: Record<LineKind, string[]> = {
    mountain: [],
    valley: [],
    unassigned: [],
    flat: [],
    edge: [],
    cut: [],
  };
  const onRim = rimVertices(sheet);
  for (let e = 0; e < sheet.creaseKind.length; e++) {
    const kind = lineKinds[sheet.creaseKind[e]!]!;
    if (kind === 'edge') continue;
    parts[kind].push(creasePath(sheet, e, kind === 'flat' ? onRim : null));
  }
  return {
    mountain: parts.mountain.join(''),
    valley: parts.valley.join(''),
    unassigned: parts.unassigned.join(''),
    flat: parts.flat.join(''),
    cut: parts.cut.join(''),
    edge: rimPath(sheet),
  };
}

/** One crease. Ends that lie on a raw edge are held back where `onRim` is given. */
export function creasePath(sheet: Sheet, crease: number, onRim: Uint8Array | null = null): string {
  const a = sheet.creaseFrom[crease]!;
  const b = sheet.creaseTo[crease]!;
  let [ax, ay, bx, by] = [sheet.vertexX[a]!, sheet.vertexY[a]!, sheet.vertexX[b]!, sheet.vertexY[b]!];
  if (onRim) {
    const part = Math.min(SHORT_SHARE, SHORT_MOST / (creaseLength(sheet, crease) || 1));
    const [dx, dy] = [(bx - ax) * part, (by - ay) * part];
    if (onRim[a]) [ax, ay] = [ax + dx, ay + dy];
    if (onRim[b]) [bx, by] = [bx - dx, by - dy];
  }
  return `M${number(ax)} ${number(ay)}L${number(bx)} ${number(by)}`;
}

/** The outline of the paper and of its holes, closed. */
export function rimPath(sheet: Sheet): string {
  const seen = new Uint8Array(sheet.halfEdgePanel.length);
  let path = '';
  for (let h = 0; h < seen.length; h++) {
    if (seen[h] || sheet.halfEdgePanel[h] !== NONE) continue;
    let k = h;
    do {
      seen[k] = 1;
      k = sheet.halfEdgeNext[k]!;
    } while (k !== h && !seen[k]);
    path += closedPath(sheet, ringVertices(sheet, h));
  }
  return path;
}

export function panelPath(sheet: Sheet, panel: number): string {
  return sheet.panelRings[panel]!.map((ring) => closedPath(sheet, ringVertices(sheet, ring))).join('');
}

function closedPath(sheet: Sheet, vertices: readonly number[]): string {
  return `M${vertices.map((v) => `${number(sheet.vertexX[v]!)} ${number(sheet.vertexY[v]!)}`).join('L')}Z`;
}

function rimVertices(sheet: Sheet): Uint8Array {
  const onRim = new Uint8Array(sheet.vertexX.length);
  for (let e = 0; e < sheet.creaseKind.length; e++) {
    if (lineKinds[sheet.creaseKind[e]!] !== 'edge') continue;
    onRim[sheet.creaseFrom[e]!] = 1;
    onRim[sheet.creaseTo[e]!] = 1;
  }
  return onRim;
}

/** The corner, crease or panel at a place of the flat sheet; `reach` in sheet units. */
export function pickOnSheet(sheet: Sheet, x: number, y: number, reach: number): Selection | null {
  let best = reach;
  let crease = NONE;
  for (let e = 0; e < sheet.creaseKind.length; e++) {
    const distance = distanceToCrease(sheet, e, x, y);
    if (distance < best) {
      best = distance;
      crease = e;
    }
  }
  if (crease !== NONE) return cornerOf(sheet, crease, x, y, reach) ?? { kind: 'crease', id: crease };
  const panel = panelContaining(sheet, x, y);
  return panel === NONE ? null : { kind: 'panel', id: panel };
}

/** Share of a crease, from either end, in which its corner is meant: the middle stays the crease's own. */
const CORNER_SHARE = 1 / 4;

function cornerOf(sheet: Sheet, crease: number, x: number, y: number, reach: number): Selection | null {
  const near = Math.min(reach, CORNER_SHARE * creaseLength(sheet, crease));
  const corner = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!].find(
    (v) => Math.hypot(sheet.vertexX[v]! - x, sheet.vertexY[v]! - y) < near,
  );
  return corner === undefined ? null : { kind: 'vertex', id: corner };
}

/** Middle length of the lines inside the sheet, by which dashes are scaled. */
export function typicalLength(sheet: Sheet): number {
  const lengths: number[] = [];
  for (let e = 0; e < sheet.creaseKind.length; e++)
    if (lineKinds[sheet.creaseKind[e]!] !== 'edge') lengths.push(creaseLength(sheet, e));
  lengths.sort((a, b) => a - b);
  return lengths[lengths.length >> 2] ?? 1;
}

/** Extent of the sheet's box, sheet units. */
export function sheetBox(sheet: Sheet): { width: number; height: number } {
  let [width, height] = [0, 0];
  for (const x of sheet.vertexX) width = Math.max(width, x);
  for (const y of sheet.vertexY) height = Math.max(height, y);
  return { width, height };
}

/** What lies no further aside than this share of how far it lies ahead counts as ahead. */
const QUARTER = 1.1;

/** The crease or panel next to the selected one in the direction of an arrow key. */
export function walkFrom(sheet: Sheet, from: Selection | null, dx: number, dy: number): Selection {
  const kind = from?.kind === 'panel' ? 'panel' : 'crease';
  const count = kind === 'panel' ? sheet.panelRings.length : sheet.creaseKind.length;
  if (!from || from.kind === 'vertex') return { kind: 'crease', id: 0 };
  const [x, y] = middle(sheet, from);
  let best = from;
  let least = Number.POSITIVE_INFINITY;
  for (let id = 0; id < count; id++) {
    if (id === from.id) continue;
    const [mx, my] = middle(sheet, { kind, id });
    const ahead = (mx - x) * dx + (my - y) * dy;
    const aside = Math.abs((mx - x) * dy - (my - y) * dx);
    if (ahead < 1e-9) continue;
    // the nearest within the arrow's own quarter of the compass, so that lines of every direction are met on the way
    const cost = aside <= QUARTER * ahead ? Math.hypot(ahead, aside) : 1 + ahead + 2.2 * aside;
    if (cost < least) {
      least = cost;
      best = { kind, id };
    }
  }
  return best;
}

/** A leap by arrow key and Shift, sheet units. */
const LEAP = 1 / 5;

/** The crease or panel that lies nearest to a place a good part of the sheet further in the direction of an arrow key. */
export function leapFrom(sheet: Sheet, from: Selection | null, dx: number, dy: number): Selection {
  if (!from || from.kind === 'vertex') return walkFrom(sheet, from, dx, dy);
  const { kind } = from;
  const count = kind === 'panel' ? sheet.panelRings.length : sheet.creaseKind.length;
  const [x, y] = middle(sheet, from);
  let best = from;
  let least = LEAP;
  for (let id = 0; id < count; id++) {
    const [mx, my] = middle(sheet, { kind, id });
    const off = Math.hypot(mx - x - LEAP * dx, my - y - LEAP * dy);
    if (off >= least) continue;
    least = off;
    best = { kind, id };
  }
  return best === from ? walkFrom(sheet, from, dx, dy) : best;
}

/** A place on the flat sheet that stands for a crease, panel or corner. */
function middle(sheet: Sheet, what: Selection): [number, number] {
  const vertices =
    what.kind === 'vertex'
      ? [what.id]
      : what.kind === 'crease'
        ? [sheet.creaseFrom[what.id]!, sheet.creaseTo[what.id]!]
        : ringVertices(sheet, sheet.panelRings[what.id]![0]!);
  const sum = (values: Float64Array) =>
    vertices.reduce((total, v) => total + values[v]!, 0) / vertices.length;
  return [sum(sheet.vertexX), sum(sheet.vertexY)];
}
