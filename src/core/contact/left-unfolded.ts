/** Folds that no step makes and without which panels are in each other's way. */
import { Groups } from '../numeric/plane.ts';
import { CLOSED, MISS, TIGHT } from '../numeric/tolerance.ts';
import { closureOfPose } from '../pose/closure.ts';
import { placePanels } from '../pose/place.ts';
import type { TrackPose } from '../pose/track.ts';
import { finishedAngle } from '../sheet/check.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { crossingsOfPose } from './crossings.ts';
import type { Contact } from './track.ts';

/** A motion, and creases that the pattern folds and no step does. */
interface Unfolded {
  readonly sheet: Sheet;
  readonly still: number;
  readonly poses: readonly TrackPose[];
  readonly never: readonly number[];
}

/**
 * Of the creases that no step folds those with which, at their finished angles, two panels that cross would not; found by
 * trying on the pose of the track nearest to where they cross deepest. Empty where they do not help.
 */
export function foldsMissing({ sheet, still, poses, never }: Unfolded, contact: Contact): number[] {
  const away = ({ at }: TrackPose) => Math.abs(at - contact.deepest);
  const { angle } = poses.reduce((best, pose) => (away(pose) < away(best) ? pose : best));
  const open = never.filter((crease) => Math.abs(angle[crease]!) < MISS);
  const crosses = (posed: Float64Array) =>
    crossingsOfPose(sheet, placePanels(sheet, posed, still)).some(
      ({ panels, depth }) => depth > TIGHT && contact.panels.every((panel) => panels.includes(panel)),
    );
  const clears = (creases: readonly number[]) => {
    const folded = angle.slice();
    for (const crease of creases) folded[crease] = finishedAngle(sheet, crease);
    return closureOfPose(sheet, folded).largest < CLOSED && !crosses(folded);
  };
  if (contact.kind !== 'through' || open.length === 0 || !crosses(angle) || !clears(open)) return [];
  // those that meet at a corner fold together; what helps without the others is left out
  return meetingSets(sheet, open).reduce((needed, set) => {
    const rest = needed.filter((crease) => !set.includes(crease));
    return clears(rest) ? rest : needed;
  }, open);
}

function meetingSets(sheet: Sheet, creases: readonly number[]): number[][] {
  const groups = new Groups(sheet.vertexX.length);
  for (const crease of creases) groups.join(sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!);
  const root = (crease: number) => groups.find(sheet.creaseFrom[crease]!);
  return [...new Set(creases.map(root))].map((one) => creases.filter((crease) => root(crease) === one));
}
