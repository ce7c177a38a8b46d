/** The state that a run led to, as its paper is drawn. */
import { giveOf } from '../contact/give.ts';
import { posePanels, shapesOf } from '../contact/shapes.ts';
import { type DrawnPaper, drawnPaper, drawnPose } from '../drawn/drawn-pose.ts';
import { ToldSides } from '../drawn/told-sides.ts';
import { placePanels } from '../pose/place.ts';
import type { SheetPose } from './asked.ts';
import type { Plan } from './plan.ts';
import type { StepRun } from './run.ts';

/** @param still the panel of the state's own sheet that stays in place */
export function drawnState(
  { sheet: own, sheetSize, thickness }: Plan,
  { sheet, angle }: SheetPose,
  steps: readonly StepRun[],
  still: number,
): DrawnPaper {
  const placement = placePanels(sheet, angle, still);
  const posed = posePanels(shapesOf(sheet), placement);
  const give = giveOf(posed.shapes, { sheetSize: sheetSize ?? undefined, thickness });
  // what bend lines cut has panels of its own, which no order names
  const told = sheet === own ? steps : [];
  const sides = new ToldSides(
    sheet,
    still,
    () =>
      told.map(({ track, look }) => ({
        poses: track.sheet === sheet ? track.poses : null,
        order: look?.known,
      })),
    give,
  );
  const pairs = told.length > 0 ? sides.at(told.length - 1, 1, posed) : [];
  const drawn = drawnPose({ sheet, angle, posed, before: () => null }, pairs, give);
  return drawnPaper(sheet, placement, drawn, told.at(-1)?.look?.order ?? []);
}
