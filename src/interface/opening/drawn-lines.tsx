/** The drawing as it was read, large: what a row of the question is about is lit, and so is the line under the pointer. */
import Flatbush from 'flatbush';
import { type PointerEvent, useEffect, useMemo, useRef } from 'react';
import { distanceToStretch } from '../../core/numeric/plane.ts';
import type { AskedDrawing, AskedPicture, DrawnLines } from '../../worker/file-protocol.ts';
import { accentOn, contrast, LINE_CONTRAST } from '../parts/ink.ts';
import './drawn-lines.css';

/** The sheet under the lines, and what is drawn on it where a colour of the file could not be seen. */
const PAPER = '#fbf8f2';
const INK = '#4a5763';
const ASIDE = '#c9bfae';
const DOUBTFUL = '#9c2f1c';
/** Least radius of a ring round what is doubtful, pixels of the picture. */
const DOUBT = 9;
/** Pixels: how near a line the pointer counts as on it. */
const NEAR = 8;
const MARGIN = 14;
/** More lines than this are drawn thinner. */
const MANY = 2000;

const dashes: Record<AskedDrawing['groups'][number]['dash'], readonly number[]> = {
  solid: [],
  dashed: [7, 4],
  dotted: [1.5, 3],
  'dash-dot': [9, 3, 1.5, 3],
  'dash-dot-dot': [9, 3, 1.5, 3, 1.5, 3],
};

export function DrawnLinesBoard({
  asked,
  asideShown,
  lit,
  label,
  onPoint,
}: {
  asked: AskedDrawing;
  asideShown: boolean;
  /** Indices of the looks that are lit. */
  lit: ReadonlySet<number>;
  label: string;
  /** Hears the look of the line under the pointer, or null. */
  onPoint: (group: number | null) => void;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const near = useMemo(() => indexOf(asked.lines), [asked]);
  useEffect(() => {
    const board = canvas.current;
    if (!board) return;
    const draw = () => drawAll(board, asked, asideShown, lit);
    draw();
    const watcher = new ResizeObserver(draw);
    watcher.observe(board);
    return () => watcher.disconnect();
  }, [asked, asideShown, lit]);
  const point = (event: PointerEvent<HTMLCanvasElement>) => {
    const board = event.currentTarget;
    const box = board.getBoundingClientRect();
    const place = placing(board, shownLines(asked, asideShown));
    const x = (event.clientX - box.left - place.left) / place.scale;
    const y = (place.top - (event.clientY - box.top)) / place.scale;
    const line = nearestLine(near, asked.lines, x, y, NEAR / place.scale);
    onPoint(line === null ? null : asked.groupOf[line]!);
  };
  return (
    <canvas
      ref={canvas}
      className="drawn-lines"
      role="img"
      aria-label={label}
      onPointerMove={point}
      onPointerDown={point}
      onPointerLeave={() => onPoint(null)}
    />
  );
}

const shownLines = ({ lines, aside }: AskedDrawing, asideShown: boolean): readonly DrawnLines[] =>
  asideShown ? [lines, aside] : [lines];

function drawAll(
  board: HTMLCanvasElement,
  asked: AskedDrawing,
  asideShown: boolean,
  lit: ReadonlySet<number>,
): void {
  const pen = board.getContext('2d');
  if (!pen || board.clientWidth === 0) return;
  const dense = window.devicePixelRatio || 1;
  board.width = Math.round(board.clientWidth * dense);
  board.height = Math.round(board.clientHeight * dense);
  const { left, top, scale } = placing(board, shownLines(asked, asideShown));
  pen.setTransform(dense * scale, 0, 0, -dense * scale, dense * left, dense * top);
  const thin = asked.groupOf.length > MANY ? 0.75 : 1.25;
  const stroke = (path: Path2D, colour: string, width: number, dash: readonly number[]) => {
    pen.strokeStyle = colour;
    pen.lineWidth = width / scale;
    pen.setLineDash(dash.map((length) => length / scale));
    pen.stroke(path);
  };
  if (asked.picture) layPicture(pen, asked.picture);
  if (asideShown) stroke(pathOf(asked.aside), ASIDE, thin, []);
  const accent = accentOn([PAPER]);
  const paths = pathsOfGroups(asked);
  // what is lit comes last, on top of the others
  const order = [...paths.keys()].sort((a, b) => Number(lit.has(a)) - Number(lit.has(b)));
  for (const group of order) {
    const { colour, dash } = asked.groups[group]!;
    const isLit = lit.has(group);
    const ink = contrast(colour, PAPER) >= LINE_CONTRAST ? colour : INK;
    stroke(paths[group]!, isLit ? accent : ink, isLit ? thin + 1.5 : thin, dashes[dash]);
  }
  if (asked.picture) markDoubts(asked, asked.picture, stroke);
}

/** The picture under its lines, pale, so that both are seen. */
function layPicture(pen: CanvasRenderingContext2D, { width, height, pixels }: AskedPicture): void {
  const own = document.createElement('canvas');
  [own.width, own.height] = [width, height];
  own.getContext('2d')?.putImageData(new ImageData(pixels, width, height), 0, 0);
  pen.save();
  pen.globalAlpha = 0.45;
  pen.scale(1, -1);
  pen.drawImage(own, 0, -height);
  pen.restore();
}

type Stroke = (path: Path2D, colour: string, width: number, dash: readonly number[]) => void;

/** Rings round lines that are doubtful and round ink that no line explains. */
function markDoubts({ lines }: AskedDrawing, { doubtful, unexplained }: AskedPicture, stroke: Stroke): void {
  const rings = new Path2D();
  const ring = (x: number, y: number, radius: number) => {
    rings.moveTo(x + radius, y);
    rings.arc(x, y, radius, 0, 2 * Math.PI);
  };
  doubtful.forEach((doubt, line) => {
    if (doubt === 0) return;
    const [x1, y1, x2, y2] = lines.subarray(4 * line, 4 * line + 4) as unknown as number[];
    ring((x1! + x2!) / 2, (y1! + y2!) / 2, Math.max(DOUBT, Math.hypot(x2! - x1!, y2! - y1!) / 8));
  });
  for (const { x, y, length } of unexplained) ring(x, y, Math.max(DOUBT, length / 2 + 4));
  stroke(rings, DOUBTFUL, 2, []);
}

/** Where the drawing's origin lies on the board, pixels, and how many of them one unit takes. */
function placing(board: HTMLCanvasElement, shown: readonly DrawnLines[]) {
  const { low, high } = boxOf(shown);
  const [width, height] = [high[0] - low[0], high[1] - low[1]];
  const scale = Math.min(
    (board.clientWidth - 2 * MARGIN) / Math.max(width, Number.MIN_VALUE),
    (board.clientHeight - 2 * MARGIN) / Math.max(height, Number.MIN_VALUE),
  );
  return {
    scale,
    left: (board.clientWidth - width * scale) / 2 - low[0] * scale,
    top: (board.clientHeight + height * scale) / 2 + low[1] * scale,
  };
}

function boxOf(shown: readonly DrawnLines[]) {
  const low: [number, number] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const high: [number, number] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const lines of shown)
    for (let k = 0; k < lines.length; k++) {
      const axis = k % 2;
      low[axis] = Math.min(low[axis]!, lines[k]!);
      high[axis] = Math.max(high[axis]!, lines[k]!);
    }
  return { low, high };
}

