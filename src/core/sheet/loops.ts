/** The closed walks on which the rotations of a pose must cancel: one round each vertex and each hole of the paper. */
import { Groups } from '../numeric/plane.ts';
import { kindJoinsPanels } from './kind.ts';
import type { Sheet } from './sheet.ts';
import { NONE } from './sheet.ts';
import { creaseCount, creasesAround, halfEdgeEnd, isInterior, vertexCount } from './walk.ts';

export interface Loop {
  readonly kind: 'vertex' | 'hole';
  /** The vertex walked round, NONE for a hole. */
  readonly vertex: number;
  /**
   * The creases crossed, in counter-clockwise order, as half-edges that point away from the vertex or hole. A crease
   * that begins and ends at one hole is crossed twice, once in each direction.
   */
  readonly halfEdges: Int32Array;
}

/**
 * A full set of closed walks of the paper: one round each vertex that has paper all round, and one round each
 * connected group of raw edges and cuts inside the sheet. The group that holds the outline gives none.
 */
export function closureLoops(sheet: Sheet): Loop[] {
  const loops: Loop[] = [];
  for (let v = 0; v < vertexCount(sheet); v++) {
    if (isInterior(sheet, v)) loops.push({ kind: 'vertex', vertex: v, halfEdges: creasesAround(sheet, v) });
  }
  const gaps = new Groups(vertexCount(sheet));
  for (let e = 0; e < creaseCount(sheet); e++) {
    if (!kindJoinsPanels(sheet.creaseKind[e]!)) gaps.join(sheet.creaseFrom[e]!, sheet.creaseTo[e]!);
  }
  const outline = gaps.find(leftmostVertex(sheet));
  const walked = new Uint8Array(creaseCount(sheet) * 2);
  for (let h = 0; h < walked.length; h++) {
    if (walked[h] === 1 || kindJoinsPanels(sheet.creaseKind[h >> 1]!)) continue;
    // with the hole on the left there is paper on the right
    if (sheet.halfEdgePanel[h ^ 1] === NONE || gaps.find(halfEdgeEnd(sheet, h)) === outline) continue;
    loops.push({ kind: 'hole', vertex: NONE, halfEdges: walkRound(sheet, h, walked) });
  }
  return loops;
}

/** The outline passes through the leftmost vertex that has lines. */
function leftmostVertex(sheet: Sheet): number {
  let best = sheet.creaseFrom[0]!;
  for (const ends of [sheet.creaseFrom, sheet.creaseTo]) {
    for (const v of ends) if (sheet.vertexX[v]! < sheet.vertexX[best]!) best = v;
  }
  return best;
}

/** Walks round a hole with the hole on the left, and notes the creases that lead away from it. */
function walkRound(sheet: Sheet, first: number, walked: Uint8Array): Int32Array {
  const crossed: number[] = [];
  let along = first;
  do {
    walked[along] = 1;
    const around = creasesAround(sheet, halfEdgeEnd(sheet, along));
    let k = around.indexOf(along ^ 1);
    for (;;) {
      k = (k + 1) % around.length;
      const h = around[k]!;
      if (!kindJoinsPanels(sheet.creaseKind[h >> 1]!)) {
        along = h;
        break;
      }
      crossed.push(h);
    }
  } while (along !== first);
  return Int32Array.from(crossed);
}
