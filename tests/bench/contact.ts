/** Contact per frame: the tree of boxes against every pair looked at, on the same frames; and how it grows. */
import { apart, crossPair, planeGap, relativeMotion } from '../../src/core/contact/pair.ts';
import { type PosedPanels, posePanels, shapesOf, shareCrease } from '../../src/core/contact/shapes.ts';
import { contactsOfTrack } from '../../src/core/contact/track.ts';
import { seededRandom } from '../../src/core/numeric/random.ts';
import { closureOfPose } from '../../src/core/pose/closure.ts';
import { placePanels } from '../../src/core/pose/place.ts';
import type { TrackPose } from '../../src/core/pose/track.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { miuraSheet, radians } from '../support/patterns.ts';
import { hingedStrip } from '../support/strips.ts';
import { best, growth, heading, row } from './measure.ts';

/**
 * A Miura sheet with its straight lines folded to a given angle, degrees, each frame 3 degrees further. With a corner of
 * 60 degrees the zigzag lines fold so that tan(zigzag / 2) = tan(straight / 2) / cos 60 (shared-edge rule of four
 * creases with supplementary corners; the pose is checked to close).
 */
function miuraFrames(n: number, start: number, frames: number): { sheet: Sheet; poses: TrackPose[] } {
  const sheet = miuraSheet(n, n);
  const poses = Array.from({ length: frames + 1 }, (_, k): TrackPose => {
    const straight = (start + 3 * k) * radians;
    const zigzag = 2 * Math.atan(Math.tan(straight / 2) / Math.cos(60 * radians));
    const angle = sheet.creaseAngle.map((finished, e) => {
      if (Number.isNaN(finished)) return 0;
      const [a, b] = [sheet.creaseFrom[e]!, sheet.creaseTo[e]!];
      const upright = Math.abs(sheet.vertexX[a]! - sheet.vertexX[b]!) < 1e-9;
      return Math.sign(finished) * (upright ? straight : zigzag);
    });
    const { largest } = closureOfPose(sheet, angle);
    if (largest > 1e-9) throw new Error(`pose ${k} does not close: ${largest}`);
    return { at: k / frames, angle };
  });
  return { sheet, poses };
}

/** Pleats of random widths, standing at random angles like the folds of a fan, closing by 3 degrees a frame; seed 5. */
function fanFrames(panels: number, frames: number): { sheet: Sheet; poses: TrackPose[] } {
  const random = seededRandom(5);
  const strip = hingedStrip(
    Array.from({ length: panels }, () => 0.5 + random()),
    1,
    Array.from({ length: panels + 1 }, () => 0.3 * (random() - 0.5)),
  );
  const turns = strip.creases.map((_, k) => (k % 2 === 0 ? 1 : -1) * (60 + 40 * random()));
  const poses = Array.from({ length: frames + 1 }, (_, k): TrackPose => {
    const angle = new Float64Array(strip.sheet.creaseKind.length);
    strip.creases.forEach((e, i) => {
      angle[e] = (turns[i]! + Math.sign(turns[i]!) * 3 * k) * radians;
    });
    return { at: k / frames, angle };
  });
  return { sheet: strip.sheet, poses };
}

/** One frame with every pair looked at. */
function everyPair(p: PosedPanels, q: PosedPanels): number {
  const { shapes } = p;
  let near = 0;
  for (let a = 0; a < shapes.panels; a++)
    for (let b = a + 1; b < shapes.panels; b++) {
      if (shareCrease(shapes, a, b)) continue;
      const way = 1.25 * relativeMotion(p, q, a, b);
      if (planeGap(p, a, b) >= way || apart(p, a, b, way) >= way) continue;
      near++;
      if (crossPair(q, a, b)) near += 1e6;
    }
  return near;
}

export function benchContact(): void {
  heading('Contact per frame (ms)');
  row('pattern panels | tree, whole check  every pair  times faster | contacts');
  const frames = 3;
  const families: [string, (size: number) => { sheet: Sheet; poses: TrackPose[] }, number[]][] = [
    ['Miura, half folded', (n) => miuraFrames(n, 60, frames), [16, 32, 45]],
    ['Miura, nine tenths folded', (n) => miuraFrames(n, 120, frames), [16, 32, 45]],
    ['random pleats', (n) => fanFrames(n, frames), [250, 1000, 2000]],
  ];
  for (const [name, make, sizes] of families) {
    const times: [number, number][] = [];
    for (const size of sizes) {
      const { sheet, poses } = make(size);
      const shapes = shapesOf(sheet);
      const { contacts } = contactsOfTrack({ sheet, poses, still: 0 });
      const whole = best(2, () => contactsOfTrack({ sheet, poses, still: 0 })) / frames;
      const [p, q] = [0, 1].map((k) => posePanels(shapes, placePanels(sheet, poses[k]!.angle, 0))) as [
        PosedPanels,
        PosedPanels,
      ];
      const brute = best(shapes.panels > 1500 ? 0 : 1, () => everyPair(p, q));
      row(name, shapes.panels, '|', whole, brute, brute / whole, '|', contacts.length);
      times.push([shapes.panels, whole]);
    }
    row('growth exponent in panels', growth(times));
  }
}
