/** A small section without numbers, for choosing between stackings. */

import { useMemo } from 'react';
import type { Section } from '../../core/layer/section.ts';
import { sectionPaths } from '../../core/layer/section-path.ts';
import type { Point } from '../../core/numeric/vector.ts';
import { band, boundsOf } from './section-strokes.ts';
import './section-sketch.css';

const WIDTH = 132;
const HEIGHT = 78;
const ROOM = 7;
/** From layer to layer, and half the width of a stroke, pixels. */
const GAP = 5.4;
const HALF = 1.55;

interface Sketched {
  readonly section: Section;
  /** Colour of the side that faced up at the start, and of the other. */
  readonly up: string;
  readonly down: string;
  /** Panels to follow with the eye. */
  readonly lit: ReadonlySet<number>;
}

export function SectionSketch({ section, up, down, lit }: Sketched) {
  const { paths, lines } = useMemo(() => sketch(section), [section]);
  return (
    <svg className="section-sketch" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
      {paths.map((path, k) => (
        <g key={k}>
          <path className="cut-face" d={path.right} fill={up} />
          <path className="cut-face" d={path.left} fill={down} />
          <path className="cut-rim" d={path.rim} />
        </g>
      ))}
      {lines
        .filter(({ panel }) => lit.has(panel))
        .map(({ line }) => (
          <path key={line} className="sketch-lit" d={line} />
        ))}
    </svg>
  );
}

function sketch(section: Section) {
  const { low, high } = boundsOf(section);
  const rises = Math.max(0, ...section.cuts.map(({ rise }) => Math.abs(rise)));
  const margin = ROOM + (GAP * rises) / 2;
  const [wide, tall] = [high[0] - low[0], high[1] - low[1]];
  const scale = Math.min(
    (WIDTH - 2 * margin) / Math.max(wide, 1e-3),
    (HEIGHT - 2 * margin) / Math.max(tall, 1e-3),
  );
  const paths = sectionPaths(section, GAP / scale);
  const all = paths.flat().flatMap((piece) => [piece.from, piece.to]);
  const middle = [0, 1].map((k) => {
    const values = all.map((point) => point[k]!);
    return (Math.min(...values) + Math.max(...values)) / 2;
  });
  const toPixels = ([x, y]: Point): Point => [
    WIDTH / 2 + (x - middle[0]!) * scale,
    HEIGHT / 2 - (y - middle[1]!) * scale,
  ];
  const lines = paths.flat().flatMap((piece) => {
    if (piece.kind !== 'line') return [];
    const [a, b] = [toPixels(piece.from), toPixels(piece.to)];
    const line = `M${a[0].toFixed(2)} ${a[1].toFixed(2)}L${b[0].toFixed(2)} ${b[1].toFixed(2)}`;
    return [{ panel: section.cuts[piece.cut]!.panel, line }];
  });
  return { paths: paths.map((path) => band(path, toPixels, HALF)), lines };
}
