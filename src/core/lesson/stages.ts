import Flatbush from 'flatbush';
import { type Finding, finding } from '../finding/finding.ts';
import type { StepNamed } from '../finding/values/place.ts';
import { SNAP } from '../numeric/tolerance.ts';
import type { Stage } from '../pose/track.ts';
import { onSheet } from '../sheet/frame.ts';
import { kindFolds } from '../sheet/kind.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Drive, Lesson } from './lesson.ts';

/**
 * The orders of each step, resolved to creases by geometry: one stage a step, targets in radians, NaN for creases
 * that no drive names. A drive that meets no crease is an error (`step-misses`); two drives that ask one crease
 * for different angles are a warning, and the later one counts.
 */
export function stagesOfLesson(lesson: Lesson, sheet: Sheet): { stages: Stage[]; findings: Finding[] } {
  const findings: Finding[] = [];
  const stages = lesson.steps.map((step, number): Stage => {
    const name = { number, title: step.title };
    const resolve = (drives: readonly Drive[]) => targetOf(drives, name, sheet, findings);
    const target = resolve(step.off ? [] : step.drives);
    return step.through && !step.off ? { target, through: step.through.map(resolve) } : { target };
  });
  const bothWays = turnedBothWays(stages, sheet);
  return { stages: bothWays ? stages.map((stage) => ({ ...stage, bothWays })) : stages, findings };
}

function targetOf(
  drives: readonly Drive[],
  step: StepNamed,
  sheet: Sheet,
  findings: Finding[],
): Float64Array {
  const target = new Float64Array(sheet.creaseKind.length).fill(Number.NaN);
  for (const drive of drives) {
    const creases = creasesOnLine(sheet, drive);
    if (creases.length === 0) findings.push(missed(step, drive, sheet));
    const angle = (drive.angle * Math.PI) / 180;
    const changed = creases.filter((crease) => !Number.isNaN(target[crease]!) && target[crease] !== angle);
    if (changed.length > 0) findings.push(contradicts(step, drive, changed));
    for (const crease of creases) target[crease] = angle;
  }
  return target;
}

/** 1 for creases that one step folds to one side and another to the other; undefined where there are none. */
function turnedBothWays(stages: readonly Stage[], sheet: Sheet): Uint8Array | undefined {
  const turns = (crease: number, sign: 1 | -1) => stages.some(({ target }) => sign * target[crease]! > 0);
  const marks = Uint8Array.from(sheet.creaseKind, (_, crease) =>
    turns(crease, 1) && turns(crease, -1) ? 1 : 0,
  );
  return marks.includes(1) ? marks : undefined;
}

/** The stage that drives every folding crease to its finished angle; creases without one are free. */
export function stageOfFinishedAngles(sheet: Sheet): Stage {
  return {
    target: sheet.creaseAngle.map((angle, crease) =>
      kindFolds(sheet.creaseKind[crease]!) ? angle : Number.NaN,
    ),
  };
}

/** Folding creases that lie wholly on the drive's line, within the snap distance. */
export function creasesOnLine(sheet: Sheet, drive: Pick<Drive, 'from' | 'to'>): number[] {
  const [[ax, ay], to] = [onSheet(sheet, drive.from), onSheet(sheet, drive.to)];
  const [dx, dy] = [to[0] - ax, to[1] - ay];
  const length = Math.hypot(dx, dy);
  if (!(length > 0)) return [];
  const lies = (vertex: number): boolean => {
    const px = sheet.vertexX[vertex]! - ax;
    const py = sheet.vertexY[vertex]! - ay;
    const along = (px * dx + py * dy) / length;
    const across = Math.abs(px * dy - py * dx) / length;
    return across <= SNAP && along >= -SNAP && along <= length + SNAP;
  };
  const box = [Math.min(ax, to[0]), Math.min(ay, to[1]), Math.max(ax, to[0]), Math.max(ay, to[1])] as const;
  return creasesInBox(sheet, box).filter(
    (crease) =>
      kindFolds(sheet.creaseKind[crease]!) &&
      lies(sheet.creaseFrom[crease]!) &&
      lies(sheet.creaseTo[crease]!),
  );
}

const creaseBoxes = new WeakMap<Sheet, Flatbush>();

/** Creases whose boxes meet a box, to the snap distance, in their order. */
function creasesInBox(
  sheet: Sheet,
  [left, low, right, high]: readonly [number, number, number, number],
): number[] {
  if (sheet.creaseKind.length === 0) return [];
  let boxes = creaseBoxes.get(sheet);
  if (!boxes) creaseBoxes.set(sheet, (boxes = boxesOfCreases(sheet)));
  return boxes.search(left - SNAP, low - SNAP, right + SNAP, high + SNAP).sort((a, b) => a - b);
}

function boxesOfCreases({ creaseFrom, creaseTo, vertexX, vertexY }: Sheet): Flatbush {
  const boxes = new Flatbush(creaseFrom.length);
  creaseFrom.forEach((from, crease) => {
    const to = creaseTo[crease]!;
    const [x1, x2, y1, y2] = [vertexX[from]!, vertexX[to]!, vertexY[from]!, vertexY[to]!];
    boxes.add(Math.min(x1, x2), Math.min(y1, y2), Math.max(x1, x2), Math.max(y1, y2));
  });
  boxes.finish();
  return boxes;
}

function missed(step: StepNamed, { from, to }: Drive, sheet: Sheet): Finding {
  const at = [from, to].map((point) => onSheet(sheet, point));
  return finding('step-misses', 'error', { how: 'no-crease', step, from, to }, { at });
}

function contradicts(step: StepNamed, { from, to, angle }: Drive, creases: number[]): Finding {
  return finding('step-misses', 'warning', { how: 'two-angles', step, from, to, angle }, { creases });
}
