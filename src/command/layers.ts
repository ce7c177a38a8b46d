import { lidFit, lidSentence } from '../core/layer/lock/lid.ts';
import { JUDGED_AS, type Lock, locksOf } from '../core/layer/lock/locks.ts';
import { gradeWords, lockSentence, lockSentences, type Unit } from '../core/layer/lock/words.ts';
import type { AskedOrder, LayerAnswer } from '../core/layer/order.ts';
import { layerOrders } from '../core/layer/order.ts';
import { groupByPlane } from '../core/layer/planes.ts';
import { stacksOf } from '../core/layer/stacks.ts';
import { usualThickness } from '../core/lesson/lesson.ts';
import { CLOSED } from '../core/numeric/tolerance.ts';
import { closureOfPose } from '../core/pose/closure.ts';
import { placePanels } from '../core/pose/place.ts';
import { settleAngles } from '../core/pose/settle-angles.ts';
import { kindFolds } from '../core/sheet/kind.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { foldAsAsked } from './fold-plan.ts';
import { type Input, readInput } from './input.ts';
import type { Options } from './options.ts';
import { stillPanel } from './still.ts';
import { Unusable } from './unusable.ts';

const defaultSeconds = 30;

/** `creaseway layers FILE`: how many layer orders the pose has, one of them, and why there is none. */
export async function layers(options: Options): Promise<{ output: string; code: number }> {
  const input = await readInput(options);
  if (!input.sheet)
    throw new Unusable(
      input.findings.find(({ severity }) => severity === 'error')?.message ?? 'This file makes no sheet.',
    );
  const { sheet, angle } = poseOf(input, input.sheet, options);
  const asked = [
    ...options.over.map(([over, under]): AskedOrder => ({ over, under })),
    ...options.under.map(([under, over]): AskedOrder => ({ over, under })),
  ];
  for (const panel of asked.flatMap(({ over, under }) => [over, under]))
    if (panel >= sheet.panelRings.length)
      throw new Unusable(
        `There is no panel ${panel}: this sheet has ${sheet.panelRings.length}, counted from 0.`,
      );
  const until = Date.now() + 1000 * (options.seconds ?? defaultSeconds);
  const placement = placePanels(sheet, angle, stillPanel(input, sheet, options));
  const answer = layerOrders(sheet, angle, placement, { asked, outOfTime: () => Date.now() > until });
  const code = answer.states === 0n && answer.exact ? 1 : 0;
  const stacks = stacksOf(groupByPlane(sheet, placement), answer.order);
  const locks =
    answer.order.length > 0 ? locksOf(sheet, angle, placement, stacks, input.size ?? JUDGED_AS) : [];
  const size = input.size ?? sheet.frame.scale;
  const unit: Unit = input.size === null ? 'units' : 'mm';
  const { lidSize, thickness = usualThickness } = input.lesson?.sheet ?? {};
  const still = stillPanel(input, sheet, options);
  const lid =
    lidSize && answer.order.length > 0
      ? lidFit({ sheet, placement, stacks }, still, size, lidSize, thickness)
      : null;
  if (options.json) {
    const told = locks.map((lock) => lockInUnits(lock, size, unit));
    return {
      output: JSON.stringify({
        ...answer,
        states: String(answer.states),
        locks: told,
        ...(lid ? { lid } : {}),
      }),
      code,
    };
  }
  const lines = [
    ...linesOf(answer, options.list, options.seconds ?? defaultSeconds),
    ...lockSentences(locks, size, unit),
    ...(lid ? [lidSentence(lid, lidSize!)] : []),
  ];
  return { output: lines.join('\n'), code };
}

function lockInUnits(lock: Lock, size: number, unit: Unit) {
  return {
    ...lock,
    depth: lock.depth * size,
    pocketDepth: lock.pocketDepth * size,
    frictionLength: lock.frictionLength * size,
    held: gradeWords[lock.grade],
    sentence: lockSentence(lock, size, unit),
  };
}

/** The pose asked about: the finished state, or a part of the way to it. Unassigned folds of a flat pattern fold flat. */
export function poseOf(input: Input, given: Sheet, options: Options): { sheet: Sheet; angle: Float64Array } {
  if (options.to !== null && options.to < 1) {
    const { state } = foldAsAsked(input, given, options);
    return state;
  }
  const { sheet } = settleAngles(given);
  const flat = sheet.creaseAngle.every((angle) => Number.isNaN(angle) || isHalfTurns(angle));
  const angle = sheet.creaseAngle.map((value, crease) => {
    if (!kindFolds(sheet.creaseKind[crease]!)) return 0;
    if (!Number.isNaN(value)) return value;
    if (flat) return Math.PI;
    throw new Unusable(`Crease ${crease} has no finished angle, so the pose is not known: give it one.`);
  });
  const { largest } = closureOfPose(sheet, flat ? unsigned(sheet, angle) : angle);
  if (largest > CLOSED)
    throw new Unusable(
      `This pose does not close (${((largest * 180) / Math.PI).toPrecision(3)}° left over), so it has no layers: see creaseway check.`,
    );
  return { sheet, angle };
}

const isHalfTurns = (angle: number) => Math.abs(Math.sin(angle)) < 1e-9;

/** Closure of a flat pattern does not depend on which way its creases go; where signs are open the sum of turns is. */
function unsigned(sheet: Sheet, angle: Float64Array): Float64Array {
  const open = sheet.creaseAngle.some(
    (value, crease) => Number.isNaN(value) && kindFolds(sheet.creaseKind[crease]!),
  );
  return open ? new Float64Array(angle.length) : angle;
}

function linesOf(answer: LayerAnswer, list: boolean, seconds: number): string[] {
  const count = `${answer.exact ? '' : 'at least '}${answer.states}`;
  return [
    `${count} layer order${answer.states === 1n ? '' : 's'}${answer.exact ? '' : `, stopped after ${seconds} s`}; at most ${answer.deepest} layers at a point`,
    ...answer.conflicts.map(({ message }) => message),
    ...(list
      ? answer.order.map(([f, g, side]) => `panel ${f} ${side > 0 ? 'over' : 'under'} panel ${g}`)
      : []),
  ];
}
