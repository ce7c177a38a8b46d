import { askAtRest } from '../core/contact/at-rest.ts';
import type { Finding } from '../core/finding/finding.ts';
import { cornerConflict } from '../core/layer/corners.ts';
import { lidFit } from '../core/layer/lock/lid.ts';
import { type Lock, locksOf } from '../core/layer/lock/locks.ts';
import { type AskedOrder, type LayerAnswer, noStates } from '../core/layer/order.ts';
import { groupByPlane } from '../core/layer/planes.ts';
import { stacksOf } from '../core/layer/stacks.ts';
import { USUAL_SHEET } from '../core/numeric/tolerance.ts';
import { placePanels } from '../core/pose/place.ts';
import { answerAsk } from '../core/run/asked.ts';
import { closingAngles, type FinishedState, finishedState } from '../core/run/finished.ts';
import type { Plan } from '../core/run/plan.ts';
import { clock, runPlan } from '../core/run/run.ts';
import { unclosedFindings } from '../core/run/unclosed.ts';
import { NONE, type Sheet } from '../core/sheet/sheet.ts';
import type { Unit } from '../words/english/locks.ts';
import { conflictSentence, sentenceOf } from '../words/findings.ts';
import type { CommandLine } from '../words/language.ts';
import { fetchCommandLine, words } from '../words/words.ts';
import { planOfInput, runOptions, usualSeconds } from './fold-plan.ts';
import { readSheet } from './input.ts';
import type { Options } from './options.ts';
import { Unusable } from './unusable.ts';

/** `creaseway layers FILE`: how many layer orders the pose has, one of them, and why there is none. */
export async function layers(options: Options): Promise<{ output: string; code: number }> {
  const { input, sheet: given } = await readSheet(options);
  const plan = planOfInput(input, given, options);
  const asked = askedOrders(plan.sheet, options);
  const posed =
    input.lesson && (options.to === null || options.to === 1)
      ? layersOfLesson(plan, asked, options)
      : layersOfState(plan, asked, options);
  const { answer, angle } = posed;
  const conflicts = conflictsToTell(posed);
  const placement = placePanels(plan.sheet, angle, plan.still);
  const stacks = stacksOf(groupByPlane(plan.sheet, placement), answer.order);
  const locks =
    answer.order.length > 0
      ? locksOf(plan.sheet, angle, placement, stacks, plan.sheetSize ?? USUAL_SHEET)
      : [];
  const size = input.size ?? plan.sheet.frame.scale;
  const unit: Unit = input.size === null ? 'units' : 'mm';
  const lidSize = input.lesson?.sheet.lidSize;
  const lid =
    lidSize && answer.order.length > 0
      ? lidFit({ sheet: plan.sheet, placement, stacks }, plan.still, size, lidSize, plan.thickness)
      : null;
  const code = answer.answer === 'yes' ? 0 : 1;
  if (options.json) {
    const told = locks.map((lock) => lockInUnits(lock, size, unit));
    return {
      output: JSON.stringify({
        ...answer,
        states: String(answer.states),
        conflicts,
        locks: told,
        ...(lid ? { lid } : {}),
      }),
      code,
    };
  }
  const say = await fetchCommandLine();
  const lines = [
    ...linesOf(say, answer, conflicts, options.list, options.seconds ?? usualSeconds),
    ...words.lock.sentences(locks, size, unit),
    ...(lid ? [words.lock.lidSentence(lid, lidSize!)] : []),
  ];
  return { output: lines.join('\n'), code };
}

interface PosedLayers {
  readonly answer: LayerAnswer;
  readonly angle: Float64Array;
  /** Why the pose does not close, where it does not. */
  readonly unclosed?: readonly Finding[];
}

/** What stands in the way of every order, as it is put out. */
function conflictsToTell({ answer, unclosed = [] }: PosedLayers) {
  return [
    ...answer.conflicts.map(({ panels, creases, why }) => ({
      ...{ panels, creases, message: conflictSentence(why) },
    })),
    ...unclosed.map((found) => ({ panels: [], creases: found.creases, message: sentenceOf(found) })),
  ];
}

