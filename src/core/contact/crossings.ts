/** Crossings of a single pose. */
import type { Placement } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { BoxTree } from './boxes.ts';
import { crossPair } from './pair.ts';
import { type PanelShapes, type PosedPanels, posePanels, seenFrom, shapesOf, shareCrease } from './shapes.ts';

export interface Crossing {
  readonly panels: readonly [number, number];
  /** How far the shallower side reaches through, sheet units; see `PairCrossing`. */
  readonly depth: number;
  /** What reaches through by that much ends at raw edges. */
  readonly free: boolean;
  /** Middle of the line in which they cross: in space, and on the flat sheet as each of the two has it. */
  readonly place: readonly [number, number, number];
  readonly at: readonly (readonly [number, number])[];
}

const treeOf = new WeakMap<PanelShapes, BoxTree>();

/** The tree of a sheet, made once. */
export function boxTree(shapes: PanelShapes): BoxTree {
  let tree = treeOf.get(shapes);
  if (!tree) {
    tree = new BoxTree(shapes);
    treeOf.set(shapes, tree);
  }
  return tree;
}

/**
 * All pairs of panels that pass through each other in one pose. Touching, sliding and coplanar panels do not, nor do
 * panels that only meet in a common crease or point.
 */
export function crossingsOfPose(sheet: Sheet, placement: Placement): Crossing[] {
  const shapes = shapesOf(sheet);
  const posed = posePanels(shapes, placement);
  const tree = boxTree(shapes);
  tree.fit(posed, posed, 0);
  const found: Crossing[] = [];
  tree.pairs((a, b) => {
    if (shareCrease(shapes, a, b)) return;
    const crossing = crossPair(posed, a, b);
    if (crossing) found.push({ panels: [a, b], ...crossing, at: onSheet(posed, [a, b], crossing.place) });
  });
  return found.sort((p, q) => p.panels[0] - q.panels[0] || p.panels[1] - q.panels[1]);
}

/** A place in space as points of the flat sheet, one for each panel. */
export function onSheet(
  posed: PosedPanels,
  panels: readonly number[],
  [x, y, z]: readonly [number, number, number],
): [number, number][] {
  return panels.map((panel) => {
    const [u, v] = seenFrom(posed, panel, x, y, z);
    return [u, v];
  });
}
