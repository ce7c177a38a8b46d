/**
 * The numbers of vertices, creases and panels, kept in a lesson. Strokes alone are numbered as they are read; a pattern
 * that came with numbers of its own (a graph from a file, a drawing whose strokes were cut) keeps them by naming its
 * vertices, creases and panels in their order.
 */

import type { Finding } from '../finding/finding.ts';
import { REFRAMED } from '../numeric/tolerance.ts';
import { cornerInPattern } from '../sheet/frame.ts';
import type { Graph } from '../sheet/from-graph.ts';
import { sheetFromGraph } from '../sheet/from-graph.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { halfEdgeOrigin, panelRing } from '../sheet/walk.ts';
import type { Lesson, PatternNumbers } from './lesson.ts';
import { segmentsOfLesson } from './strokes.ts';

/** The numbers of a sheet, in pattern units. */
export function numbersOf(sheet: Sheet): PatternNumbers {
  return {
    vertices: Array.from(sheet.vertexX, (_, vertex) => cornerInPattern(sheet, vertex)),
    creases: Array.from(sheet.creaseFrom, (from, crease) => [from, sheet.creaseTo[crease]!] as const),
    panels: sheet.panelRings.map(([outer]) =>
      panelRing(sheet, outer!).map((half) => halfEdgeOrigin(sheet, half)),
    ),
  };
}

/** Are vertices, creases and panels numbered alike? */
export function sameNumbers(a: Sheet, b: Sheet): boolean {
  const same = (x: ArrayLike<number>, y: ArrayLike<number>) =>
    x.length === y.length && Array.from(x).every((value, k) => value === y[k]);
  return (
    same(a.creaseFrom, b.creaseFrom) &&
    same(a.creaseTo, b.creaseTo) &&
    same(a.halfEdgePanel, b.halfEdgePanel) &&
    a.vertexX.length === b.vertexX.length &&
    a.vertexX.every((x, v) => Math.hypot(x - b.vertexX[v]!, a.vertexY[v]! - b.vertexY[v]!) < REFRAMED)
  );
}

/**
 * The sheet of a lesson that names its numbers; null where they do not belong to its strokes (any more): after a line was
 * drawn, moved or erased they are numbered anew.
 */
export function sheetByNumbers(lesson: Lesson): { sheet: Sheet; findings: Finding[] } | null {
  const graph = graphOf(lesson);
  if (!graph) return null;
  const { sheet, findings } = sheetFromGraph(graph);
  // a graph that does not hold is built anew, with numbers of its own
  const renumbered = findings.some(({ code }) => code === 'crease-overlap' || code === 'line-ignored');
  return sheet && !renumbered ? { sheet, findings } : null;
}

/** The graph that is named, its kinds and angles those of the strokes; null where a stroke or a crease is without the other. */
function graphOf(lesson: Lesson): Graph | null {
  const { numbers } = lesson.pattern;
  if (!numbers) return null;
  const { vertices, creases, panels } = numbers;
  const key = (a: readonly number[], b: readonly number[]) => [a.join(), b.join()].sort().join(' ');
  const strokes = segmentsOfLesson(lesson);
  const strokeAt = new Map(strokes.map((one) => [key([one.x1, one.y1], [one.x2, one.y2]), one]));
  if (strokeAt.size !== strokes.length || strokes.length !== creases.length) return null;
  const own = creases.map(([from, to]) => {
    const [a, b] = [vertices[from], vertices[to]];
    return a && b ? strokeAt.get(key(a, b)) : undefined;
  });
  if (own.includes(undefined) || new Set(own).size !== own.length) return null;
  return {
    ...{ vertices, edges: creases, faces: panels },
    kinds: own.map((stroke) => stroke!.kind),
    angles: own.map((stroke) => stroke!.angle ?? Number.NaN),
  };
}
