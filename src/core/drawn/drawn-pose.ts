/**
 * A pose as its paper is drawn: every panel on its own side of what it touches or grazes. Model, pictures, section and
 * GLB take it from here; the pose itself stays as it is.
 */
import { type Aside, asideAt } from '../layer/aside.ts';
import { type Leaves, leavesOf, leavesOfPanels } from '../layer/leaves.ts';
import { groupByPlane } from '../layer/planes.ts';
import type { LayerOrder } from '../layer/problem.ts';
import { type Stacks, stacksOf } from '../layer/stacks.ts';
import type { Space } from '../numeric/vector.ts';
import { type Placement, panelNormal, placeOf } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { PaperBender } from './bend-aside.ts';
import { type LevelledPose, levelsOf } from './levels.ts';
import type { ToldLap } from './told-sides.ts';

export interface DrawnPose {
  /** Level of each panel along its own normal: layers that lie below it. */
  readonly levels: Float32Array;
  /** How far grazing panels are bent aside; null where none are. */
  readonly aside: Aside | null;
}

/** @param told on which side of each other its panels belong @param bender of its sheet */
export function drawnPose(pose: LevelledPose, told: readonly ToldLap[], bender: PaperBender): DrawnPose {
  return { levels: levelsOf(pose, told), aside: bender.asideOf(pose.posed, told) };
}

/**
 * The leaves of a pose whose stacks are known. Panels that graze lie in no common plane: there each panel keeps to its
 * level.
 */
export function drawnLeaves(
  sheet: Sheet,
  placement: Placement,
  { levels, aside }: DrawnPose,
  stacks: Stacks,
): Leaves {
  if (!aside) return leavesOf(sheet, placement, stacks);
  return leavesOfPanels(sheet, levels, stacks.planes.groupOf);
}

/** A pose with all that is needed to draw it. */
export interface DrawnPaper {
  readonly sheet: Sheet;
  readonly placement: Placement;
  readonly leaves: Leaves;
  readonly aside: Aside | null;
}

/** @param order of its layers, as far as it is known */
export function drawnPaper(
  sheet: Sheet,
  placement: Placement,
  drawn: DrawnPose,
  order: LayerOrder,
): DrawnPaper {
  const stacks = stacksOf(groupByPlane(sheet, placement), order);
  return { sheet, placement, leaves: drawnLeaves(sheet, placement, drawn, stacks), aside: drawn.aside };
}

/** Where a flat point of a panel is drawn. @param off how far its leaf is held off along the panel's normal */
export function drawnPlace(
  placement: Placement,
  aside: Aside | null,
  panel: number,
  [x, y]: readonly [number, number],
  off: number,
): Space {
  const [at, normal] = [placeOf(placement, panel, x, y), panelNormal(placement, panel)];
  const shift = asideAt(aside, panel, x, y);
  return [0, 1, 2].map((k) => at[k]! + off * normal[k]! + shift[k]!) as unknown as Space;
}
