import type { Finding } from '../core/finding/finding.ts';
import { checkSteps } from '../core/lesson/check-steps.ts';
import { stageOfFinishedAngles, stagesOfLesson } from '../core/lesson/stages.ts';
import { CLOSED } from '../core/numeric/tolerance.ts';
import { closureOfPose } from '../core/pose/closure.ts';
import { correctPose } from '../core/pose/correct.ts';
import { type FoldOptions, foldStep } from '../core/pose/fold-step.ts';
import { settleAngles } from '../core/pose/settle-angles.ts';
import type { Outcome, Stage, StepTrack } from '../core/pose/track.ts';
import { kindFolds } from '../core/sheet/kind.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { Input } from './input.ts';
import type { Options } from './options.ts';
import { stillPanel } from './still.ts';
import { Unusable } from './unusable.ts';

/** A pose on a sheet of its own: the input's, or the same with bend lines. */
export interface SheetPose {
  readonly sheet: Sheet;
  readonly angle: Float64Array;
}

/** What a call of `fold` found: the state it asked about, and the motions that lead there. */
export interface Folded {
  readonly state: SheetPose;
  /** Largest difference between the state and the angles asked for, degrees. */
  readonly deviation: number;
  readonly outcome: Outcome;
  readonly tracks: readonly StepTrack[];
  readonly findings: readonly Finding[];
}

/** Answers the question of a `fold` call. Throws Unusable when it asks for steps or creases that are not there. */
export function foldAsAsked(input: Input, given: Sheet, options: Options): Folded {
  const { sheet, findings: settled } = settleAngles(given);
  const folded = foldSettled(input, sheet, options);
  const deviation = Math.max(folded.deviation, ...settled.map(({ value }) => value ?? 0));
  return { ...folded, deviation, findings: [...settled, ...folded.findings] };
}

function foldSettled(input: Input, sheet: Sheet, options: Options): Folded {
  const how: FoldOptions = { bend: options.bend, free: options.free, sheetSize: input.size ?? undefined };
  for (const crease of options.hold.keys()) {
    const kind = sheet.creaseKind[crease];
    if (kind !== undefined && kindFolds(kind)) continue;
    throw new Unusable(`--hold names crease ${crease}, which is no fold of this sheet: see check --list.`);
  }
  if (options.step !== null) return foldOneStep(input, sheet, options, how);
  const flat = new Float64Array(sheet.creaseKind.length);
  if (options.hold.size > 0) {
    const start = options.to === null ? flat : scaledState(sheet, options.to, how).angle;
    return driveHeld(sheet, start, options, how, []);
  }
  const part = options.to ?? 1;
  if (input.lesson && part === 1) return foldWholeLesson(input, sheet, options, how);
  const state = scaledState(sheet, part, how);
  const stage = part === 1 ? stageOfFinishedAngles(sheet) : { target: foldingTargets(sheet, state.angle) };
  const track = runToEnd(sheet, flat, stage, how);
  return answer(stateOrReached(sheet, part, state, track), [track], [...track.report.findings]);
}

interface ScaledState {
  readonly angle: Float64Array;
  /** Largest difference from the scaled angles, degrees. */
  readonly deviation: number;
  /** Does every fold have a finished angle? */
  readonly complete: boolean;
}

/**
 * The state with the finished angles scaled. At 1, with all of them known, they are taken as they are. Else the
 * nearest state that closes: of the one next to the scaled angles and the one that a motion toward them comes to
 * rest at, the one that differs less.
 */
function scaledState(sheet: Sheet, part: number, how: FoldOptions): ScaledState {
  const { target } = stageOfFinishedAngles(sheet);
  const asked = target.map((angle) => (Number.isNaN(angle) ? 0 : part * angle));
  const complete = !sheet.creaseKind.some((kind, crease) => kindFolds(kind) && Number.isNaN(target[crease]!));
  if (part === 1 && complete) return { angle: asked, deviation: 0, complete };
  const toward = { target: target.map((angle) => part * angle) };
  const flat = new Float64Array(asked.length);
  const rest = endOf(runToEnd(sheet, flat, toward, { ...how, bend: false })).angle;
  const { angle: next, closure } = correctPose(sheet, asked);
  const angle = closure < CLOSED && squaredMiss(asked, next) < squaredMiss(asked, rest) ? next : rest;
  return { angle, deviation: largestMiss(asked, angle), complete };
}

