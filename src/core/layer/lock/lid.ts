/**
 * A lid folded from the same pattern and a larger sheet, put over the model: how much room there is, and what holds it.
 * Creases are taken at the outermost layer of a wall, so the lid's layers take up room inside it.
 */

import { SQUARE } from '../../numeric/tolerance.ts';
import { dot, type Space } from '../../numeric/vector.ts';
import { placePoint } from '../../pose/place.ts';
import { NONE } from '../../sheet/sheet.ts';
import { halfEdgeEnd, halfEdgeOrigin, panelRing } from '../../sheet/walk.ts';
import type { Folded } from './sides.ts';

export interface LidFit {
  /** Room on each side between a pair of walls, mm, the tightest pair first; negative where the lid does not go on. */
  readonly room: readonly number[];
  /** none: it does not go on. */
  readonly grade: 'friction' | 'gravity' | 'none';
}

/** With up to this much room on each side, mm, walls still rub (common practice, no source). */
const RUBS_UP_TO = 0.5;

/**
 * @param base the panel that the walls stand on
 * @param tray length of the tray's sheet, mm
 * @param lid length of the lid's sheet, mm
 * @param thickness of the paper, mm
 * @returns null where the model has no pair of upright walls
 */
export function lidFit(
  folded: Folded,
  base: number,
  tray: number,
  lid: number,
  thickness: number,
): LidFit | null {
  const walls = uprightWalls(folded, base);
  const room: number[] = [];
  walls.forEach((one, k) => {
    for (const other of walls.slice(k + 1)) {
      if (dot(one.out, other.out) > SQUARE - 1) continue;
      const width = one.reach + other.reach;
      room.push((width * (lid - tray) - (one.layers + other.layers) * thickness) / 2);
    }
  });
  if (room.length === 0) return null;
  room.sort((a, b) => a - b);
  const [tightest] = room;
  return { room, grade: tightest! < 0 ? 'none' : tightest! <= RUBS_UP_TO ? 'friction' : 'gravity' };
}

interface Wall {
  /** Outward from the base, unit length. */
  readonly out: Space;
  /** Distance of the wall's foot from the origin along `out`, sheet units. */
  readonly reach: number;
  /** Most layers anywhere in the wall. */
  readonly layers: number;
}

function uprightWalls({ sheet, placement, stacks }: Folded, base: number): Wall[] {
  const { planes, over } = stacks;
  const up = planes.groups[planes.groupOf[base]!]!.normal;
  const at = new Float64Array(3);
  const place = (v: number): Space => {
    placePoint(at, 0, placement, base, sheet.vertexX[v]!, sheet.vertexY[v]!);
    return [at[0]!, at[1]!, at[2]!];
  };
  const middle = middleOf(
    panelRing(sheet, sheet.panelRings[base]![0]!).map((h) => place(halfEdgeOrigin(sheet, h))),
  );
  return panelRing(sheet, sheet.panelRings[base]![0]!).flatMap((h): Wall[] => {
    const beyond = sheet.halfEdgePanel[h ^ 1]!;
    if (beyond === NONE) return [];
    const group = planes.groupOf[beyond]!;
    const { normal } = planes.groups[group]!;
    if (Math.abs(dot(normal, up)) > SQUARE) return [];
    const foot = middleOf([place(halfEdgeOrigin(sheet, h)), place(halfEdgeEnd(sheet, h))]);
    const outward = dot(normal, [foot[0] - middle[0], foot[1] - middle[1], foot[2] - middle[2]]);
    const sign = outward > 0 ? 1 : -1;
    const out: Space = [sign * normal[0], sign * normal[1], sign * normal[2]];
    const layers = over[group]!.reduce((most, panels) => Math.max(most, panels.length), 0);
    return [{ out, reach: dot(out, foot), layers }];
  });
}

function middleOf(points: readonly Space[]): Space {
  const mean = (k: 0 | 1 | 2) => points.reduce((sum, point) => sum + point[k], 0) / points.length;
  return [mean(0), mean(1), mean(2)];
}
