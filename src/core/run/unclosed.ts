/** Corners and holes round which panels do not meet again. */
import { type Finding, finding } from '../finding/finding.ts';
import { CLOSED } from '../numeric/tolerance.ts';
import { closureOfPose } from '../pose/closure.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** One finding for each corner or hole that a pose leaves open; none for a pose that closes. */
export function unclosedFindings(sheet: Sheet, angle: Float64Array): Finding[] {
  const { loops } = closureOfPose(sheet, angle);
  return loops
    .filter((loop) => loop.rotation >= CLOSED || loop.gap >= CLOSED)
    .map((loop) => {
      const creases = [...new Set(loop.creases)];
      const left = (loop.rotation * 180) / Math.PI;
      const facts = { value: loop.rotation, limit: CLOSED, creases };
      const { vertex, gap } = loop;
      if (vertex < 0) return finding('hole-closure', 'error', { how: 'pose-left-over', left, gap }, facts);
      const where = { vertices: [vertex], at: [[sheet.vertexX[vertex]!, sheet.vertexY[vertex]!] as const] };
      const told = isThroughItself(loop.rotation)
        ? ({ how: 'pose-through-itself', vertex } as const)
        : ({ how: 'pose-left-over', vertex, left } as const);
      return finding('vertex-closure', 'error', told, { ...facts, ...where });
    });
}

/** A product of turns of -1: the panels meet, but paper has gone through itself. */
const isThroughItself = (rotation: number): boolean => Math.abs(rotation - 2 * Math.PI) < CLOSED;
