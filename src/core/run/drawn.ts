/** The state that a run led to, as its paper is drawn. */
import { giveOf } from '../contact/give.ts';
import { posePanels, shapesOf } from '../contact/shapes.ts';
import { PaperBender } from '../drawn/bend-aside.ts';
import { type DrawnPaper, drawnPaper, drawnPose } from '../drawn/drawn-pose.ts';
import { ToldSides } from '../drawn/told-sides.ts';
import { placePanels } from '../pose/place.ts';
import type { SheetPose } from './asked.ts';
import type { Plan } from './plan.ts';
import type { StepRun } from './run.ts';

/**
 * @param steps all steps of the run: later ones may tell how paper lies that is in contact until then
 * @param at the step in which the state is met, counted from 0, and the share of it
 * @param still the panel of the state's own sheet that stays in place
 */
export function drawnState(
  { sheet: own, sheetSize, thickness }: Plan,
  { sheet, angle }: SheetPose,
  steps: readonly StepRun[],
  at: { readonly step: number; readonly share: number },
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
  const pairs = told.length > 0 ? sides.at(at.step, at.share, posed) : [];
  const drawn = drawnPose({ sheet, angle, posed, before: () => null }, pairs, new PaperBender(give));
  return drawnPaper(sheet, placement, drawn, told[at.step]?.look?.order ?? []);
}
