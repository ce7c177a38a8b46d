/** Corners and holes round which panels do not meet again, in words. */
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
      const degrees = ((loop.rotation * 180) / Math.PI).toPrecision(3);
      const facts = { value: loop.rotation, limit: CLOSED, creases };
      if (loop.vertex < 0) {
        const message = `Going round a hole the panels do not meet again (${degrees}° and ${loop.gap.toPrecision(3)} of the sheet left over): correct the angles of its creases.`;
        return finding('hole-closure', 'error', message, facts);
      }
      const at = [sheet.vertexX[loop.vertex]!, sheet.vertexY[loop.vertex]!] as const;
      const message = isThroughItself(loop.rotation)
        ? `Going round vertex ${loop.vertex} the folds add up to one whole turn too much or too few: paper would have passed through itself there; fold one of its creases the other way.`
        : `Going round vertex ${loop.vertex} the panels do not meet again (${degrees}° left over): correct the angles of its creases.`;
      return finding('vertex-closure', 'error', message, { ...facts, vertices: [loop.vertex], at: [at] });
    });
}

/** A product of turns of -1: the panels meet, but paper has gone through itself. */
const isThroughItself = (rotation: number): boolean => Math.abs(rotation - 2 * Math.PI) < CLOSED;