function pathOf(lines: DrawnLines): Path2D {
  const path = new Path2D();
  for (let k = 0; k < lines.length; k += 4) addLine(path, lines, k);
  return path;
}

function pathsOfGroups({ lines, groupOf, groups }: AskedDrawing): Path2D[] {
  const paths = groups.map(() => new Path2D());
  groupOf.forEach((group, line) => addLine(paths[group]!, lines, 4 * line));
  return paths;
}

function addLine(path: Path2D, lines: DrawnLines, at: number): void {
  path.moveTo(lines[at]!, lines[at + 1]!);
  path.lineTo(lines[at + 2]!, lines[at + 3]!);
}

function indexOf(lines: DrawnLines): Flatbush {
  const index = new Flatbush(Math.max(1, lines.length / 4));
  if (lines.length === 0) index.add(0, 0, 0, 0);
  for (let k = 0; k < lines.length; k += 4) {
    const [x1, y1, x2, y2] = [lines[k]!, lines[k + 1]!, lines[k + 2]!, lines[k + 3]!];
    index.add(Math.min(x1, x2), Math.min(y1, y2), Math.max(x1, x2), Math.max(y1, y2));
  }
  index.finish();
  return index;
}

function nearestLine(index: Flatbush, lines: DrawnLines, x: number, y: number, near: number): number | null {
  let best: { line: number; distance: number } | null = null;
  for (const line of index.search(x - near, y - near, x + near, y + near)) {
    const [x1, y1, x2, y2] = lines.subarray(4 * line, 4 * line + 4) as unknown as number[];
    const distance = distanceToStretch([x1!, y1!], [x2!, y2!], [x, y]);
    if (distance <= near && (!best || distance < best.distance)) best = { line, distance };
  }
  return best?.line ?? null;
}