function squaredMiss(asked: Float64Array, reached: Float64Array): number {
  return asked.reduce((sum, angle, crease) => sum + (angle - reached[crease]!) ** 2, 0);
}

/** With angles left open the finished state is whatever the motion reached. */
function stateOrReached(sheet: Sheet, part: number, state: ScaledState, track: StepTrack) {
  if (part < 1 || state.complete) return { sheet, angle: state.angle, deviation: state.deviation };
  return { ...endOf(track), deviation: track.report.deviation };
}

function foldWholeLesson(input: Input, sheet: Sheet, options: Options, how: FoldOptions): Folded {
  const lesson = input.lesson!;
  const { stages, findings } = stagesOfLesson(lesson, sheet);
  const { tracks, angle } = runStages(sheet, stages, how);
  const checked = checkTracks(input, sheet, options, stages, tracks);
  const all = [
    ...findings,
    ...tracks.flatMap((track, step) => [...track.report.findings, ...checked[step]!]),
  ];
  const state = scaledState(sheet, 1, how);
  const reached = { sheet, angle, deviation: largestMiss(state.angle, angle) };
  return answer(state.complete ? { sheet, ...state } : reached, tracks, all);
}

function foldOneStep(input: Input, sheet: Sheet, options: Options, how: FoldOptions): Folded {
  const lesson = input.lesson;
  const { stages, findings } = lesson
    ? stagesOfLesson(lesson, sheet)
    : { stages: [stageOfFinishedAngles(sheet)], findings: [] };
  const number = options.step!;
  const stage = stages[number - 1];
  if (!stage) {
    throw new Unusable(
      `There is no step ${number}: this file has ${stages.length} ${stages.length === 1 ? 'step' : 'steps'}.`,
    );
  }
  const before = runStages(sheet, stages.slice(0, number - 1), how);
  const broken = before.tracks.find((track) => track.report.outcome === 'fails');
  const track = runToEnd(sheet, before.angle, stage, how);
  const part = options.to ?? 1;
  const reached = part < 1 ? poseAlong(track, part) : endOf(track);
  const tracks = broken ? before.tracks : [...before.tracks, track];
  const checked = checkTracks(input, sheet, options, stages, tracks)[number - 1] ?? [];
  const notes = [...findings, ...(broken?.report.findings ?? []), ...checked];
  if (options.hold.size > 0) return driveHeld(sheet, ownAngles(sheet, reached.angle), options, how, notes);
  // the step's own targets, as they are, when they close; else what was reached
  const asked = stage.target.map((angle, crease) => (Number.isNaN(angle) ? reached.angle[crease]! : angle));
  const exact = part === 1 && closureOfPose(sheet, asked).largest < CLOSED;
  const state = exact
    ? { sheet, angle: asked, deviation: 0 }
    : { ...reached, deviation: track.report.deviation };
  return answer(state, [...(broken ? [broken] : []), track], [...notes, ...track.report.findings]);
}

/** Each question about layers ends after this, seconds; contact is told however long it takes. */
const LAYER_SECONDS = 30;

/** What the steps of a lesson meet, step by step; nothing where the file is no lesson. */
function checkTracks(
  input: Input,
  sheet: Sheet,
  options: Options,
  stages: readonly Stage[],
  tracks: readonly StepTrack[],
): Finding[][] {
  const { lesson } = input;
  if (!lesson) return [];
  const milliseconds = 1000 * (options.seconds ?? LAYER_SECONDS);
  return checkSteps({
    ...{ lesson, sheet, stages, tracks },
    sheetSize: input.size ?? lesson.sheet.size,
    still: stillPanel(input, sheet, options),
    startClock: () => {
      const until = Date.now() + milliseconds;
      return () => Date.now() > until;
    },
  });
}

