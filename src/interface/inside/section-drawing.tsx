/** The section beside the slice: every layer that is cut, set apart so that it can be counted, both sides coloured. */

import { useMemo, useRef } from 'react';
import type { Section } from '../../core/layer/section.ts';
import { sectionPaths } from '../../core/layer/section-path.ts';
import type { Point } from '../../core/numeric/vector.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import {
  type Bounds,
  band,
  boundsOf,
  boundsOfPaths,
  joinBounds,
  lineOf,
  numbersOf,
} from './section-strokes.ts';
import './section-drawing.css';

/** A drawing's size, how far its layers stand apart, and half the width of a stroke, pixels. */
interface Size {
  readonly width: number;
  readonly height: number;
  readonly gap: number;
  readonly half: number;
}

/** In the column, and over the model. */
const SMALL: Size = { width: 252, height: 190, gap: 11, half: 2.7 };
const LARGE: Size = { width: 560, height: 420, gap: 26, half: 6.5 };
/** Room at the rim, pixels. */
const ROOM = 12;

export default function SectionDrawing({ section, large = false }: { section: Section; large?: boolean }) {
  const sides = useDesk((state) => state.document.lesson!.sheet);
  const hover = useDesk((state) => state.look.hover);
  const selection = useDesk((state) => state.look.selection);
  const tuck = useDesk((state) => state.inside.tuck !== null);
  const widest = useRef<Frame | null>(null);
  const [upColour, downColour] =
    sides.sideUp === 'a'
      ? [sides.sides.a.colour, sides.sides.b.colour]
      : [sides.sides.b.colour, sides.sides.a.colour];
  const drawn = useMemo(() => {
    // while a tuck plays the drawing keeps its scale
    const kept = tuck && widest.current?.tuck ? widest.current : null;
    const next = draw(section, kept, large ? LARGE : SMALL);
    widest.current = { ...next.frame, tuck };
    return next;
  }, [section, tuck, large]);
  const lit = (piece: DrawnPiece) => {
    const panel = ownPanel(section, piece.cut);
    if (hover?.kind === 'panel' && hover.id === panel) return 'lit';
    return selection?.kind === 'panel' && selection.id === panel ? 'chosen' : undefined;
  };
  return (
    <svg
      className="section-drawing"
      viewBox={drawn.viewBox}
      role="img"
      aria-label={words.sectionPicture(drawn.deepest)}
      onPointerLeave={() => desk.store.put({ look: { hover: null } })}
    >
      {drawn.paths.map((path, k) => (
        <g key={k}>
          <path className="cut-face" d={path.right} fill={upColour} />
          <path className="cut-face" d={path.left} fill={downColour} />
          <path className="cut-rim" d={path.rim} />
        </g>
      ))}
      {drawn.pieces.map((piece, k) => (
        <path
          key={k}
          className="cut-piece"
          data-lit={lit(piece)}
          d={piece.line}
          onPointerEnter={() =>
            desk.store.put({ look: { hover: { kind: 'panel', id: ownPanel(section, piece.cut) } } })
          }
        />
      ))}
      {drawn.numbers && (
        <g className="cut-numbers">
          <path d={drawn.numbers.line} />
          {drawn.numbers.list.map(({ x, y, number }) => (
            <text key={number} x={x} y={y}>
              {number}
            </text>
          ))}
        </g>
      )}
    </svg>
  );
}

function ownPanel(section: Section, cut: number): number {
  const step = desk.inside.section?.pose.step ?? 0;
  const { panel } = section.cuts[cut]!;
  return desk.playhead.board?.ownPanel(step, panel) ?? panel;
}

interface DrawnPiece {
  readonly cut: number;
  readonly line: string;
}

/** How a drawing was fitted, to be kept while a tuck plays. */
interface Frame {
  readonly scale: number;
  readonly strokes: Bounds;
  readonly tuck: boolean;
}

/** Pixels per sheet unit beyond which nothing is magnified. */
const CLOSEST = 1400;
/** Gaps do not grow with the drawing, so that its scale is found by trying. */
const FITTINGS = 5;

function fit(section: Section, { width, height, gap }: Size): number {
  const { low, high } = boundsOf(section);
  let scale = Math.min(
    CLOSEST,
    (width - 2 * ROOM) / Math.max(high[0] - low[0], 1e-3),
    (height - 2 * ROOM) / Math.max(high[1] - low[1], 1e-3),
  );
  for (let k = 0; k < FITTINGS; k++) {
    const strokes = boundsOfPaths(sectionPaths(section, gap / scale));
    const wide = (strokes.high[0] - strokes.low[0]) * scale;
    const tall = (strokes.high[1] - strokes.low[1]) * scale;
    const room = Math.min((width - 2 * ROOM) / wide, (height - 2 * ROOM) / tall);
    if (room >= 1) break;
    scale *= room;
  }
  return scale;
}

function draw(section: Section, kept: Frame | null, size: Size) {
  const own = fit(section, size);
  const scale = kept ? Math.min(own, kept.scale) : own;
  const paths = sectionPaths(section, size.gap / scale);
  const now = boundsOfPaths(paths);
  const strokes = kept ? joinBounds(now, kept.strokes) : now;
  const toPixels = ([x, y]: Point): Point => [(x - strokes.low[0]) * scale, (strokes.high[1] - y) * scale];
  const [wide, tall] = [strokes.high[0] - strokes.low[0], strokes.high[1] - strokes.low[1]].map(
    (length) => length * scale + 2 * ROOM,
  ) as [number, number];
  const width = Math.max(size.width, wide);
  const pieces = paths
    .flat()
    .filter((piece) => piece.kind === 'line')
    .map(
      (piece): DrawnPiece => ({ cut: piece.cut, line: lineOf([toPixels(piece.from), toPixels(piece.to)]) }),
    );
  const numbers = numbersOf(section, paths, desk.inside.kept, toPixels);
  return {
    frame: { scale, strokes },
    viewBox: `${((wide - width) / 2 - ROOM).toFixed(1)} ${-ROOM} ${width.toFixed(1)} ${tall.toFixed(1)}`,
    pieces,
    numbers,
    deepest: numbers?.list.length ?? 0,
    paths: paths.map((path) => band(path, toPixels, size.half)),
  };
}
