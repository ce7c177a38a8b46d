import { type Finding, finding } from '../../finding/finding.ts';
import { MISS } from '../../numeric/tolerance.ts';
import { finishedAngle } from '../../sheet/check.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { creaseMiddle } from '../../sheet/walk.ts';
import type { CreaseHistory } from './made.ts';

/**
 * Creases that a step turns and that the last one leaves away from their finished angles: a step that was taken out,
 * switched off or moved to another place leaves such behind.
 */
export function leftShort(sheet: Sheet, { turned, atEnd }: CreaseHistory): Finding[] {
  const off = (crease: number) => Math.abs(finishedAngle(sheet, crease) - atEnd[crease]!);
  const short = [...new Set(turned.flat())]
    .filter((crease) => off(crease) > MISS)
    .sort((a, b) => off(b) - off(a) || a - b);
  if (short.length === 0) return [];
  const degrees = (off(short[0]!) * 180) / Math.PI;
  const shown = short.slice(0, 8).join(', ') + (short.length > 8 ? ` and ${short.length - 8} more` : '');
  const by = `${Number(degrees.toFixed(1))}°`;
  const message =
    short.length === 1
      ? `The last step leaves crease ${shown} ${by} away from its finished angle: fold it on in a step, or correct the angle.`
      : `The last step leaves creases ${shown} up to ${by} away from their finished angles: fold them on in a step, or correct the angles.`;
  return [
    finding('crease-left-short', 'warning', message, {
      ...{ value: degrees, limit: (MISS * 180) / Math.PI, creases: short },
      at: short.map((crease) => creaseMiddle(sheet, crease)),
    }),
  ];
}
