/**
 * The rules that a crease pattern must obey in its finished state, vertex by vertex and hole by hole. Vertices whose
 * folds all finish flat are judged by the single-vertex rules; others by closure: going round counter-clockwise the
 * fold rotations about the flat crease directions compose to nothing. In quaternions the product must be +1; -1 is a
 * whole turn too much, which paper can only reach by passing through itself.
 */
import type { Finding } from '../finding/finding.ts';
import { finding } from '../finding/finding.ts';
import type { PatternPlace } from '../finding/values/place.ts';
import { multiply, setFoldTurn, turn } from '../numeric/rotation.ts';
import { DRAWN } from '../numeric/tolerance.ts';
import type { FlatVerdict, Turn } from './flat-vertex.ts';
import { judgeFlatVertex } from './flat-vertex.ts';
import { KIND, kindFolds } from './kind.ts';
import type { Loop } from './loops.ts';
import { closureLoops } from './loops.ts';
import type { Sheet } from './sheet.ts';
import { creasesAround, halfEdgeDirection, halfEdgeOrigin, isInterior, vertexCount } from './walk.ts';

/** Undecided creases are tried both ways up to this many at one vertex of a model that does not finish flat. */
const MOST_TRIED = 10;

/** Checks every vertex with paper all round, and every hole, at the finished angles. */
export function checkSheet(sheet: Sheet): Finding[] {
  const found: Finding[] = [];
  for (let v = 0; v < vertexCount(sheet); v++) {
    if (!isInterior(sheet, v)) continue;
    const folds = creasesAround(sheet, v).filter((h) => isFolded(sheet, h >> 1));
    if (folds.every((h) => isHalfTurn(sheet, h >> 1))) found.push(...flatRules(sheet, v, folds));
    else found.push(...closureAt(sheet, v, folds));
  }
  for (const loop of closureLoops(sheet)) if (loop.kind === 'hole') found.push(...closureRound(sheet, loop));
  return found;
}

/** Finished angle of a crease, radians; half turns where a mountain or valley names none; NaN where undecided. */
export function finishedAngle(sheet: Sheet, crease: number): number {
  const given = sheet.creaseAngle[crease]!;
  const kind = sheet.creaseKind[crease]!;
  if (!kindFolds(kind)) return 0;
  if (!Number.isNaN(given)) return given;
  return kind === KIND.mountain ? -Math.PI : kind === KIND.valley ? Math.PI : Number.NaN;
}

function isFolded(sheet: Sheet, crease: number): boolean {
  return !(Math.abs(finishedAngle(sheet, crease)) < DRAWN);
}

function isHalfTurn(sheet: Sheet, crease: number): boolean {
  const angle = finishedAngle(sheet, crease);
  return Number.isNaN(angle) || Math.abs(Math.abs(angle) - Math.PI) < DRAWN;
}

function place(sheet: Sheet, vertex: number): [number, number] {
  return [sheet.vertexX[vertex]!, sheet.vertexY[vertex]!];
}

/** A corner as findings tell it, in the input's unit. */
function cornerPlace({ frame, vertexX, vertexY }: Sheet, vertex: number): PatternPlace {
  const at = [frame.x + frame.scale * vertexX[vertex]!, frame.y + frame.scale * vertexY[vertex]!] as const;
  return { at, size: frame.scale };
}

const degrees = (radians: number) => (radians * 180) / Math.PI;

/** Sectors between folded creases, in the order given, from each to the next. */
function sectorsBetween(sheet: Sheet, folds: Int32Array): number[] {
  return Array.from(folds, (h, k) => {
    const next = folds[(k + 1) % folds.length]!;
    const angle = halfEdgeDirection(sheet, next) - halfEdgeDirection(sheet, h);
    return angle > 0 ? angle : angle + 2 * Math.PI;
  });
}

function flatRules(sheet: Sheet, vertex: number, folds: Int32Array): Finding[] {
  const turns = Array.from(folds, (h): Turn => {
    const angle = finishedAngle(sheet, h >> 1);
    return Number.isNaN(angle) ? 0 : angle > 0 ? 1 : -1;
  });
  return judgeFlatVertex(sectorsBetween(sheet, folds), turns, DRAWN).flatMap((verdict) =>
    flatFinding(sheet, vertex, folds, verdict),
  );
}

