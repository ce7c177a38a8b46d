/** What titles tell of folds: the same as their sentences. */
import { CLOSED, LEVEL } from '../numeric/tolerance.ts';
import { closureOfPose } from '../pose/closure.ts';
import { placePanels, placePoint } from '../pose/place.ts';
import { finishedAngle } from '../sheet/check.ts';
import { insidePoint } from '../sheet/inside-point.ts';
import { creasesInLine } from '../sheet/walk.ts';
import { type PartTold, partTold, type WayTold, wayAt, wayTold } from './fold-told.ts';
import {
  type Motion,
  movedPart,
  nameOfPart,
  offMiddle,
  turnings,
  type Whereabouts,
  whereabouts,
} from './moved-part.ts';
import { asSeen } from './seen.ts';

/** The part that a fold takes, and its way. */
export interface FoldTold {
  readonly part: PartTold;
  readonly way: WayTold;
}

/**
 * What the title of a fold of creases to their finished angles tells; null where there is nothing to tell. Where
 * they alone do not lead to a pose that closes, a fold along one straight line is told by where that runs on the sheet.
 */
export function foldTold(motion: Omit<Motion, 'end'>, creases: readonly number[]): FoldTold | null {
  const { sheet, start } = motion;
  const end = start.slice();
  for (const crease of creases) end[crease] = finishedAngle(sheet, crease) || 0;
  if (closureOfPose(sheet, end).largest > CLOSED) return titleOnSheet(motion, creases);
  const part = movedPart({ ...motion, end });
  return part.panels.size > 0 ? titled(wayTold(turnings(part)), whereabouts(part), nameOfPart(part)) : null;
}

const titled = (way: WayTold, where: Whereabouts, name?: string): FoldTold => ({
  way,
  part: { ...partTold(where), name },
});

function titleOnSheet(
  { sheet, still, seen }: Omit<Motion, 'end'>,
  creases: readonly number[],
): FoldTold | null {
  const [first] = creases;
  if (first === undefined) return null;
  const line = new Set(creasesInLine(sheet, [first]));
  if (!creases.every((crease) => line.has(crease))) return null;
  const flat = asSeen(placePanels(sheet, new Float64Array(sheet.creaseKind.length), still), seen);
  const place = (x: number, y: number) => {
    const at = new Float64Array(3);
    placePoint(at, 0, flat, still, x, y);
    return [at[0]!, at[1]!] as const;
  };
  const corners = Array.from(sheet.vertexX, (x, v) => place(x, sheet.vertexY[v]!));
  const stays = place(...insidePoint(sheet, still));
  const ends = (crease: number) =>
    [corners[sheet.creaseFrom[crease]!]!, corners[sheet.creaseTo[crease]!]!] as const;
  const [a, b] = ends(first);
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const across = ([x, y]: readonly [number, number]) =>
    ((y - a[1]) * (b[0] - a[0]) - (x - a[0]) * (b[1] - a[1])) / length;
  if (Math.abs(across(stays)) < LEVEL) return null;
  const side = -Math.sign(across(stays));
  const toward = [(-side * (b[1] - a[1])) / length, (side * (b[0] - a[0])) / length] as const;
  const moved = corners.filter((corner) => side * across(corner) > -LEVEL);
  const away = (crease: number) => {
    const [p, q] = ends(crease);
    return Math.hypot((p[0] + q[0]) / 2 - stays[0], (p[1] + q[1]) / 2 - stays[1]);
  };
  const [nearest] = [...creases].sort((p, q) => away(p) - away(q)) as [number];
  const way = wayAt({ from: 0, to: (seen.over ? -1 : 1) * sheet.creaseAngle[nearest]! });
  return titled(way, { off: offMiddle(moved, corners), toward });
}