/** Folds every step of a lesson with stiff panels and tells what the motions and the paper on its way have to say. */
export function findingsOfLesson(input: Input, given: Sheet, options: Options): Finding[] {
  const { sheet, findings } = settleAngles(given);
  const how: FoldOptions = { bend: options.bend, free: options.free, sheetSize: input.size ?? undefined };
  return [...findings, ...foldWholeLesson(input, sheet, options, how).findings];
}

function driveHeld(
  sheet: Sheet,
  start: Float64Array,
  options: Options,
  how: FoldOptions,
  notes: readonly Finding[],
): Folded {
  const target = new Float64Array(sheet.creaseKind.length).fill(Number.NaN);
  const exact = new Uint8Array(target.length);
  for (const [crease, degrees] of options.hold) {
    target[crease] = (degrees * Math.PI) / 180;
    exact[crease] = 1;
  }
  const track = runToEnd(sheet, start, { target, exact }, how);
  return answer(
    { ...endOf(track), deviation: track.report.deviation },
    [track],
    [...notes, ...track.report.findings],
  );
}

function answer(
  state: SheetPose & { deviation: number },
  tracks: readonly StepTrack[],
  findings: Finding[],
): Folded {
  const severity: readonly Outcome[] = ['rigid', 'bends', 'stopped', 'fails'];
  const outcomes = tracks.map((track) => track.report.outcome);
  const outcome = outcomes.reduce((a, b) => (severity.indexOf(b) > severity.indexOf(a) ? b : a), 'rigid');
  return { state, deviation: state.deviation, outcome, tracks, findings };
}

function runStages(sheet: Sheet, stages: readonly Stage[], how: FoldOptions) {
  const tracks: StepTrack[] = [];
  let angle = new Float64Array(sheet.creaseKind.length);
  for (const stage of stages) {
    const track = runToEnd(sheet, angle, stage, how);
    tracks.push(track);
    angle = ownAngles(sheet, endOf(track).angle);
    if (track.report.outcome === 'fails') break;
  }
  return { tracks, angle };
}

function runToEnd(sheet: Sheet, start: Float64Array, stage: Stage, how: FoldOptions): StepTrack {
  const motion = foldStep(sheet, start, stage, how);
  for (;;) {
    const next = motion.next();
    if (next.done) return next.value;
  }
}

function endOf(track: StepTrack): SheetPose {
  return { sheet: track.sheet, angle: track.poses[track.poses.length - 1]!.angle };
}

/** The pose at a moment of a track, 0..1: neighbours blended, then brought to closure. */
export function poseAlong(track: StepTrack, at: number): SheetPose {
  const { poses, sheet } = track;
  const after = poses.findIndex((pose) => pose.at >= at);
  const b = poses[after < 0 ? poses.length - 1 : after]!;
  const a = poses[Math.max(0, (after < 0 ? poses.length : after) - 1)]!;
  const share = b.at > a.at ? (at - a.at) / (b.at - a.at) : 0;
  const near = a.angle.map((angle, crease) => angle + Math.min(1, share) * (b.angle[crease]! - angle));
  return { sheet, angle: correctPose(sheet, near).angle };
}

/** Without the angles of added bend lines. */
function ownAngles(sheet: Sheet, angle: Float64Array): Float64Array<ArrayBuffer> {
  return Float64Array.from(angle.subarray(0, sheet.creaseKind.length));
}

function foldingTargets(sheet: Sheet, angle: Float64Array): Float64Array {
  return angle.map((value, crease) => (kindFolds(sheet.creaseKind[crease]!) ? value : Number.NaN));
}

function largestMiss(asked: Float64Array, reached: Float64Array): number {
  let most = 0;
  for (let i = 0; i < asked.length; i++) most = Math.max(most, Math.abs(asked[i]! - reached[i]!));
  return (most * 180) / Math.PI;
}
