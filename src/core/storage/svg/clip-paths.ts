/** The regions that the clip paths of a drawing name, in the coordinates of the drawing. */
import type { Point } from '../../numeric/vector.ts';
import type { Area, Region } from '../drawing/clip.ts';
import { pointsOf } from '../drawing/runs.ts';
import { compose, identity, type Matrix, shift, stretch } from '../matrix.ts';
import { lengthOf, type Measures } from './lengths.ts';
import { referenceIn } from './paint.ts';
import type { Style } from './properties.ts';
import { shapeNames } from './shapes.ts';
import { childOfSwitch, conditionsHold, silent } from './shown.ts';
import type { SvgSource } from './source.ts';
import { placeOf, type XmlNode } from './xml-tree.ts';

/** An element that is clipped, with its own user space. */
interface Clipped {
  readonly node: XmlNode;
  readonly style: Style;
  readonly letter: number;
  readonly matrix: Matrix;
  readonly measures: Measures;
}

/** Clip paths of clip paths, and uses of uses in what they clip. */
const DEPTH = 8;

/**
 * The regions to which `clip-path` cuts an element, all of them at once; an area of none of them hides everything.
 * What cannot be followed is noted, and cuts nothing.
 */
export function regionsOf(source: SvgSource, clipped: Clipped): Region[] {
  if (clipped.style['clip-path'] === 'none') return [];
  const regions = regionsNamed(source, clipped, clipped, clipped.style['clip-path'], 0);
  if (!regions) source.notes.notFollowed('clip-path', placeOf(clipped.node));
  return regions ?? [];
}

function regionsNamed(
  source: SvgSource,
  clipped: Clipped,
  user: { readonly matrix: Matrix },
  value: string,
  depth: number,
): Region[] | null {
  const id = referenceIn(value);
  const clip = id === null ? undefined : source.withId(id);
  if (clip?.name !== 'clipPath' || clip.foreign || depth > DEPTH) return null;
  const { style, letter } = source.styleAt(clip);
  const place = placeOf(clip);
  const own = compose(user.matrix, source.transformOf({ style, measures: clipped.measures, place }));
  const isBox = clip.attributes.clipPathUnits === 'objectBoundingBox';
  const box = isBox ? boxMap(source, clipped) : identity;
  if (!box) return null;
  const measures = isBox ? { ...clipped.measures, width: 1, height: 1 } : clipped.measures;
  const areas = areasOf(source, clip, { style, letter, measures, matrix: compose(own, box) });
  if (!areas || style['clip-path'] === 'none') return areas && [areas];
  const outer = regionsNamed(source, clipped, { matrix: own }, style['clip-path'], depth + 1);
  return outer && [areas, ...outer];
}

type Inside = Omit<Clipped, 'node'>;

/** The areas of the shapes in a clip path; null where one of them is not followed. */
function areasOf(source: SvgSource, clip: XmlNode, inside: Inside): Area[] | null {
  const areas: Area[] = [];
  for (const child of clip.children) {
    source.work.visit();
    if (child.foreign || silent.has(child.name) || !conditionsHold(child)) continue;
    const found = areaOf(source, child, inside, true);
    if (!found) return null;
    areas.push(...found);
  }
  return areas;
}

/** One shape, or one use of a shape; nothing else may stand in a clip path. */
function areaOf(source: SvgSource, node: XmlNode, above: Inside, mayUse: boolean): Area[] | null {
  const { measures } = above;
  const place = placeOf(node);
  const { style, letter } = source.styleOf(node, above);
  if (style.display === 'none') return [];
  if (style['clip-path'] !== 'none') return null;
  const matrix = compose(above.matrix, source.transformOf({ style, measures, place }));
  if (node.name === 'use' && mayUse) {
    const { target } = source.named(node);
    const x = lengthOf(style.x, 'width', measures, place);
    const y = lengthOf(style.y, 'height', measures, place);
    const inside = { style, letter, measures, matrix: compose(matrix, shift(x, y)) };
    return target && !target.foreign ? areaOf(source, target, inside, false) : null;
  }
  if (!shapeNames.has(node.name)) return null;
  if (style.visibility !== 'visible') return [];
  const runs = source.runsOf(node, style, measures, place);
  if (runs.some(({ curve }) => curve)) return null;
  const rings = runs.map((run) => pointsOf(run, matrix, place));
  return [{ rings, evenOdd: style['clip-rule'] === 'evenodd' }];
}

/** The map of the unit square to the box around an element, in the element's own user space (SVG 2, 8.11). */
function boxMap(source: SvgSource, clipped: Clipped): Matrix | null {
  const points = pointsWithin(source, clipped);
  if (!points || points.length === 0) return null;
  const least = [Infinity, Infinity];
  const most = [-Infinity, -Infinity];
  for (const point of points) {
    for (const i of [0, 1] as const) {
      least[i] = Math.min(least[i]!, point[i]);
      most[i] = Math.max(most[i]!, point[i]);
    }
  }
  return compose(shift(least[0]!, least[1]!), stretch(most[0]! - least[0]!, most[1]! - least[1]!));
}

/** All points of the shapes in an element; null where something in it has a size that is not known. */
function pointsWithin(source: SvgSource, { node: top, ...rest }: Clipped): Point[] | null {
  const found: Point[] = [];
  const waiting: { node: XmlNode; inside: Inside; uses: number }[] = [
    { node: top, inside: { ...rest, matrix: identity }, uses: 0 },
  ];
  for (let next = waiting.pop(); next; next = waiting.pop()) {
    const { node, inside, uses } = next;
    source.work.visit();
    if (node.foreign || (silent.has(node.name) && node.name !== 'symbol') || inside.style.display === 'none')
      continue;
    const place = placeOf(node);
    const under = (child: XmlNode, matrix = inside.matrix): Inside => {
      const { style, letter } = source.styleOf(child, inside);
      const { measures } = inside;
      const own = source.transformOf({ style, measures, place: placeOf(child) });
      return { style, letter, measures, matrix: compose(matrix, own) };
    };
    if (shapeNames.has(node.name)) {
      const runs = source.runsOf(node, inside.style, inside.measures, place);
      for (const run of runs) for (const point of pointsOf(run, inside.matrix, place)) found.push(point);
    } else if (node.name === 'use' && uses < DEPTH) {
      const { target } = source.named(node);
      if (!target) continue;
      const x = lengthOf(inside.style.x, 'width', inside.measures, place);
      const y = lengthOf(inside.style.y, 'height', inside.measures, place);
      waiting.push({
        node: target,
        inside: under(target, compose(inside.matrix, shift(x, y))),
        uses: uses + 1,
      });
    } else if (node.name === 'g' || node.name === 'a') {
      for (const child of node.children) waiting.push({ node: child, inside: under(child), uses });
    } else if (node.name === 'switch') {
      const child = childOfSwitch(node);
      if (child) waiting.push({ node: child, inside: under(child), uses });
    } else return null;
  }
  return found;
}