function flatFinding(sheet: Sheet, vertex: number, folds: Int32Array, verdict: FlatVerdict): Finding[] {
  const corner = { place: cornerPlace(sheet, vertex) };
  const where = { vertices: [vertex], at: [place(sheet, vertex)] };
  const creases = Array.from(folds, (h) => h >> 1);
  switch (verdict.rule) {
    case 'folds':
      return [];
    case 'odd-degree': {
      const folds = verdict.degree;
      return [
        finding('vertex-odd-degree', 'error', { ...corner, folds }, { value: folds, ...where, creases }),
      ];
    }
    case 'angle-sum': {
      const sum = degrees(Math.PI + verdict.excess);
      return [
        finding(
          'vertex-angle-sum',
          'error',
          { ...corner, sum },
          {
            value: Math.abs(verdict.excess),
            limit: DRAWN,
            ...where,
            creases,
          },
        ),
      ];
    }
    case 'count': {
      const { mountains, valleys } = verdict;
      const facts = { value: Math.abs(mountains - valleys), limit: 2, ...where, creases };
      return [finding('vertex-mountain-valley-count', 'error', { ...corner, mountains, valleys }, facts)];
    }
    case 'small-angle': {
      return [
        finding('vertex-small-angle', 'error', corner, {
          ...where,
          creases: verdict.creases.map((k) => folds[k]! >> 1),
        }),
      ];
    }
  }
}

/** Closure at a vertex; with undecided creases the choice that closes best counts. */
function closureAt(sheet: Sheet, vertex: number, folds: Int32Array): Finding[] {
  const left = leastRotation(sheet, folds);
  if (Number.isNaN(left) || left <= DRAWN) return [];
  const corner = cornerPlace(sheet, vertex);
  const told =
    left > 2 * Math.PI - 1e-3
      ? ({ how: 'through-itself', place: corner } as const)
      : ({ how: 'left-over', place: corner, left: degrees(left) } as const);
  return [
    finding('vertex-closure', 'error', told, {
      value: left,
      limit: DRAWN,
      vertices: [vertex],
      creases: Array.from(folds, (h) => h >> 1),
      at: [place(sheet, vertex)],
    }),
  ];
}

function leastRotation(sheet: Sheet, folds: Int32Array): number {
  const angles = Array.from(folds, (h) => finishedAngle(sheet, h >> 1));
  const open = [...angles.keys()].filter((k) => Number.isNaN(angles[k]!));
  if (open.length > MOST_TRIED) return Number.NaN;
  let least = Number.POSITIVE_INFINITY;
  for (let choice = 0; choice < 1 << open.length; choice++) {
    open.forEach((k, bit) => {
      angles[k] = (choice >> bit) & 1 ? Math.PI : -Math.PI;
    });
    least = Math.min(least, roundMotion(sheet, folds, angles).rotation);
  }
  return least;
}

/** Closure round a hole: rotation and shift. Left alone while a crease at it is undecided. */
function closureRound(sheet: Sheet, loop: Loop): Finding[] {
  const angles = Array.from(loop.halfEdges, (h) => finishedAngle(sheet, h >> 1));
  if (angles.some(Number.isNaN)) return [];
  const { rotation, gap } = roundMotion(sheet, loop.halfEdges, angles);
  if (rotation <= DRAWN && gap <= DRAWN) return [];
  const corners = Array.from(loop.halfEdges, (h) => halfEdgeOrigin(sheet, h));
  const left = { left: degrees(rotation), gap: gap * sheet.frame.scale };
  const told = { how: 'left-over', place: cornerPlace(sheet, corners[0]!), ...left } as const;
  return [
    finding('hole-closure', 'error', told, {
      value: Math.max(rotation, gap),
      limit: DRAWN,
      vertices: [...new Set(corners)],
      creases: [...new Set(Array.from(loop.halfEdges, (h) => h >> 1))],
      at: corners.map((v) => place(sheet, v)),
    }),
  ];
}

/**
 * The motion that is left after crossing creases in order, each turned by its angle about its flat line.
 * @returns rotation in radians, 0 to a full turn; gap, the largest shift of any crossing point, in sheet units
 */
function roundMotion(
  sheet: Sheet,
  halfEdges: Int32Array,
  angles: readonly number[],
): { rotation: number; gap: number } {
  const total = Float64Array.of(0, 0, 0, 1);
  const one = new Float64Array(4);
  const shift = new Float64Array(3);
  const moved = new Float64Array(3);
  halfEdges.forEach((h, k) => {
    const direction = halfEdgeDirection(sheet, h);
    const [px, py] = place(sheet, halfEdgeOrigin(sheet, h));
    setFoldTurn(one, 0, Math.cos(direction), Math.sin(direction), angles[k]!);
    // x -> total(p + one(x - p)) + shift
    turn(moved, 0, total, 0, px, py, 0);
    for (let i = 0; i < 3; i++) shift[i]! += moved[i]!;
    multiply(total, 0, total, 0, one, 0);
    turn(moved, 0, total, 0, px, py, 0);
    for (let i = 0; i < 3; i++) shift[i]! -= moved[i]!;
  });
  let gap = 0;
  for (const h of halfEdges) {
    const [px, py] = place(sheet, halfEdgeOrigin(sheet, h));
    turn(moved, 0, total, 0, px, py, 0);
    gap = Math.max(
      gap,
      Math.hypot(moved[0]! + shift[0]! - px, moved[1]! + shift[1]! - py, moved[2]! + shift[2]!),
    );
  }
  return { rotation: 2 * Math.atan2(Math.hypot(total[0]!, total[1]!, total[2]!), total[3]!), gap };
}
