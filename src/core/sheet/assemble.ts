/** The last stage of every way to a sheet: from a planar net with kinds and angles to the sheet itself. */
import { findPaper } from './paper.ts';
import type { Net } from './rings.ts';
import { facesOf } from './rings.ts';
import type { Sheet } from './sheet.ts';
import { NONE } from './sheet.ts';

/**
 * Makes the sheet of a net whose raw edges are known. Points, lines and their directions keep their numbers; panels
 * are numbered by their first half-edge. Coordinates are moved and scaled so that the outline's box has its lower
 * left corner at the origin and its longer side is 1. Null when no raw edges enclose paper.
 * @param frame how the net's coordinates lead back to the input's
 */
export function assembleSheet(
  net: Net,
  kind: Uint8Array,
  angle: Float64Array,
  frame: Sheet['frame'],
): Sheet | null {
  const faces = facesOf(net);
  const { isPaper } = findPaper(net, faces, kind);
  const panelOfFace = new Int32Array(faces.faceCount).fill(NONE);
  const panelRings: number[][] = [];
  for (let f = 0; f < faces.faceCount; f++) {
    if (isPaper[f] !== 1) continue;
    panelOfFace[f] = panelRings.length;
    panelRings.push(faces.rings[f]!);
  }
  if (panelRings.length === 0) return null;
  const halfEdgePanel = faces.face.map((f) => panelOfFace[f]!);
  const box = boxOfLines(net, (e) => halfEdgePanel[2 * e] !== NONE || halfEdgePanel[2 * e + 1] !== NONE);
  return {
    vertexX: net.x.map((x) => (x - box.x) / box.size),
    vertexY: net.y.map((y) => (y - box.y) / box.size),
    creaseFrom: net.from,
    creaseTo: net.to,
    creaseKind: kind,
    creaseAngle: angle,
    halfEdgeNext: faces.next,
    halfEdgePanel,
    panelRings,
    frame: {
      x: frame.x + frame.scale * box.x,
      y: frame.y + frame.scale * box.y,
      scale: frame.scale * box.size,
    },
  };
}

/** Lower left corner and longer side of the box round the chosen lines. */
export function boxOfLines(
  net: Net,
  chosen: (line: number) => boolean,
): { x: number; y: number; size: number } {
  let left = Number.POSITIVE_INFINITY;
  let bottom = Number.POSITIVE_INFINITY;
  let right = Number.NEGATIVE_INFINITY;
  let top = Number.NEGATIVE_INFINITY;
  for (let e = 0; e < net.from.length; e++) {
    if (!chosen(e)) continue;
    for (const p of [net.from[e]!, net.to[e]!]) {
      left = Math.min(left, net.x[p]!);
      right = Math.max(right, net.x[p]!);
      bottom = Math.min(bottom, net.y[p]!);
      top = Math.max(top, net.y[p]!);
    }
  }
  return { x: left, y: bottom, size: Math.max(right - left, top - bottom) };
}