function askedOrders(sheet: Sheet, { over, under }: Options): AskedOrder[] {
  const asked = [
    ...over.map(([above, below]): AskedOrder => ({ over: above, under: below })),
    ...under.map(([below, above]): AskedOrder => ({ over: above, under: below })),
  ];
  for (const panel of asked.flatMap((one) => [one.over, one.under]))
    if (panel >= sheet.panelRings.length)
      throw new Unusable((say) => say.noPanel(panel, sheet.panelRings.length));
  return asked;
}

/** At the end of its steps, or of one: the order that the lesson itself has there. */
function layersOfLesson(plan: Plan, asked: readonly AskedOrder[], options: Options): PosedLayers {
  const count = plan.steps.length;
  const last = options.step ?? count;
  if (last > count) throw new Unusable((say) => say.noStepInLesson(last, count));
  const steps = plan.steps
    .slice(0, last)
    .map((step, k) => (k === last - 1 ? { ...step, asked: [...step.asked, ...asked] } : step));
  const run = runPlan({ ...plan, steps }, runOptions({ ...options, motionOnly: false }));
  const end = run.steps.at(-1);
  if (!end || run.steps.length < steps.length || end.end.alone || !end.look) {
    const why = run.findings.find(({ severity, code }) => severity === 'error' && code.startsWith('motion'));
    throw new Unusable((say) => say.noLayersAfter(run.steps.length, why ? sentenceOf(why) : null));
  }
  const { answer, states, exact, order, deepest, conflict } = end.look;
  // paper that stays bent has no layers to tell
  const known = answer === 'not-looked' ? 'gave-up' : answer;
  const told = { answer: known, states: BigInt(states), exact, order, deepest } as const;
  return { answer: { ...told, conflicts: conflict ? [conflict] : [] }, angle: end.end.angle };
}

/** Every order of one state of a pattern: its finished angles, or a part of the way there. */
function layersOfState(plan: Plan, asked: readonly AskedOrder[], options: Options): PosedLayers {
  const { sheet } = plan;
  const { angle, closing } = stateAsked(plan, options);
  const corner = cornerConflict(sheet, closing);
  if (corner) return { answer: noStates(corner, 0), angle };
  const unclosed = unclosedFindings(sheet, closing);
  if (unclosed.length > 0) return { answer: noStates(null, 0), angle, unclosed };
  const placement = placePanels(sheet, angle, plan.still);
  const startClock = () => clock(options.seconds ?? usualSeconds);
  const { crossings: _, ...answer } = askAtRest(sheet, angle, placement, { asked, startClock });
  return { answer, angle };
}

function stateAsked(plan: Plan, options: Options): { angle: Float64Array; closing: Float64Array } {
  if (options.to !== null && options.to < 1) {
    const ask = { part: options.to, hold: new Map(), step: null };
    const { angle } = answerAsk(plan, ask, { ...runOptions(options), motionOnly: true }).state;
    return { angle, closing: angle };
  }
  const finished = knownState(plan.sheet);
  return { angle: finished.angle, closing: closingAngles(plan.sheet, finished) };
}

/** Throws Unusable where creases do not say how they end. */
export function knownState(sheet: Sheet): FinishedState {
  const finished = finishedState(sheet);
  if (finished.open !== NONE) throw new Unusable((say) => say.noAngle(finished.open));
  return finished;
}

function lockInUnits(lock: Lock, size: number, unit: Unit) {
  return {
    ...lock,
    depth: lock.depth * size,
    pocketDepth: lock.pocketDepth * size,
    frictionLength: lock.frictionLength * size,
    held: words.lock.grades[lock.grade],
    sentence: words.lock.sentence(lock, size, unit),
  };
}

function linesOf(
  say: CommandLine,
  answer: LayerAnswer,
  conflicts: readonly { readonly message: string }[],
  list: boolean,
  seconds: number,
): string[] {
  const { states, exact, deepest } = answer;
  return [
    say.stackings(String(states), states === 1n, exact, seconds, deepest),
    ...conflicts.map(({ message }) => message),
    ...(list
      ? answer.order.map(([f, g, side]) => `panel ${f} ${side > 0 ? 'over' : 'under'} panel ${g}`)
      : []),
  ];
}
