/** What stands between the eye and some panels. */
import type { PlacedPose } from '../../desk/play/board.ts';
import type { ModelStage } from '../../scene/stage.ts';

/** Places of a triangle from which what hides it is looked for: shares of its corners. */
const SAMPLES = [
  [1 / 3, 1 / 3],
  [0.08, 0.08],
  [0.84, 0.08],
  [0.08, 0.84],
  [0.46, 0.46],
  [0.46, 0.08],
  [0.08, 0.46],
] as const;
/** With more panels only one place is looked from: no more than takes a few milliseconds. */
const MANY = 300;

/** Panels that stand between the eye and some of the given ones. */
export function hidersOf(stage: ModelStage, { sheet }: PlacedPose, wished: ReadonlySet<number>): Set<number> {
  const passed = new Set(wished);
  const { leaves, mesh } = stage.drawnLeaves!;
  const samples = SAMPLES.slice(0, sheet.panelRings.length > MANY ? 1 : SAMPLES.length);
  leaves.leaves.forEach(({ panel }, leaf) => {
    if (!wished.has(panel)) return;
    for (let t = mesh.firstTriangle[leaf]!; t < mesh.firstTriangle[leaf + 1]!; t++) {
      const [a, b, c] = [0, 1, 2].map((k) => mesh.triangles[3 * t + k]!) as [number, number, number];
      for (const [p, q] of samples) {
        const at = (k: 0 | 1) =>
          p * mesh.flat[2 * a + k]! + q * mesh.flat[2 * b + k]! + (1 - p - q) * mesh.flat[2 * c + k]!;
        const place = stage.placeOf(leaf, at(0), at(1));
        for (let next = stage.hider(place, passed); next !== null; next = stage.hider(place, passed))
          passed.add(next);
      }
    }
  });
  for (const panel of wished) passed.delete(panel);
  return passed;
}
