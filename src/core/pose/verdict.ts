/** What a motion has to say for itself: findings in plain words, with the creases, corners and panels concerned. */
import { type Finding, finding } from '../finding/finding.ts';
import { MISS, VISIBLE_GAP } from '../numeric/tolerance.ts';
import { type OtherAngle, otherAngles } from '../sheet/blame.ts';
import { KIND } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { creaseMiddle } from '../sheet/walk.ts';
import { type BentSheet, bendOf } from './bend-lines.ts';
import type { MotionEnd } from './motion.ts';
import type { Tear } from './tear.ts';
import type { Outcome, Stage, TrackPose } from './track.ts';

interface MotionFacts {
  readonly bent: BentSheet;
  readonly end: MotionEnd;
  readonly poses: readonly TrackPose[];
  readonly stage: Stage;
  readonly outcome: Outcome;
  readonly tear: Tear;
  readonly peakBend: number;
  readonly sheetSize: number | undefined;
  /** Bending was tried too. */
  readonly bendTried: boolean;
}

const degrees = 180 / Math.PI;
const asDegrees = (radians: number) => `${(radians * degrees).toFixed(Math.abs(radians) < 0.0175 ? 2 : 1)}°`;

export function describeMotion(facts: MotionFacts): Finding[] {
  const findings: Finding[] = [];
  if (facts.outcome === 'fails') findings.push(describeFailure(facts));
  if (facts.outcome === 'bends') findings.push(describeBending(facts));
  const flipped = flippedCreases(facts);
  if (flipped.length > 0)
    findings.push(
      finding(
        'kind-flipped',
        'warning',
        `${named('Crease', flipped)} ${flipped.length > 1 ? 'fold' : 'folds'} against ${flipped.length > 1 ? 'their' : 'its'} kind on the way, as allowed: mountain where valley is drawn, or valley where mountain is.`,
        { creases: flipped },
      ),
    );
  for (const jump of facts.end.jumps)
    findings.push(
      finding(
        'motion-jumps',
        'error',
        `At ${Math.round(jump.at * 100)} % of the step crease ${jump.crease} would have to leap by ${asDegrees(jump.change)} at once: no continuous motion was found past this point.`,
        {
          value: jump.change * degrees,
          creases: [jump.crease],
          at: [creaseMiddle(facts.bent.sheet, jump.crease)],
        },
      ),
    );
  return findings;
}

function describeFailure({ bent, end, stage, poses, tear, sheetSize, bendTried }: MotionFacts): Finding {
  const { sheet } = bent;
  const last = poses[poses.length - 1]!.angle;
  const short = [...stage.target.keys()]
    .filter((e) => Math.abs(stage.target[e]! - last[e]!) > MISS)
    .sort((a, b) => Math.abs(stage.target[b]! - last[b]!) - Math.abs(stage.target[a]! - last[a]!));
  // one that is at odds with the pattern may hold back the others and have arrived itself
  const odd = (stage.atOdds ?? []).filter((e) => !Number.isNaN(stage.target[e]!));
  const wrong = wrongDrives(sheet, poses[0]!.angle, stage);
  const creases = [...new Set([...wrong.map(({ crease }) => crease), ...odd, ...short])];
  const torn = tear.gap > VISIBLE_GAP;
  const vertices = torn
    ? tear.corners.map(({ vertex }) => vertex)
    : [...new Set(creases.flatMap((e) => [sheet.creaseFrom[e]!, sheet.creaseTo[e]!]))];
  const rest = end.remaining;
  const sentences = [
    bendTried
      ? 'Neither with stiff panels nor with panels bending along their diagonals was a continuous motion found to this pose.'
      : 'With stiff panels no continuous motion was found to this pose.',
  ];
  for (const { crease, angle } of wrong)
    sentences.push(
      `With crease ${crease} at ${asDegrees(angle)} instead of ${asDegrees(stage.target[crease]!)} what is asked would close.`,
    );
  if (odd.length > 0)
    sentences.push(
      `${named('Crease', odd)} ${odd.length > 1 ? 'are' : 'is'} asked for another angle than in the finished pattern.`,
    );
  if (short.length > 0)
    sentences.push(
      `${named('Crease', short)} ${short.length > 1 ? 'stop' : 'stops'} short, by up to ${asDegrees(rest)}.`,
    );
  if (!torn && tear.crease !== NONE)
    sentences.push(`The other folds would have to leap first before crease ${tear.crease} can move.`);
  if (torn) {
    const size = sheetSize
      ? `${(tear.gap * sheetSize).toFixed(1)} mm`
      : `${(tear.gap * 100).toFixed(1)} % of the sheet's side`;
    const open =
      vertices.length > 0
        ? `${named('corner', vertices)} would not close (by up to ${asDegrees(tear.corners[0]!.rotation)}) and `
        : '';
    sentences.push(`Forced half-way on crease ${tear.crease}, ${open}the paper would gape by ${size}.`);
  }
  return finding('motion-fails', 'error', sentences.join(' '), {
    value: rest * degrees,
    limit: MISS * degrees,
    creases,
    vertices,
    at: vertices.map((v) => [sheet.vertexX[v]!, sheet.vertexY[v]!] as const),
  });
}

/** Drives of which another angle alone makes all that is asked close, where nothing else moves. */
function wrongDrives(sheet: Sheet, start: Float64Array, { target }: Stage): OtherAngle[] {
  const asked = start.map((angle, e) => (Number.isNaN(target[e]!) ? angle : target[e]!));
  return otherAngles(sheet, asked).filter(({ crease }) => !Number.isNaN(target[crease]!));
}

/** Creases that fold by more than MISS to the side that their kind does not name, though no step asks them to. */
function flippedCreases({ bent, poses, stage }: MotionFacts): number[] {
  const { creaseKind } = bent.sheet;
  const own = creaseKind.length - bent.bendLines;
  const flips = (e: number, angle: number) =>
    (creaseKind[e] === KIND.valley && angle < -MISS) || (creaseKind[e] === KIND.mountain && angle > MISS);
  return [...creaseKind.keys()].filter(
    (e) => e < own && !stage.bothWays?.[e] && poses.some(({ angle }) => flips(e, angle[e]!)),
  );
}

function named(noun: string, numbers: readonly number[]): string {
  const shown = numbers.slice(0, 6).join(', ');
  const more = numbers.length > 6 ? ` and ${numbers.length - 6} more` : '';
  return `${noun}${numbers.length > 1 ? 's' : ''} ${shown}${more}`;
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
