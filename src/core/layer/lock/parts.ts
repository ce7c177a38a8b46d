/** What a lock is made of: rigid parts of the folded sheet, and folds that join two of them face to face. */

import { Groups } from '../../numeric/plane.ts';
import { FOLDED_FLAT } from '../../numeric/tolerance.ts';
import { kindJoinsPanels } from '../../sheet/kind.ts';
import { NONE, type Sheet } from '../../sheet/sheet.ts';

export interface Parts {
  /** Part of each panel: panels joined by creases that are not folded are one part. */
  readonly partOf: Int32Array;
  /** Creases folded by a half turn between each two parts, under the key of `pairOf`. */
  readonly joints: ReadonlyMap<number, readonly number[]>;
  pairOf(part: number, other: number): number;
  /** The two parts of a key. */
  partsOfPair(pair: number): readonly [number, number];
}

export function partsOf(sheet: Sheet, angle: Float64Array): Parts {
  const count = sheet.panelRings.length;
  const flat = new Groups(count);
  const panelsOf = (crease: number): readonly [number, number] | null => {
    const [p, q] = [sheet.halfEdgePanel[2 * crease]!, sheet.halfEdgePanel[2 * crease + 1]!];
    return p !== NONE && q !== NONE && kindJoinsPanels(sheet.creaseKind[crease]!) ? [p, q] : null;
  };
  angle.forEach((value, crease) => {
    const panels = panelsOf(crease);
    if (panels && Math.abs(value) < FOLDED_FLAT) flat.join(...panels);
  });
  const partOf = Int32Array.from({ length: count }, (_, panel) => flat.find(panel));
  const pairOf = (part: number, other: number) => Math.min(part, other) * count + Math.max(part, other);
  const joints = new Map<number, number[]>();
  angle.forEach((value, crease) => {
    const panels = panelsOf(crease);
    if (!panels || Math.PI - Math.abs(value) > FOLDED_FLAT) return;
    const pair = pairOf(partOf[panels[0]]!, partOf[panels[1]]!);
    joints.set(pair, [...(joints.get(pair) ?? []), crease]);
  });
  return {
    ...{ partOf, joints, pairOf },
    partsOfPair: (pair) => [Math.floor(pair / count), pair % count],
  };
}

/** Panels of the given parts, ascending. */
export function panelsOf({ partOf }: Parts, wanted: readonly number[]): number[] {
  return Array.from(partOf.keys()).filter((panel) => wanted.includes(partOf[panel]!));
}
