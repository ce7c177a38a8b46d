/** How the model lies before its reader: turned over and turned round on the table, as steps before have said. */
import { multiply, turn } from '../numeric/rotation.ts';
import type { Placement } from '../pose/place.ts';
import { type Step, usualTurn } from './lesson.ts';

/** Turned over about its upright axis first, then turned round on the table. */
export interface Seen {
  readonly over: boolean;
  /** Radians, counter-clockwise as the reader sees it. */
  readonly round: number;
}

/**
 * How the model lies at a place of the storyboard: step k runs from k to k + 1, and turns the model half-way.
 * @param place 0 for the start of the first step
 */
export function seenAt(steps: readonly Step[], place: number): Seen {
  const gone = steps.filter(({ off }, k) => !off && place >= k + 0.5);
  const over = gone.filter(({ kind }) => kind === 'turn-over').length % 2 === 1;
  const degrees = gone.reduce(
    (sum, { kind, turn: by = usualTurn }) => (kind === 'rotate' ? sum + by : sum),
    0,
  );
  return { over, round: (degrees * Math.PI) / 180 };
}

/** A pose as its reader sees it: x to the right, y upward, z to the eye. */
export function asSeen({ rotation, translation }: Placement, { over, round }: Seen): Placement {
  const [sin, cos] = [Math.sin(round / 2), Math.cos(round / 2)];
  // the half turn about y, then the turn about z
  const view = over ? Float64Array.of(-sin, cos, 0, 0) : Float64Array.of(0, 0, sin, cos);
  const seen = { rotation: rotation.slice(), translation: translation.slice() };
  for (let panel = 0; 3 * panel < translation.length; panel++) {
    multiply(seen.rotation, 4 * panel, view, 0, rotation, 4 * panel);
    const [x, y, z] = translation.subarray(3 * panel, 3 * panel + 3) as unknown as [number, number, number];
    turn(seen.translation, 3 * panel, view, 0, x, y, z);
  }
  return seen;
}
