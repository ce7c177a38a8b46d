/** Checks that a sheet is what it claims to be. For tests and after edits; it looks at everything once. */

import Flatbush from 'flatbush';
import { meet } from '../numeric/predicates.ts';
import { SAME_AREA } from '../numeric/tolerance.ts';
import { lineKinds } from './kind.ts';
import type { Sheet } from './sheet.ts';
import { NONE } from './sheet.ts';
import {
  creaseCount,
  creasesAround,
  halfEdgeEnd,
  halfEdgeOrigin,
  panelArea,
  panelCount,
  panelRing,
  vertexCount,
} from './walk.ts';

/** Names every broken promise of the structure; an empty list means that the sheet is sound. */
export function validateSheet(sheet: Sheet): string[] {
  const sizes = wrongSizes(sheet);
  if (sizes.length > 0) return sizes;
  // each check relies on what the one before has found sound
  for (const check of [wrongLinks, wrongRings, crossings]) {
    const wrong = check(sheet);
    if (wrong.length > 0) return wrong;
  }
  return [...wrongAreas(sheet), ...wrongEuler(sheet)];
}

function wrongSizes(sheet: Sheet): string[] {
  const creases = creaseCount(sheet);
  const wrong: string[] = [];
  const expect = (name: string, is: number, should: number) => {
    if (is !== should) wrong.push(`${name} has ${is} entries instead of ${should}`);
  };
  expect('vertexY', sheet.vertexY.length, vertexCount(sheet));
  expect('creaseTo', sheet.creaseTo.length, creases);
  expect('creaseKind', sheet.creaseKind.length, creases);
  expect('creaseAngle', sheet.creaseAngle.length, creases);
  expect('halfEdgeNext', sheet.halfEdgeNext.length, 2 * creases);
  expect('halfEdgePanel', sheet.halfEdgePanel.length, 2 * creases);
  for (let e = 0; e < creases; e++) {
    for (const v of [sheet.creaseFrom[e]!, sheet.creaseTo[e]!]) {
      if (v < 0 || v >= vertexCount(sheet)) wrong.push(`crease ${e} ends at vertex ${v}, which is not there`);
    }
    if (sheet.creaseFrom[e] === sheet.creaseTo[e]) wrong.push(`crease ${e} has no length`);
    if (sheet.creaseKind[e]! >= lineKinds.length) wrong.push(`crease ${e} has no known kind`);
  }
  return wrong;
}

/** Next links form rings that turn at common vertices, and each half-edge follows its clockwise neighbour's twin. */
function wrongLinks(sheet: Sheet): string[] {
  const wrong: string[] = [];
  const reached = new Uint8Array(sheet.halfEdgeNext.length);
  for (let h = 0; h < sheet.halfEdgeNext.length; h++) {
    const next = sheet.halfEdgeNext[h]!;
    if (next < 0 || next >= reached.length || reached[next] === 1) {
      wrong.push(`half-edge ${h} is followed by ${next}, which is not there or follows another too`);
      continue;
    }
    reached[next] = 1;
    if (halfEdgeEnd(sheet, h) !== halfEdgeOrigin(sheet, next)) {
      wrong.push(`half-edge ${h} ends where its next one, ${next}, does not begin`);
      continue;
    }
    const around = creasesAround(sheet, halfEdgeOrigin(sheet, next));
    if (around[(around.indexOf(next) + 1) % around.length] !== (h ^ 1)) {
      wrong.push(`half-edge ${h} does not take the sharpest left turn`);
    }
    if (sheet.halfEdgePanel[h] !== sheet.halfEdgePanel[next])
      wrong.push(`the panel changes after half-edge ${h}`);
  }
  return wrong;
}

/** Each panel's rings hold exactly its half-edges; raw edges and only they border on the outside. */
function wrongRings(sheet: Sheet): string[] {
  const wrong: string[] = [];
  const listed = new Int32Array(sheet.halfEdgePanel.length).fill(NONE);
  for (let p = 0; p < panelCount(sheet); p++) {
    if (sheet.panelRings[p]!.length === 0) wrong.push(`panel ${p} has no ring`);
    for (const first of sheet.panelRings[p]!) {
      for (const h of panelRing(sheet, first)) {
        if (listed[h] !== NONE) wrong.push(`half-edge ${h} is listed twice`);
        listed[h] = p;
      }
    }
  }
  for (let h = 0; h < listed.length; h++) {
    if (listed[h] !== sheet.halfEdgePanel[h])
      wrong.push(`half-edge ${h} and the rings disagree about its panel`);
  }
  for (let e = 0; e < creaseCount(sheet); e++) {
    const sides = [sheet.halfEdgePanel[2 * e]!, sheet.halfEdgePanel[2 * e + 1]!];
    const outside = sides.filter((p) => p === NONE).length;
    if (outside === 2) wrong.push(`crease ${e} lies off the paper`);
    if (outside === 1 && lineKinds[sheet.creaseKind[e]!] !== 'edge')
      wrong.push(`crease ${e} borders on the outside but is no raw edge`);
    if (outside === 0 && lineKinds[sheet.creaseKind[e]!] === 'edge')
      wrong.push(`raw edge ${e} has paper on both sides`);
  }
  return wrong;
}

