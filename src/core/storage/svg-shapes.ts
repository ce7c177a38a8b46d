import SvgPath from 'svgpath';
import type { Curve } from '../finding/values/file.ts';
import type { FilePlace } from '../finding/values/place.ts';
import { FILE_ROUNDING } from '../numeric/tolerance.ts';
import { tooManyStrokes } from './drawing.ts';
import { STROKE_LIMIT } from './limits.ts';
import { unreadable } from './refusal.ts';
import { lengthOf, numbersOf } from './svg-values.ts';
import type { XmlNode } from './xml-tree.ts';

type CurveShape = Extract<Curve, { how: 'shape' }>['shape'];

interface Chain {
  readonly points: [number, number][];
  closed: boolean;
}

/** What a shape element draws: straight chains, or the name of the curve that it holds. */
interface Shape {
  readonly chains: readonly Chain[];
  readonly curve?: CurveShape;
}

export const shapeNames = new Set(['path', 'line', 'polyline', 'polygon', 'rect', 'circle', 'ellipse']);

/** Straight chains of a shape element in its own coordinates (y down). `place` says where it stands. */
export function shapeOf(node: XmlNode, place: FilePlace): Shape {
  const { attributes } = node;
  const length = (name: string) => lengthOf(attributes[name], place);
  switch (node.name) {
    case 'path':
      return pathShape(attributes.d ?? '', place);
    case 'line': {
      const points: [number, number][] = [
        [length('x1'), length('y1')],
        [length('x2'), length('y2')],
      ];
      return { chains: [{ points, closed: false }] };
    }
    case 'polyline':
    case 'polygon': {
      const numbers = numbersOf(attributes.points ?? '', place);
      if (numbers.length > 2 * STROKE_LIMIT) throw tooManyStrokes();
      const points: [number, number][] = [];
      for (let i = 0; i + 1 < numbers.length; i += 2) points.push([numbers[i]!, numbers[i + 1]!]);
      return { chains: [{ points, closed: node.name === 'polygon' }] };
    }
    case 'rect': {
      if (length('rx') > 0 || length('ry') > 0) return { chains: [], curve: 'rounded-corners' };
      const [x, y, w, h] = [length('x'), length('y'), length('width'), length('height')];
      if (!(w > 0 && h > 0)) return { chains: [] };
      const points: [number, number][] = [
        [x, y],
        [x + w, y],
        [x + w, y + h],
        [x, y + h],
      ];
      return { chains: [{ points, closed: true }] };
    }
    default:
      return { chains: [], curve: node.name === 'ellipse' ? 'ellipse' : 'circle' };
  }
}

function pathShape(d: string, place: FilePlace): Shape {
  if ((d.match(/\d+/g)?.length ?? 0) > 4 * STROKE_LIMIT) throw tooManyStrokes();
  const path = new SvgPath(d) as SvgPathLike;
  if (path.err) {
    const said = path.err.replace(/^SvgPath:\s*/, '');
    throw unreadable({ how: 'svg-path', place, said });
  }
  const chains: Chain[] = [];
  let chain: Chain | null = null;
  let curve: CurveShape | undefined;
  const start = (x: number, y: number): Chain => {
    const fresh: Chain = { points: [[x, y]], closed: false };
    chains.push(fresh);
    return fresh;
  };
  path
    .abs()
    .unshort()
    .iterate(([letter, ...n], _index, x, y) => {
      if (letter === 'M') {
        chain = start(n[0]!, n[1]!);
        return;
      }
      chain ??= start(x, y);
      if (letter === 'Z') {
        chain.closed = true;
        chain = null;
      } else if (letter === 'L' || (letter !== 'H' && letter !== 'V' && isStraight(letter, x, y, n))) {
        chain.points.push([n[n.length - 2]!, n[n.length - 1]!]);
      } else if (letter === 'H') chain.points.push([n[0]!, y]);
      else if (letter === 'V') chain.points.push([x, n[0]!]);
      else curve ??= letter === 'A' ? 'arc' : 'curve';
    });
  return curve ? { chains: [], curve } : { chains };
}

/** The part of the path library used here, typed without its tuple zoo. */
interface SvgPathLike {
  readonly err?: string;
  abs(): SvgPathLike;
  unshort(): SvgPathLike;
  iterate(visit: (segment: [string, ...number[]], index: number, x: number, y: number) => void): SvgPathLike;
}

/** Do a curve's control points lie on its chord, between its ends, so that it is a straight line in disguise? */
function isStraight(letter: string, x: number, y: number, n: readonly number[]): boolean {
  if (letter === 'A') return n[0] === 0 || n[1] === 0;
  const dx = n[n.length - 2]! - x;
  const dy = n[n.length - 1]! - y;
  const square = dx * dx + dy * dy;
  for (let i = 0; i + 3 < n.length; i += 2) {
    const px = n[i]! - x;
    const py = n[i + 1]! - y;
    const along = px * dx + py * dy;
    if (Math.abs(px * dy - py * dx) > FILE_ROUNDING * square || along < 0 || along > square) return false;
  }
  return true;
}
