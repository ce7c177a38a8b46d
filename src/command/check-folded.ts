import { crossingsOfPose } from '../core/contact/crossings.ts';
import { describeContacts } from '../core/contact/findings.ts';
import { type Finding, finding } from '../core/finding/finding.ts';
import { LayerProblem } from '../core/layer/problem.ts';
import { OutOfTime } from '../core/layer/search.ts';
import { placePanels } from '../core/pose/place.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { findingsOfLesson } from './fold-plan.ts';
import type { Input } from './input.ts';
import { poseOf } from './layers.ts';
import type { Options } from './options.ts';
import { stillPanel } from './still.ts';

const defaultSeconds = 30;

/**
 * What folding brings to light: of a lesson, contact and layers along every step; of any other sheet, panels that cross in
 * its finished pose and whether its layers can be ordered at all.
 */
export function foldedFindings(input: Input, given: Sheet, options: Options): Finding[] {
  if (input.lesson) return findingsOfLesson(input, given, options);
  const until = Date.now() + 1000 * (options.seconds ?? defaultSeconds);
  const outOfTime = () => Date.now() > until;
  const still = stillPanel(input, given, options);
  const { sheet, angle } = poseOf(input, given, options);
  const placement = placePanels(sheet, angle, still);
  const crossings = crossingsOfPose(sheet, placement);
  if (crossings.length > 0)
    return describeContacts(
      crossings.map((crossing) => ({
        ...crossing,
        mover: crossing.panels[0],
        kind: 'through',
        first: 1,
        deepest: 1,
      })),
      { sheet, sheetSize: input.size ?? undefined, name: null, tucks: false },
    );
  return layerFindings(sheet, angle, placement, outOfTime);
}

function layerFindings(
  sheet: Sheet,
  angle: Float64Array,
  placement: ReturnType<typeof placePanels>,
  outOfTime: () => boolean,
): Finding[] {
  try {
    const problem = new LayerProblem(sheet, angle, placement, outOfTime);
    if (problem.first([], outOfTime)) return [];
    const conflict = problem.conflict([], outOfTime);
    const {
      panels = [],
      creases = [],
      message = 'The layers of the finished pose cannot be ordered.',
    } = conflict ?? {};
    return [finding('layer-none', 'error', message, { panels, creases })];
  } catch (error) {
    if (!(error instanceof OutOfTime)) throw error;
    const message =
      'Whether the layers of the finished pose can be ordered was not found in time: give more --seconds.';
    return [finding('layer-none', 'warning', message)];
  }
}
