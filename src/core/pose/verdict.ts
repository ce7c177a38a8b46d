/** What a motion has to say for itself: findings with the creases, corners and panels concerned. */
import { type Finding, finding } from '../finding/finding.ts';
import type { TornOpen } from '../finding/values/motion.ts';
import type { FindingValues } from '../finding/values.ts';
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

export function describeMotion(facts: MotionFacts): Finding[] {
  const findings: Finding[] = [];
  if (facts.outcome === 'fails') findings.push(describeFailure(facts));
  if (facts.outcome === 'bends') findings.push(describeBending(facts));
  const flipped = flippedCreases(facts);
  if (flipped.length > 0)
    findings.push(finding('kind-flipped', 'warning', { how: 'on-the-way' }, { creases: flipped }));
  for (const { at, crease, change } of facts.end.jumps) {
    const by = change * degrees;
    const where = { creases: [crease], at: [creaseMiddle(facts.bent.sheet, crease)] };
    findings.push(finding('motion-jumps', 'error', { at, crease, by }, { value: by, ...where }));
  }
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
  const by = end.remaining * degrees;
  const values: FindingValues['motion-fails'] = {
    bendTried,
    wrong: wrong.map(({ crease, angle }) => ({
      ...{ crease, angle: angle * degrees, asked: stage.target[crease]! * degrees },
    })),
    ...{ atOdds: odd, short, by },
    stuck: torn || tear.crease === NONE ? null : tear.crease,
    torn: torn ? tornOpen(tear, sheetSize) : null,
  };
  return finding('motion-fails', 'error', values, {
    ...{ value: by, limit: MISS * degrees, creases, vertices },
    at: vertices.map((v) => [sheet.vertexX[v]!, sheet.vertexY[v]!] as const),
  });
}

function tornOpen({ gap, crease, corners }: Tear, sheetSize: number | undefined): TornOpen {
  return {
    ...{ crease, corners: corners.map(({ vertex }) => vertex) },
    rotation: (corners[0]?.rotation ?? 0) * degrees,
    ...(sheetSize ? { gap: gap * sheetSize, unit: 'mm' } : { gap, unit: 'share' }),
  };
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

function describeBending({ bent, poses, peakBend }: MotionFacts): Finding {
  const panels = new Set<number>();
  for (const { angle } of poses) for (const panel of bendOf(bent, angle, MISS).panels) panels.add(panel);
  const atEnd = bendOf(bent, poses[poses.length - 1]!.angle, 0).largest;
  return finding(
    'motion-bends',
    'warning',
    { most: peakBend * degrees, atEnd: atEnd < MISS ? null : atEnd * degrees },
    { value: peakBend * degrees, limit: MISS * degrees, panels: [...panels].sort((a, b) => a - b) },
  );
}
