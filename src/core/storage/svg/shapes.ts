import SvgPath from 'svgpath';
import type { FilePlace } from '../../finding/values/place.ts';
import { FILE_ROUNDING } from '../../numeric/tolerance.ts';
import { tooManyStrokes } from '../drawing/drawing.ts';
import type { CurveShape, Piece, Run } from '../drawing/runs.ts';
import { STROKE_LIMIT } from '../limits.ts';
import { unreadable } from '../refusal.ts';
import { type Along, lengthOf, type Measures } from './lengths.ts';
import type { Style } from './properties.ts';
import { numbersOf } from './values.ts';
import type { XmlNode } from './xml-tree.ts';

export const shapeNames = new Set(['path', 'line', 'polyline', 'polygon', 'rect', 'circle', 'ellipse']);

/** Shapes that look the same wherever they are used: no length in them can be a percentage. */
export const fixedShapes = new Set(['path', 'polyline', 'polygon']);

/** The runs of a shape element in its own coordinates (y down). `place` says where it stands. */
export function shapeOf(node: XmlNode, style: Style, measures: Measures, place: FilePlace): Run[] {
  const { attributes } = node;
  const length = (text: string | undefined, along: Along) => lengthOf(text, along, measures, place);
  switch (node.name) {
    case 'path':
      return pathRuns(pathDataOf(style.d), place);
    case 'line': {
      const start = [length(attributes.x1, 'width'), length(attributes.y1, 'height')] as const;
      const end = [length(attributes.x2, 'width'), length(attributes.y2, 'height')];
      return [{ start, pieces: [end], closed: false, curve: null }];
    }
    case 'polyline':
    case 'polygon':
      return polylineRuns(attributes.points ?? '', node.name === 'polygon', place);
    case 'rect':
      return rectRuns(style, length, place);
    case 'circle': {
      const radius = length(style.r, 'diagonal');
      return ellipseRuns(style, length, radius, radius, 'circle', place);
    }
    default: {
      const [across, down] = radiiOf(style, length);
      return ellipseRuns(style, length, across, down, 'ellipse', place);
    }
  }
}

type Length = (text: string | undefined, along: Along) => number;

function polylineRuns(text: string, closed: boolean, place: FilePlace): Run[] {
  const numbers = numbersOf(text, place);
  if (numbers.length > 2 * STROKE_LIMIT) throw tooManyStrokes();
  const points: [number, number][] = [];
  for (let i = 0; i + 1 < numbers.length; i += 2) points.push([numbers[i]!, numbers[i + 1]!]);
  const [start, ...pieces] = points;
  return start ? [{ start, pieces, closed, curve: null }] : [];
}

/** SVG 2, 10.2: a radius that is not given is as long as the other one. */
function radiiOf({ rx, ry }: Style, length: Length): [number, number] {
  const given = (text: string) => text !== '' && text !== 'auto';
  const across = length(given(rx) ? rx : '', 'width');
  const down = length(given(ry) ? ry : '', 'height');
  return [given(rx) ? across : down, given(ry) ? down : across];
}

