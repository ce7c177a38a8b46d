/** What has to move for a tuck to open. */
import { placePoint } from '../../pose/place.ts';
import { kindJoinsPanels } from '../../sheet/kind.ts';
import { NONE, type Sheet } from '../../sheet/sheet.ts';
import { panelArea, panelRing } from '../../sheet/walk.ts';
import { cross } from '../planes.ts';
import type { Parts } from './parts.ts';
import type { Tuck } from './pockets.ts';
import type { Folded } from './sides.ts';

/** Panels that swing on creases. */
export interface Mover {
  readonly panels: readonly number[];
  readonly creases: readonly number[];
}

/** The cuff of a pocket: cut along the line of the joining folds, the smaller piece of the sheet. */
export function cuffOf(folded: Folded, parts: Parts, own: readonly Tuck[]): Mover {
  const { sheet } = folded;
  const joints = [...new Set(own.flatMap(({ joints }) => joints))];
  const cut = creasesOnLine(folded, joints[0]!);
  const sides = new Set(
    own.flatMap(({ below, above }) => [below, above]).map((part) => parts.partOf.indexOf(part)),
  );
  const pieces: Set<number>[] = [];
  for (const panel of sides)
    if (!pieces.some((piece) => piece.has(panel))) pieces.push(pieceOf(sheet, panel, cut));
  pieces.sort((a, b) => areaOf(sheet, a) - areaOf(sheet, b));
  // a cuff of several leaves, as over a corner, comes apart in several pieces
  const cuff = pieces.slice(0, Math.max(1, pieces.length - 1)).flatMap((piece) => [...piece]);
  return { panels: cuff.sort((a, b) => a - b), creases: joints };
}

/**
 * The flap that a tab belongs to: a piece of the sheet with the tab on it and the pocket not, cut off along one straight
 * line of folds; the piece with most other tabs on it, of these the smallest. Null where there is none.
 */
export function flapOf(
  folded: Folded,
  parts: Parts,
  { tab, below, above }: Tuck,
  tabs: ReadonlySet<number>,
): Mover | null {
  const { sheet } = folded;
  const isPocket = (panel: number) => parts.partOf[panel] === below || parts.partOf[panel] === above;
  let best: { piece: Set<number>; cut: Set<number>; area: number; held: number } | null = null;
  const tried = new Set<number>();
  for (let h = 0; h < sheet.halfEdgePanel.length; h++) {
    const panel = sheet.halfEdgePanel[h]!;
    const crease = h >> 1;
    if (panel === NONE || parts.partOf[panel] !== tab || tried.has(crease)) continue;
    if (!kindJoinsPanels(sheet.creaseKind[crease]!) || sheet.halfEdgePanel[h ^ 1] === NONE) continue;
    const cut = creasesOnLine(folded, crease);
    for (const one of cut) tried.add(one);
    const piece = pieceOf(sheet, panel, cut);
    const area = areaOf(sheet, piece);
    const held = [...piece].filter((one) => tabs.has(parts.partOf[one]!)).length;
    if ([...piece].some(isPocket)) continue;
    if (best && (best.held > held || (best.held === held && best.area <= area))) continue;
    best = { piece, cut, area, held };
  }
  if (!best) return null;
  const { piece, cut } = best;
  const hinges = [...cut].filter((crease) => {
    const [p, q] = [sheet.halfEdgePanel[2 * crease]!, sheet.halfEdgePanel[2 * crease + 1]!];
    return p !== NONE && q !== NONE && piece.has(p) !== piece.has(q);
  });
  return { panels: [...piece].sort((a, b) => a - b), creases: hinges };
}

/** The panels that a flap hangs on. */
export function carrierOf({ sheet }: Folded, { panels, creases }: Mover): Mover {
  const own = new Set(panels);
  const carriers = creases.map((crease) => {
    const [p, q] = [sheet.halfEdgePanel[2 * crease]!, sheet.halfEdgePanel[2 * crease + 1]!];
    return own.has(p) ? q : p;
  });
  return { panels: [...new Set(carriers)].sort((a, b) => a - b), creases };
}

const areaOf = (sheet: Sheet, piece: Iterable<number>) =>
  [...piece].reduce((sum, panel) => sum + panelArea(sheet, panel), 0);

/** Creases that lie on the line of one of them, as folded. */
function creasesOnLine({ sheet, placement }: Folded, crease: number): Set<number> {
  const line = endsOf(sheet, placement, crease);
  return new Set(
    Array.from(sheet.creaseKind.keys()).filter((one) =>
      endsOf(sheet, placement, one).every((point) => offLine(line, point) < ON_LINE),
    ),
  );
}

const ON_LINE = 1e-6;
type Point = readonly [number, number, number];

function endsOf(sheet: Sheet, placement: Folded['placement'], crease: number): Point[] {
  const panel = Math.max(sheet.halfEdgePanel[2 * crease]!, sheet.halfEdgePanel[2 * crease + 1]!);
  const at = new Float64Array(3);
  return [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!].map((v) => {
    placePoint(at, 0, placement, panel, sheet.vertexX[v]!, sheet.vertexY[v]!);
    return [at[0]!, at[1]!, at[2]!];
  });
}

function offLine([a, b]: readonly Point[], p: Point): number {
  const u: Point = [b![0] - a![0], b![1] - a![1], b![2] - a![2]];
  return Math.hypot(...cross(u, [p[0] - a![0], p[1] - a![1], p[2] - a![2]])) / Math.hypot(...u);
}

/** Panels that hang together with one without crossing the given creases. */
function pieceOf(sheet: Sheet, start: number, cut: ReadonlySet<number>): Set<number> {
  const piece = new Set([start]);
  for (const panel of piece)
    for (const ring of sheet.panelRings[panel]!)
      for (const h of panelRing(sheet, ring)) {
        const beyond = sheet.halfEdgePanel[h ^ 1]!;
        if (beyond !== NONE && !cut.has(h >> 1) && kindJoinsPanels(sheet.creaseKind[h >> 1]!))
          piece.add(beyond);
      }
  return piece;
}