/** Creases meet at vertices only. */
function crossings(sheet: Sheet): string[] {
  const { vertexX: x, vertexY: y, creaseFrom: from, creaseTo: to } = sheet;
  const wrong: string[] = [];
  const index = new Flatbush(creaseCount(sheet));
  const box = (e: number): [number, number, number, number] => {
    const [a, b] = [from[e]!, to[e]!];
    return [Math.min(x[a]!, x[b]!), Math.min(y[a]!, y[b]!), Math.max(x[a]!, x[b]!), Math.max(y[a]!, y[b]!)];
  };
  for (let e = 0; e < creaseCount(sheet); e++) index.add(...box(e));
  index.finish();
  for (let e = 0; e < creaseCount(sheet); e++) {
    const [a, b] = [from[e]!, to[e]!];
    for (const f of index.search(...box(e), (other) => other > e)) {
      const [c, d] = [from[f]!, to[f]!];
      if (a === c || a === d || b === c || b === d) continue;
      const apart = !meet(x[a]!, y[a]!, x[b]!, y[b]!, x[c]!, y[c]!, x[d]!, y[d]!);
      if (!apart) wrong.push(`creases ${e} and ${f} meet without a common vertex`);
    }
  }
  return wrong;
}

/** Panels have area and their areas sum to what the raw edges enclose. */
function wrongAreas(sheet: Sheet): string[] {
  const wrong: string[] = [];
  let sum = 0;
  for (let p = 0; p < panelCount(sheet); p++) {
    const area = panelArea(sheet, p);
    sum += area;
    if (!(area > 0)) wrong.push(`panel ${p} has area ${area}`);
  }
  let enclosed = 0;
  for (let h = 0; h < sheet.halfEdgePanel.length; h++) {
    if (sheet.halfEdgePanel[h] === NONE || sheet.halfEdgePanel[h ^ 1] !== NONE) continue;
    const [a, b] = [halfEdgeOrigin(sheet, h), halfEdgeEnd(sheet, h)];
    enclosed += (sheet.vertexX[a]! * sheet.vertexY[b]! - sheet.vertexX[b]! * sheet.vertexY[a]!) / 2;
  }
  if (Math.abs(sum - enclosed) > SAME_AREA)
    wrong.push(`panels sum to ${sum}, the outline encloses ${enclosed}`);
  return wrong;
}

/** Euler: vertices - creases + faces = 1 + connected pieces, where faces include the outside and holes. */
function wrongEuler(sheet: Sheet): string[] {
  const used = new Set([...sheet.creaseFrom, ...sheet.creaseTo]);
  const piece = new Map<number, number>();
  const visit = (first: number, label: number) => {
    const stack = [first];
    piece.set(first, label);
    for (let v = stack.pop(); v !== undefined; v = stack.pop()) {
      for (const h of creasesAround(sheet, v)) {
        const end = halfEdgeEnd(sheet, h);
        if (piece.has(end)) continue;
        piece.set(end, label);
        stack.push(end);
      }
    }
  };
  let pieces = 0;
  for (const v of used) if (!piece.has(v)) visit(v, pieces++);
  let rings = 0;
  const seen = new Uint8Array(sheet.halfEdgeNext.length);
  for (let h = 0; h < seen.length; h++) {
    if (seen[h] === 1) continue;
    rings++;
    for (const g of panelRing(sheet, h)) seen[g] = 1;
  }
  // each piece has one ring that looks outward; all other rings are faces, and the plane round all is one more
  const faces = rings - pieces + 1;
  const value = used.size - creaseCount(sheet) + faces;
  return value === 1 + pieces ? [] : [`Euler's sum is ${value} instead of ${1 + pieces}`];
}
