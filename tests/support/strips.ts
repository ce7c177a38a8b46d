/** Strips of panels hinged one to the next, and straight runs of their fold angles, for tests of contact. */
import type { TrackPose } from '../../src/core/pose/track.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { PatternMaker, radians } from './patterns.ts';

export interface Strip {
  readonly sheet: Sheet;
  /** Crease between panel k and k + 1. */
  readonly creases: readonly number[];
  /** Number of the k-th panel on the sheet. */
  readonly panels: readonly number[];
  /** Length of a unit of the strip in sheet units. */
  readonly unit: number;
}

/**
 * A strip along +x. @param lengths of the panels along its lower edge
 * @param lean how far each crease's upper end stands to the right of its lower one; the two ends of the strip included
 */
export function hingedStrip(lengths: readonly number[], width: number, lean: readonly number[] = []): Strip {
  const maker = new PatternMaker();
  const at = [0];
  for (const length of lengths) at.push(at[at.length - 1]! + length);
  const low = at.map((x) => maker.point(x, 0));
  const high = at.map((x, k) => maker.point(x + (lean[k] ?? 0), width));
  const last = at.length - 1;
  const creases = at
    .slice(1, last)
    .map((_, k) => maker.line(low[k + 1]!, high[k + 1]!, 'unassigned', Number.NaN));
  maker.line(low[0]!, high[0]!, 'edge');
  maker.line(low[last]!, high[last]!, 'edge');
  for (let k = 0; k < last; k++) {
    maker.line(low[k]!, low[k + 1]!, 'edge');
    maker.line(high[k]!, high[k + 1]!, 'edge');
  }
  const sheet = maker.sheet();
  const sides = (e: number) => [sheet.halfEdgePanel[2 * e]!, sheet.halfEdgePanel[2 * e + 1]!];
  // creases run upward: the panel before lies on their left
  const panels = [sides(creases[0]!)[0]!, ...creases.map((e) => sides(e)[1]!)];
  return { sheet, creases, panels, unit: 1 / sheet.frame.scale };
}

/** Poses along straight lines through the given fold angles (degrees per crease of the strip), within 4 degrees. */
export function runOf(strip: Strip, stops: readonly (readonly number[])[], step = 4): TrackPose[] {
  const poses: Float64Array[] = [];
  const pose = (angles: readonly number[]) => {
    const angle = new Float64Array(strip.sheet.creaseKind.length);
    strip.creases.forEach((e, k) => {
      angle[e] = angles[k]! * radians;
    });
    return angle;
  };
  poses.push(pose(stops[0]!));
  for (let s = 1; s < stops.length; s++) {
    const [a, b] = [stops[s - 1]!, stops[s]!];
    const count = Math.max(1, Math.ceil(Math.max(...a.map((x, k) => Math.abs(x - b[k]!))) / step - 1e-9));
    for (let k = 1; k <= count; k++) poses.push(pose(a.map((x, i) => x + (k / count) * (b[i]! - x))));
  }
  return poses.map((angle, k) => ({ at: poses.length > 1 ? k / (poses.length - 1) : 0, angle }));
}
