/** Where the steps of a lesson end, held against the finished angles of its pattern. */
import { type Finding, finding } from '../finding/finding.ts';
import { MISS } from '../numeric/tolerance.ts';
import { foldingCreases } from '../pose/moving.ts';
import { finishedAngle } from '../sheet/check.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { creaseMiddle } from '../sheet/walk.ts';

/**
 * Creases that the end of the last step leaves away from their finished angles, the furthest first: a step that was taken
 * out, switched off or moved to another place leaves such behind.
 * @param angle fold angle per crease, radians
 */
export function creasesShort(sheet: Sheet, angle: Float64Array): number[] {
  const folds = foldingCreases(sheet);
  const off = (crease: number) => Math.abs(finishedAngle(sheet, crease) - angle[crease]!);
  return [...angle.keys()]
    .filter((crease) => folds[crease] && off(crease) > MISS)
    .sort((a, b) => off(b) - off(a) || a - b);
}

/** The same as a finding, less what was said already of creases that no step folds. */
export function shortFindings(sheet: Sheet, angle: Float64Array, told: readonly Finding[]): Finding[] {
  const named = new Set(told.flatMap(({ code, creases }) => (code === 'crease-never-used' ? creases : [])));
  const short = creasesShort(sheet, angle).filter((crease) => !named.has(crease));
  if (short.length === 0) return [];
  const [first] = short as [number];
  const degrees = (Math.abs(finishedAngle(sheet, first) - angle[first]!) * 180) / Math.PI;
  return [
    finding(
      'crease-left-short',
      'warning',
      { by: degrees },
      {
        ...{ value: degrees, limit: (MISS * 180) / Math.PI, creases: short },
        at: short.map((crease) => creaseMiddle(sheet, crease)),
      },
    ),
  ];
}
