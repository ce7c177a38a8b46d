/** Which creases of a corner lie in line as the paper is folded: turned together, they leave the corner closed. */
import { COLLINEAR } from '../numeric/tolerance.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { ClosureSystem } from './closure.ts';
import type { TiedPart } from './parts.ts';

/** A way from a pose to angles asked for; one entry per crease of the sheet, radians. */
export interface Asked {
  readonly sheet: Sheet;
  readonly start: Float64Array;
  /** NaN for what follows. */
  readonly target: Float64Array;
  /** Kinds do not bound the sign; `bothWays` 1: that of this crease does not. */
  readonly free: boolean;
  readonly bothWays?: Uint8Array;
}

/** Direction, away from the corner, of each crease of each loop, as folded and seen from the loop's first panel. */
export type Axes = readonly (readonly (readonly number[])[])[];

/** The axes of a part's loops at the start. */
export function foldedAxes(part: TiedPart, { sheet, start }: Asked): Axes {
  const system = new ClosureSystem(sheet, new Uint8Array(start.length), part.loops);
  system.evaluate(start);
  return part.loops.map((_, l) => system.axesOfLoop(l));
}

/**
 * 1 where two axes point opposite ways, so that their creases can turn by the same angle; -1 where they point the same
 * way, so that one turns against the other; 0 where they are not in line.
 */
export function inLine(a: readonly number[], b: readonly number[]): -1 | 0 | 1 {
  const cross = [a[1]! * b[2]! - a[2]! * b[1]!, a[2]! * b[0]! - a[0]! * b[2]!, a[0]! * b[1]! - a[1]! * b[0]!];
  if (Math.hypot(...cross) >= COLLINEAR) return 0;
  return a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]! < 0 ? 1 : -1;
}
