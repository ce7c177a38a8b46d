/** What a motion has to say for itself: findings in plain words, with the creases, corners and panels concerned. */
import { type Finding, finding } from '../finding/finding.ts';
import { MISS } from '../numeric/tolerance.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { type BentSheet, bendOf } from './bend-lines.ts';
import type { MotionEnd } from './motion.ts';
import type { Outcome, Stage, TrackPose } from './track.ts';

export interface MotionFacts {
  readonly bent: BentSheet;
  readonly end: MotionEnd;
  readonly poses: readonly TrackPose[];
  readonly stage: Stage;
  readonly outcome: Outcome;
  readonly tear: { readonly gap: number; readonly vertex: number };
  readonly peakBend: number;
}

const degrees = 180 / Math.PI;
const asDegrees = (radians: number) => `${(radians * degrees).toFixed(Math.abs(radians) < 0.0175 ? 2 : 1)}°`;

export function describeMotion(facts: MotionFacts): Finding[] {
  const findings: Finding[] = [];
  if (facts.outcome === 'fails') findings.push(describeFailure(facts));
  if (facts.outcome === 'bends') findings.push(describeBending(facts));
  for (const jump of facts.end.jumps)
    findings.push(
      finding(
        'motion-jumps',
        'error',
        `At ${Math.round(jump.at * 100)} % of the step crease ${jump.crease} would have to leap by ${asDegrees(jump.change)} at once: no continuous motion was found past this point.`,
        { value: jump.change * degrees, creases: [jump.crease], at: [middleOf(facts.bent.sheet, jump.crease)] },
      ),
    );
  return findings;
}

function describeFailure({ bent, end, stage, poses, tear }: MotionFacts): Finding {
  const { sheet } = bent;
  const last = poses[poses.length - 1]!.angle;
  const missing = [...stage.target.keys()]
    .map((crease) => ({ crease, miss: Math.abs(stage.target[crease]! - last[crease]!) }))
    .filter(({ miss }) => miss > MISS)
    .sort((a, b) => b.miss - a.miss);
  const vertices = heldAt(end, missing.map(({ crease }) => crease), sheet);
  const creases = missing.map(({ crease }) => crease);
  const named = creases.slice(0, 6).join(', ') + (creases.length > 6 ? ` and ${creases.length - 6} more` : '');
  const short = missing.length > 0 ? missing[0]!.miss : end.remaining;
  const message =
    missing.length > 0
      ? `With stiff panels no motion was found: crease${creases.length > 1 ? 's' : ''} ${named} stop${creases.length > 1 ? '' : 's'} short, by up to ${asDegrees(short)}. Held back at corner${vertices.length === 1 ? '' : 's'} ${vertices.slice(0, 6).join(', ')}.`
      : 'With stiff panels no continuous motion was found to this pose.';
  return finding('motion-fails', 'error', message, {
    value: Math.max(short, tear.gap > 0 ? 0 : short) * degrees,
    limit: MISS * degrees,
    creases,
    vertices,
    at: vertices.map((v) => [sheet.vertexX[v]!, sheet.vertexY[v]!] as const),
  });
}

function describeBending({ bent, poses, peakBend }: MotionFacts): Finding {
  const panels = new Set<number>();
  for (const { angle } of poses) for (const panel of bendOf(bent, angle, MISS).panels) panels.add(panel);
  const atEnd = bendOf(bent, poses[poses.length - 1]!.angle, 0).largest;
  const end = atEnd < MISS ? 'flat again at the end' : `still bent by ${asDegrees(atEnd)} at the end`;
  return finding(
    'motion-bends',
    'warning',
    `Paper must bend here: ${panels.size} panels bend during the step, by up to ${asDegrees(peakBend)}, ${end}.`,
    { value: peakBend * degrees, limit: MISS * degrees, panels: [...panels].sort((a, b) => a - b) },
  );
}

/** Corners that hold the motion back: those with the largest moments, else the ends of the creases that stop short. */
function heldAt({ solver }: MotionEnd, creases: readonly number[], sheet: Sheet): number[] {
  const { system, multiplier } = solver;
  const moments: { vertex: number; moment: number }[] = [];
  let most = 0;
  for (let l = 0; l < system.loops; l++) {
    if (system.vertexOfLoop(l) === NONE) continue;
    const r = system.rowOfLoop(l);
    const moment = Math.hypot(multiplier[r]!, multiplier[r + 1]!, multiplier[r + 2]!);
    moments.push({ vertex: system.vertexOfLoop(l), moment });
    most = Math.max(most, moment);
  }
  const ends = new Set(creases.flatMap((e) => [sheet.creaseFrom[e]!, sheet.creaseTo[e]!]));
  const held = moments.filter(({ vertex, moment }) => ends.has(vertex) && moment > 0.05 * most);
  const chosen = held.length > 0 ? held : moments.filter(({ vertex }) => ends.has(vertex));
  return chosen.sort((a, b) => b.moment - a.moment).map(({ vertex }) => vertex);
}

function middleOf(sheet: Sheet, crease: number): readonly [number, number] {
  const a = sheet.creaseFrom[crease]!;
  const b = sheet.creaseTo[crease]!;
  return [(sheet.vertexX[a]! + sheet.vertexX[b]!) / 2, (sheet.vertexY[a]! + sheet.vertexY[b]!) / 2];
}
