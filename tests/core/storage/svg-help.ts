import { said } from '../../support/said.ts';
import { openText, svg } from './help.ts';

function drawingOf(inside: string, attributes?: string) {
  const opened = openText('x.svg', svg(inside, attributes));
  if (opened.kind !== 'drawing') throw new Error(said(opened.findings));
  return opened;
}

/** Strokes of an SVG as rounded numbers, y up. */
export function strokesOf(inside: string, attributes?: string): number[][] {
  return drawingOf(inside, attributes).drawing.strokes.map(({ x1, y1, x2, y2 }) =>
    [x1, y1, x2, y2].map((n) => Math.round(n * 1e9) / 1e9 + 0),
  );
}

/** The same, one text for each: what is seen whatever the order. */
export const linesOf = (inside: string, attributes?: string): string[] =>
  strokesOf(inside, attributes).map((stroke) => stroke.join(' '));

/** Colour and dashes of each group. */
export const looksOf = (inside: string, attributes?: string): string[] =>
  drawingOf(inside, attributes).groups.map(({ colour, dash }) => `${colour} ${dash}`);

/** The sentences of notes that something is left out, cut or not followed. */
export const notesOf = (inside: string, attributes?: string): string[] =>
  drawingOf(inside, attributes)
    .findings.filter(({ code }) => code === 'line-ignored')
    .map((finding) => said([finding]));
