/**
 * The two halves of a flap. A flap that opens along its folded edges parts into an upper and a lower pack of layers:
 * nothing joins the two but folded edges, and no layer of the lower one lies over one of the upper.
 */
import { FOLDED_FLAT, SAME_EDGE } from '../../numeric/tolerance.ts';
import {
  type HalfPlane,
  type Joint,
  jointsInside,
  type LyingPaper,
  leftOf,
  offRim,
  placeOf,
  type Region,
  shareInside,
} from './in-plane.ts';

export interface Packs {
  /** Panels on the side that the plane's normal looks to, and the others. */
  readonly upper: ReadonlySet<number>;
  readonly lower: ReadonlySet<number>;
  /** Folded creases between the two, the part of each inside the region; each once. */
  readonly ridges: readonly Joint[];
}

/** All ways to part the panels of a flap: those that open along one straight edge first, then the most even ones. */
export function packsOf(paper: LyingPaper, panels: readonly number[], region: Region): Packs[] {
  const stacks = stacksInside(paper, panels, region);
  const tallest = stacks.reduce((best, one) => (one.length > best.length ? one : best), []);
  const joints = panels.flatMap((panel) =>
    jointsInside(paper, panel, region).map((joint) => ({ ...joint, panel })),
  );
  const found = tallest.slice(1).flatMap((_, k): (Packs & { edges: number; uneven: number })[] => {
    const parted = partAt(paper, panels, stacks, joints, tallest, k + 1);
    return parted
      ? [{ ...parted, edges: edgesOf(paper, parted), uneven: Math.abs(2 * (k + 1) - tallest.length) }]
      : [];
  });
  return found.sort((a, b) => a.edges - b.edges || a.uneven - b.uneven || b.ridges.length - a.ridges.length);
}

/** How many straight edges the halves hang together along, as folded. */
function edgesOf(paper: LyingPaper, { ridges }: Packs): number {
  const edges: HalfPlane[] = [];
  for (const { beyond, from, to } of ridges) {
    const [a, b] = [placeOf(paper, beyond, from), placeOf(paper, beyond, to)];
    const lies = (edge: HalfPlane) => [a, b].every((p) => Math.abs(offRim(edge, p)) < SAME_EDGE);
    if (!edges.some(lies)) edges.push(leftOf(a, b));
  }
  return edges.length;
}

/** The layers of the flap over each cell of a region, lowest first. */
function stacksInside({ stacks, group }: LyingPaper, panels: readonly number[], region: Region): number[][] {
  const own = new Set(panels);
  const { net, faces } = stacks.planes.groups[group]!;
  const inside = new Uint8Array(faces.faceCount);
  faces.face.forEach((cell, h) => {
    const v = (h & 1) === 0 ? net.from[h >> 1]! : net.to[h >> 1]!;
    const w = (h & 1) === 0 ? net.to[h >> 1]! : net.from[h >> 1]!;
    if (shareInside(region, [net.x[v]!, net.y[v]!], [net.x[w]!, net.y[w]!])) inside[cell] = 1;
  });
  return stacks.over[group]!.flatMap((over, cell) => {
    const layers = inside[cell] ? over.filter((panel) => own.has(panel)) : [];
    return layers.length > 0 ? [layers] : [];
  });
}

/** Parts a flap below the k-th layer from the bottom of its tallest stack; null where it does not part there. */
function partAt(
  { angle }: LyingPaper,
  panels: readonly number[],
  stacks: readonly (readonly number[])[],
  joints: readonly (Joint & { readonly panel: number })[],
  tallest: readonly number[],
  k: number,
): Packs | null {
  const isUpper = new Map<number, boolean>(tallest.map((panel, layer) => [panel, layer >= k]));
  // what lies elsewhere goes with what it hangs on: where it is not folded first of all
  for (const unfolded of [true, false])
    for (let before = -1; before !== isUpper.size; ) {
      before = isUpper.size;
      for (const { panel, beyond, crease } of joints)
        if (
          isUpper.has(panel) &&
          !isUpper.has(beyond) &&
          (!unfolded || Math.abs(angle[crease]!) <= FOLDED_FLAT)
        )
          isUpper.set(beyond, isUpper.get(panel)!);
    }
  if (panels.some((panel) => !isUpper.has(panel))) return null;
  const parts = stacks.every((stack) =>
    stack.every((panel, layer) => layer === 0 || isUpper.get(panel)! || !isUpper.get(stack[layer - 1]!)),
  );
  const between = joints.filter(({ panel, beyond }) => isUpper.get(panel) && isUpper.get(beyond) === false);
  if (!parts || between.some(({ crease }) => Math.abs(angle[crease]!) <= FOLDED_FLAT)) return null;
  const pack = (upper: boolean) => new Set(panels.filter((panel) => isUpper.get(panel) === upper));
  return { upper: pack(true), lower: pack(false), ridges: between };
}
