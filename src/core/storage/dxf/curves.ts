/** Where the curves of a DXF file run, finely enough to tell whether they lie on the sheet. Facts: AutoCAD DXF reference. */
import type { Point } from '../../numeric/vector.ts';
import type { DxfRecord } from './groups.ts';
import { facing } from './shapes.ts';

/** Points of one curve. */
const STEPS = 96;
/** A spline of more control points than this is not followed: it counts as lying on the sheet. */
const MOST_CONTROLS = 400;

/** Group codes without which it is not known how a curve runs. */
const needed: Readonly<Record<string, readonly number[]>> = {
  CIRCLE: [10, 20, 40],
  ARC: [10, 20, 40, 50, 51],
  ELLIPSE: [10, 20, 11, 21, 40],
};

/** Points along a curve in the coordinates of its drawing or block; none where it is not followed. */
export function pointsOfCurve(record: DxfRecord): Point[] {
  if (needed[record.type]?.some((code) => record.text(code) === undefined)) return [];
  switch (record.type) {
    case 'CIRCLE':
      return arcPoints(record, 0, 2 * Math.PI);
    case 'ARC':
      return arcPoints(record, radians(record.number(50)), radians(record.number(51)));
    case 'ELLIPSE':
      return ellipsePoints(record);
    case 'SPLINE':
      return splinePoints(record);
    default:
      return [];
  }
}

const radians = (degrees: number) => (degrees * Math.PI) / 180;

/** From one angle counter-clockwise to the other. */
function sweep(from: number, to: number, at: (angle: number) => Point): Point[] {
  const turn =
    to > from ? to - from : to - from + 2 * Math.PI * (1 + Math.floor((from - to) / (2 * Math.PI)));
  return Array.from({ length: STEPS + 1 }, (_, k) => at(from + (turn * k) / STEPS));
}

function arcPoints(record: DxfRecord, from: number, to: number): Point[] {
  const side = facing(record);
  const [x, y, radius] = [record.number(10), record.number(20), record.number(40)];
  return sweep(from, to, (angle) => [side * (x + radius * Math.cos(angle)), y + radius * Math.sin(angle)]);
}

/** The end of its longer half-axis stands relative to the middle; the shorter one is square to it. */
function ellipsePoints(record: DxfRecord): Point[] {
  const side = facing(record);
  const [x, y] = [record.number(10), record.number(20)];
  const [ax, ay, ratio] = [record.number(11), record.number(21), side * record.number(40)];
  return sweep(record.number(41, 0), record.number(42, 2 * Math.PI), (angle) => {
    const [c, s] = [Math.cos(angle), Math.sin(angle) * ratio];
    return [x + c * ax - s * ay, y + c * ay + s * ax];
  });
}

/** By de Boor's rule, with weights. */
function splinePoints(record: DxfRecord): Point[] {
  const all = (code: number) =>
    record.groups.filter((group) => group.code === code).map((group) => record.numberIn(group));
  const [across, up, knots, weights] = [all(10), all(20), all(40), all(41)];
  const degree = record.integer(71, 3);
  const count = across.length;
  const isWhole = up.length === count && knots.length === count + degree + 1 && degree >= 1 && degree < count;
  if (!isWhole || count > MOST_CONTROLS) return [];
  const [first, last] = [knots[degree]!, knots[count]!];
  const controls = across.map((x, k) => {
    const weight = weights[k] ?? 1;
    return [x * weight, up[k]! * weight, weight] as const;
  });
  const steps = Math.max(STEPS, 8 * count);
  return Array.from({ length: steps + 1 }, (_, k): Point => {
    const [x, y, weight] = deBoor(controls, knots, degree, first + ((last - first) * k) / steps);
    return [x / weight, y / weight];
  });
}

type Weighted = readonly [number, number, number];

function deBoor(
  controls: readonly Weighted[],
  knots: readonly number[],
  degree: number,
  t: number,
): Weighted {
  let span = degree;
  while (span < controls.length - 1 && t >= knots[span + 1]!) span++;
  const points = controls.slice(span - degree, span + 1).map((one) => [...one]);
  for (let level = 1; level <= degree; level++)
    for (let j = degree; j >= level; j--) {
      const low = knots[span - degree + j]!;
      const width = knots[span + 1 + j - level]! - low;
      const share = width > 0 ? (t - low) / width : 0;
      points[j] = points[j]!.map((value, k) => (1 - share) * points[j - 1]![k]! + share * value);
    }
  return points[degree] as unknown as Weighted;
}
