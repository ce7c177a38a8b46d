import { type Finding, finding } from '../finding/finding.ts';
import { ARRIVED, CLOSED, ROUNDING } from '../numeric/tolerance.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { closureOfPose } from './closure.ts';
import { foldingCreases } from './moving.ts';
import { PoseSolver } from './solve.ts';

/**
 * Finished angles written with a few decimals do not quite close. Moves those that are neither flat nor folded flat by
 * as little as makes the finished state close, where 0.01 degrees do; else the sheet comes back as it is.
 */
export function settleAngles(sheet: Sheet): { sheet: Sheet; findings: Finding[] } {
  const asked = sheet.creaseAngle.map((angle) => (Number.isNaN(angle) ? 0 : angle));
  const folding = foldingCreases(sheet);
  const known = sheet.creaseAngle.every((angle, e) => !folding[e] || !Number.isNaN(angle));
  const before = closureOfPose(sheet, asked).largest;
  if (!known || before < CLOSED) return { sheet, findings: [] };
  const loose = folding.map((moves, e) => {
    const turns = asked[e]! / Math.PI;
    return moves && Math.abs(turns - Math.round(turns)) > ROUNDING ? 1 : 0;
  });
  const solver = new PoseSolver(sheet, loose);
  const settled = asked.slice();
  const lower = new Float64Array(solver.size).fill(-Math.PI);
  const upper = new Float64Array(solver.size).fill(Math.PI);
  const closure = solver.close(settled, { lower, upper });
  const moved = settled.reduce((most, angle, e) => Math.max(most, Math.abs(angle - asked[e]!)), 0);
  if (closure > before || moved > ARRIVED || moved === 0) return { sheet, findings: [] };
  const creaseAngle = sheet.creaseAngle.map((angle, e) => (loose[e] ? settled[e]! : angle));
  const by = (moved * 180) / Math.PI;
  return {
    sheet: { ...sheet, creaseAngle },
    findings: [finding('angle-assumed', 'note', { how: 'settled', by }, { value: by })],
  };
}