function rectRuns(style: Style, length: Length, place: FilePlace): Run[] {
  const [x, y] = [length(style.x, 'width'), length(style.y, 'height')];
  const sides = [style.width, style.height].map((text) => (text === 'auto' ? '' : text));
  const [w, h] = [length(sides[0], 'width'), length(sides[1], 'height')];
  if (!(w > 0 && h > 0)) return [];
  const radii = radiiOf(style, length);
  if (radii[0] > 0 && radii[1] > 0) {
    const [a, b] = [Math.min(radii[0], w / 2), Math.min(radii[1], h / 2)];
    const arc = `a${a} ${b} 0 0 1`;
    const d = `M${x + a} ${y}h${w - 2 * a}${arc} ${a} ${b}v${h - 2 * b}${arc} ${-a} ${b}h${2 * a - w}${arc} ${-a} ${-b}v${2 * b - h}${arc} ${a} ${-b}z`;
    return pathRuns(d, place).map((run) => ({ ...run, curve: 'rounded-corners' }));
  }
  const pieces = [
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
  return [{ start: [x, y], pieces, closed: true, curve: null }];
}

function ellipseRuns(
  style: Style,
  length: Length,
  across: number,
  down: number,
  curve: CurveShape,
  place: FilePlace,
): Run[] {
  if (!(across > 0 && down > 0)) return [];
  const [x, y] = [length(style.cx, 'width'), length(style.cy, 'height')];
  const half = `a${across} ${down} 0 0 1`;
  const d = `M${x + across} ${y}${half} ${-2 * across} 0${half} ${2 * across} 0z`;
  return pathRuns(d, place).map((run) => ({ ...run, curve }));
}

/** The property `d`: path data as in the attribute, or `path("…")`. */
function pathDataOf(text: string): string {
  if (text.toLowerCase() === 'none') return '';
  return /^path\(\s*(["'])(.*)\1\s*\)$/is.exec(text)?.[2] ?? text;
}

/** The part of the path library used here, typed without its tuple zoo. */
interface SvgPathLike {
  readonly err?: string;
  abs(): SvgPathLike;
  unshort(): SvgPathLike;
  unarc(): SvgPathLike;
  iterate(visit: (segment: [string, ...number[]], index: number, x: number, y: number) => void): SvgPathLike;
}

const pathFrom = (d: string) => new SvgPath(d) as SvgPathLike;

function pathRuns(d: string, place: FilePlace): Run[] {
  if ((d.match(/\d+/g)?.length ?? 0) > 4 * STROKE_LIMIT) throw tooManyStrokes();
  const path = pathFrom(d);
  if (path.err) {
    const at = /at pos (\d+)/.exec(path.err)?.[1];
    throw unreadable({ how: 'svg-path', place, at: at === undefined ? null : Number(at) + 1 });
  }
  const runs: Run[] = [];
  let run: Run | null = null;
  path
    .abs()
    .unshort()
    .iterate(([letter, ...n], _index, x, y) => {
      if (letter === 'M' || !run) {
        const [startX, startY] = letter === 'M' ? [n[0]!, n[1]!] : [x, y];
        runs.push((run = { start: [startX, startY], pieces: [], closed: false, curve: null }));
        if (letter === 'M') return;
      }
      if (letter === 'Z') {
        run.closed = true;
        run = null;
      } else addSegment(run, letter, n, x, y);
    });
  return runs;
}

/** Adds a segment in absolute coordinates that begins at (x, y). */
function addSegment(run: Run, letter: string, n: readonly number[], x: number, y: number): void {
  const end = n.slice(-2);
  if (letter === 'H') run.pieces.push([n[0]!, y]);
  else if (letter === 'V') run.pieces.push([x, n[0]!]);
  else if (letter === 'L' || isStraight(letter, x, y, n)) run.pieces.push(end);
  else {
    run.curve ??= letter === 'A' ? 'arc' : 'curve';
    run.pieces.push(...cubicsOf(letter, n, x, y));
  }
}

/** A curved segment as cubic curves. */
function cubicsOf(letter: string, n: readonly number[], x: number, y: number): Piece[] {
  if (letter === 'C') return [n];
  if (letter === 'Q') {
    const [cx, cy, ex, ey] = n as [number, number, number, number];
    const third = (from: number, control: number) => from + (2 / 3) * (control - from);
    return [[third(x, cx), third(y, cy), third(ex, cx), third(ey, cy), ex, ey]];
  }
  const cubics: Piece[] = [];
  pathFrom(`M${x} ${y}A${n.join(' ')}`)
    .unarc()
    .iterate(([part, ...numbers]) => {
      if (part !== 'M') cubics.push(numbers);
    });
  return cubics;
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
