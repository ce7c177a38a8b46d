/**
 * Leaves of paper as plain arrays to draw: triangles of each, the seams between them, and one strip per border.
 * Everything is flat and does not change with the place of a panel; the shaders place it.
 */
import { type LeafBorder, type Leaves, seamsInParts } from '../core/layer/leaves.ts';
import { finer, trianglesOfRings } from '../core/sheet/panel-mesh.ts';
import type { Sheet } from '../core/sheet/sheet.ts';

export interface LeafMesh {
  /** Two flat coordinates per corner, sheet units. */
  readonly flat: Float32Array;
  readonly panel: Float32Array;
  /** Of a seam's corner the panel across it; else the same as `panel`. */
  readonly beyond: Float32Array;
  readonly rise: Float32Array;
  /** 0 for paper; of a seam's corners 1 on its first leaf, -1 on its second. */
  readonly seam: Float32Array;
  /** Of a seam's corner the rise across it, and the seam's ends (flat x, y, x, y); else 0. */
  readonly riseBeyond: Float32Array;
  readonly seamEnds: Float32Array;
  /** Three corners per triangle, counter-clockwise on the flat sheet; the triangles of seams come last. */
  readonly triangles: Uint32Array;
  /** First triangle of each leaf, and one past the last leaf's at the end. */
  readonly firstTriangle: Int32Array;
  readonly strips: LeafStrips;
}

export interface LeafStrips {
  /** Per strip: flat x, y of start and end of its crease, and the shares between which it runs. */
  readonly ends: Float32Array;
  readonly span: Float32Array;
  readonly inward: Float32Array;
  readonly panel: Float32Array;
  /** Panel on the other side of the crease, or -1. */
  readonly beyond: Float32Array;
  readonly rise: Float32Array;
  readonly crease: Int32Array;
}

const none = [0, 0, 0, 0];

/**
 * Builds the arrays. Leaves may be of any shape and have holes.
 * @param fineness triangles are cut into four so many times, lines into as many parts as that takes; for bent paper
 */
export function leafMesh(sheet: Sheet, { leaves, borders, seams }: Leaves, fineness = 0): LeafMesh {
  const parts = 2 ** fineness;
  const flat: number[] = [];
  const panel: number[] = [];
  const beyond: number[] = [];
  const rise: number[] = [];
  const seam: number[] = [];
  const triangles: number[] = [];
  const riseBeyond: number[] = [];
  const seamEnds: number[] = [];
  const corner = (x: number, y: number, leaf: number, other: number, ends: readonly number[] = none) => {
    flat.push(x, y);
    panel.push(leaves[leaf]!.panel);
    beyond.push(leaves[other]!.panel);
    rise.push(leaves[leaf]!.rise);
    seam.push(0);
    riseBeyond.push(leaves[other]!.rise);
    seamEnds.push(...ends);
    return panel.length - 1;
  };
  const firstTriangle = new Int32Array(leaves.length + 1);
  leaves.forEach(({ rings }, leaf) => {
    firstTriangle[leaf] = triangles.length / 3;
    const base = panel.length;
    const cut = finer(rings.flat(), trianglesOfRings(rings), fineness);
    for (let k = 0; k < cut.flat.length; k += 2) corner(cut.flat[k]!, cut.flat[k + 1]!, leaf, leaf);
    for (const at of cut.triangles) triangles.push(base + at);
  });
  firstTriangle[leaves.length] = triangles.length / 3;
  for (const { first, second, ends } of seamsInParts(seams, parts)) {
    const [x1, y1, x2, y2] = ends;
    const [right, left] = [
      [corner(x1, y1, second, first, ends), corner(x2, y2, second, first, ends)],
      [corner(x1, y1, first, second, ends), corner(x2, y2, first, second, ends)],
    ];
    for (const at of right) seam[at] = -1;
    for (const at of left) seam[at] = 1;
    triangles.push(right[0]!, right[1]!, left[1]!, right[0]!, left[1]!, left[0]!);
  }
  return {
    flat: Float32Array.from(flat),
    panel: Float32Array.from(panel),
    beyond: Float32Array.from(beyond),
    rise: Float32Array.from(rise),
    seam: Float32Array.from(seam),
    riseBeyond: Float32Array.from(riseBeyond),
    seamEnds: Float32Array.from(seamEnds),
    triangles: Uint32Array.from(triangles),
    firstTriangle,
    strips: stripsOf(sheet, leaves, bordersInParts(borders, parts)),
  };
}

function bordersInParts(borders: Leaves['borders'], parts: number): LeafBorder[] {
  return borders.flatMap((border) =>
    Array.from({ length: parts }, (_, part) => {
      const at = (share: number) => border.from + (border.to - border.from) * share;
      return { ...border, from: at(part / parts), to: at((part + 1) / parts) };
    }),
  );
}

function stripsOf(sheet: Sheet, leaves: Leaves['leaves'], borders: Leaves['borders']): LeafStrips {
  const ends: number[] = [];
  const inward: number[] = [];
  for (const { halfEdge } of borders) {
    const e = halfEdge >> 1;
    // Both strips of a crease run the same way, so that the dashes of its two halves meet.
    const [a, b] = [sheet.creaseFrom[e]!, sheet.creaseTo[e]!];
    const dx = sheet.vertexX[b]! - sheet.vertexX[a]!;
    const dy = sheet.vertexY[b]! - sheet.vertexY[a]!;
    const length = Math.hypot(dx, dy) || 1;
    const side = (halfEdge & 1) === 0 ? 1 : -1;
    ends.push(sheet.vertexX[a]!, sheet.vertexY[a]!, sheet.vertexX[b]!, sheet.vertexY[b]!);
    inward.push((-dy / length) * side, (dx / length) * side);
  }
  return {
    ends: Float32Array.from(ends),
    span: Float32Array.from(borders.flatMap(({ from, to }) => [from, to])),
    inward: Float32Array.from(inward),
    panel: Float32Array.from(borders, ({ leaf }) => leaves[leaf]!.panel),
    beyond: Float32Array.from(borders, ({ halfEdge }) => sheet.halfEdgePanel[halfEdge ^ 1]!),
    rise: Float32Array.from(borders, ({ leaf }) => leaves[leaf]!.rise),
    crease: Int32Array.from(borders, ({ halfEdge }) => halfEdge >> 1),
  };
}
