/** What has to move for a tuck to open. */
import { flatDot, type Point } from '../../numeric/vector.ts';
import { kindJoinsPanels } from '../../sheet/kind.ts';
import { NONE, type Sheet } from '../../sheet/sheet.ts';
import { panelArea, panelRing } from '../../sheet/walk.ts';
import type { PlaneGroup } from '../planes.ts';
import { endsOf, foldOf } from './lines.ts';
import { back, inPlane } from './measure.ts';
import type { Parts } from './parts.ts';
import { nameOf, type Tuck } from './pockets.ts';
import { Remembered } from './remembered.ts';
import type { Folded } from './sides.ts';

/** Panels that swing on creases. */
export interface Mover {
  readonly panels: readonly number[];
  readonly creases: readonly number[];
}

/**
 * The cuff of a pocket: cut along the line of the joining folds, the smaller piece of the sheet that leaves the tab where
 * it is. Null where nothing can swing on that line alone.
 */
export const cuffOf = (folded: Folded, parts: Parts, own: readonly Tuck[]): Mover | null =>
  cuffs.of(folded, nameOf(own), () => findCuff(folded, parts, own));

const cuffs = new Remembered<Mover | null>();

function findCuff(folded: Folded, parts: Parts, own: readonly Tuck[]): Mover | null {
  const { sheet } = folded;
  const joints = [...new Set(own.flatMap(({ joints }) => joints))];
  const cut = foldOf(folded, joints[0]!);
  const sides = new Set(
    own.flatMap(({ below, above }) => [below, above]).map((part) => parts.partOf.indexOf(part)),
  );
  const tabs = new Set(own.map(({ tab }) => tab));
  const pieces: Set<number>[] = [];
  for (const panel of sides)
    if (!pieces.some((piece) => piece.has(panel))) pieces.push(pieceOf(sheet, panel, cut));
  if (pieces.length < 2) return null;
  pieces.sort((a, b) => areaOf(sheet, a) - areaOf(sheet, b));
  const apart = pieces.filter((piece) => ![...piece].some((panel) => tabs.has(parts.partOf[panel]!)));
  // a cuff of several leaves, as over a corner, comes apart in several pieces
  const cuff = (apart.length < pieces.length ? apart : pieces.slice(0, -1)).flatMap((piece) => [...piece]);
  return cuff.length > 0 ? { panels: cuff.sort(ascending), creases: joints } : null;
}

interface FlapWishes {
  /** Parts that may not be on it. */
  readonly without: (part: number) => boolean;
  /** Parts of which it should have many. */
  readonly wanted?: (part: number) => boolean;
  /** Creases of the part along which it may be cut off. */
  readonly hinge?: (crease: number) => boolean;
}

/**
 * The flap that a part belongs to: a piece of the sheet with the part on it and nothing of what it is held by, cut off
 * along one straight line of folds; the piece with most wanted parts on it, of these the smallest. Null where there is
 * none.
 */
export function flapOf(
  folded: Folded,
  parts: Parts,
  tab: number,
  { without, wanted = () => false, hinge = () => true }: FlapWishes,
): Mover | null {
  const { sheet } = folded;
  let best: (Piece & { held: number }) | null = null;
  const tried = new Set<number>();
  for (const piece of piecesWith(folded, parts, tab)) {
    if (tried.has(piece.crease) || !hinge(piece.crease)) continue;
    for (const one of piece.cut) tried.add(one);
    if (piece.parts.some(without)) continue;
    const held = piece.parts.filter(wanted).length;
    if (best && (best.held > held || (best.held === held && best.area <= piece.area))) continue;
    best = { ...piece, held };
  }
  if (!best) return null;
  const { panels: piece, cut } = best;
  const hinges = [...cut].filter((crease) => {
    const [p, q] = [sheet.halfEdgePanel[2 * crease]!, sheet.halfEdgePanel[2 * crease + 1]!];
    return p !== NONE && q !== NONE && piece.has(p) !== piece.has(q);
  });
  return { panels: [...piece].sort(ascending), creases: hinges };
}

/** A piece of the sheet, cut off along the fold that one crease is part of. */
interface Piece {
  readonly crease: number;
  readonly cut: ReadonlySet<number>;
  readonly panels: ReadonlySet<number>;
  /** Part of each of its panels. */
  readonly parts: readonly number[];
  readonly area: number;
}

const pieces = new Remembered<readonly Piece[]>();

/** The pieces with a part on them that one fold along its boundary cuts off. */
const piecesWith = (folded: Folded, parts: Parts, part: number): readonly Piece[] =>
  pieces.of(folded, `${part}`, () => {
    const { sheet } = folded;
    return [...sheet.halfEdgePanel.keys()].flatMap((h): Piece[] => {
      const panel = sheet.halfEdgePanel[h]!;
      const crease = h >> 1;
      if (panel === NONE || parts.partOf[panel] !== part || sheet.halfEdgePanel[h ^ 1] === NONE) return [];
      if (!kindJoinsPanels(sheet.creaseKind[crease]!)) return [];
      const cut = foldOf(folded, crease);
      const panels = pieceOf(sheet, panel, cut);
      const onPiece = [...panels].map((one) => parts.partOf[one]!);
      return [{ crease, cut, panels, parts: onPiece, area: areaOf(sheet, panels) }];
    });
  });

const ascending = (a: number, b: number) => a - b;

/** Which way a flap's hinge lies from a place of the plane, square to the hinge, unit length. */
export function towardHinge(folded: Folded, plane: PlaneGroup, hinge: number, from: Point): Point {
  const [[ax, ay], [bx, by]] = endsOf(folded, hinge).map((end) => inPlane(plane, end)) as [Point, Point];
  const length = Math.hypot(bx - ax, by - ay);
  const normal: Point = [(by - ay) / length, (ax - bx) / length];
  return flatDot(normal, [ax - from[0], ay - from[1]]) < 0 ? back(normal) : normal;
}

/** The panels that a flap hangs on. */
export function carrierOf({ sheet }: Folded, { panels, creases }: Mover): Mover {
  const own = new Set(panels);
  const carriers = creases.map((crease) => {
    const [p, q] = [sheet.halfEdgePanel[2 * crease]!, sheet.halfEdgePanel[2 * crease + 1]!];
    return own.has(p) ? q : p;
  });
  return { panels: [...new Set(carriers)].sort(ascending), creases };
}

const areaOf = (sheet: Sheet, piece: Iterable<number>) =>
  [...piece].reduce((sum, panel) => sum + panelArea(sheet, panel), 0);

/** What moves first, with its share of the sheet's area. */
export const movedFirst = ({ sheet }: Folded, { panels, creases }: Mover) => ({
  first: { panels, creases },
  firstShare: areaOf(sheet, panels) / areaOf(sheet, sheet.panelRings.keys()),
});

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
