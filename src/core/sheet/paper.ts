/** Which faces of the arrangement are paper: told by raw edges alone. */
import { Groups } from '../numeric/plane.ts';
import { KIND } from './kind.ts';
import type { Faces, Net } from './rings.ts';
import { originOf } from './rings.ts';

interface Paper {
  /** 1 for each face of the sheet. */
  readonly isPaper: Uint8Array;
  /** How many separate regions raw edges enclose; the largest is taken as the sheet. */
  readonly regions: number;
}

/**
 * Finds the paper: the largest region that is enclosed by raw edges and reached from outside over one raw edge. What
 * is reached only over a second raw edge is a hole, and over a third an island (another sheet).
 */
export function findPaper(net: Net, faces: Faces, kind: Uint8Array): Paper {
  const region = new Groups(faces.faceCount);
  const edges: number[] = [];
  for (let e = 0; e < kind.length; e++) {
    if (kind[e] === KIND.edge) edges.push(e);
    else region.join(faces.face[2 * e]!, faces.face[2 * e + 1]!);
  }
  const depth = depths(faces, region, edges);
  const area = new Map<number, number>();
  for (let h = 0; h < faces.next.length; h++) {
    const root = region.find(faces.face[h]!);
    if ((depth.get(root) ?? 0) % 2 === 1) area.set(root, (area.get(root) ?? 0) + areaUnder(net, h));
  }
  let sheet = -1;
  for (const [root, size] of area) if (sheet < 0 || size > area.get(sheet)!) sheet = root;
  const isPaper = new Uint8Array(faces.faceCount);
  for (let f = 0; f < faces.faceCount; f++) isPaper[f] = sheet >= 0 && region.find(f) === sheet ? 1 : 0;
  return { isPaper, regions: area.size };
}

/** How many raw edges must be crossed to get to each region from outside. */
function depths(faces: Faces, region: Groups, edges: readonly number[]): Map<number, number> {
  const beyond = new Map<number, number[]>();
  for (const e of edges) {
    const left = region.find(faces.face[2 * e]!);
    const right = region.find(faces.face[2 * e + 1]!);
    if (left === right) continue;
    for (const [here, there] of [
      [left, right],
      [right, left],
    ] as const) {
      const list = beyond.get(here);
      if (list === undefined) beyond.set(here, [there]);
      else list.push(there);
    }
  }
  const start = region.find(faces.outside);
  const depth = new Map([[start, 0]]);
  const queue = [start];
  for (let k = 0; k < queue.length; k++) {
    const here = queue[k]!;
    for (const there of beyond.get(here) ?? []) {
      if (depth.has(there)) continue;
      depth.set(there, depth.get(here)! + 1);
      queue.push(there);
    }
  }
  return depth;
}

/** Part of the shoelace sum that half-edge h gives; rings that run counter-clockwise sum to twice their area. */
function areaUnder(net: Net, h: number): number {
  const a = originOf(net, h);
  const b = originOf(net, h ^ 1);
  return net.x[a]! * net.y[b]! - net.x[b]! * net.y[a]!;
}

/** Lines with the outside on just one side: the outer boundary of a drawing without raw edges. */
export function outerBoundary(faces: Faces): number[] {
  const lines: number[] = [];
  for (let e = 0; 2 * e < faces.face.length; e++) {
    if ((faces.face[2 * e] === faces.outside) !== (faces.face[2 * e + 1] === faces.outside)) lines.push(e);
  }
  return lines;
}
