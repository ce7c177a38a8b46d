/** What the lines of a page share until it is set otherwise (ISO 32000-2, 8.4). */
import type { Region } from '../drawing/clip.ts';
import type { Matrix } from '../matrix.ts';

export interface GraphicsState {
  /** From the units in force to mm on the page, y up. */
  readonly matrix: Matrix;
  /** In the units in force. */
  readonly width: number;
  readonly dash: readonly number[];
  /** #rrggbb; null where a pattern is drawn with. */
  readonly stroke: string | null;
  readonly fill: string | null;
  /** From 0, clear, to 1. */
  readonly strokeAlpha: number;
  readonly fillAlpha: number;
  readonly regions: readonly Region[];
}

/** At the beginning of a page. */
export const initialState = (matrix: Matrix, regions: readonly Region[]): GraphicsState => ({
  ...{ matrix, regions, width: 1, dash: [], stroke: '#000000', fill: '#000000' },
  ...{ strokeAlpha: 1, fillAlpha: 1 },
});

/** What a dictionary of parameters changes (8.4.5). */
export function withParameters(
  state: GraphicsState,
  entries: readonly (readonly [string, unknown])[],
): GraphicsState {
  let changed = state;
  for (const [name, value] of entries) {
    if (name === 'LW') changed = { ...changed, width: Number(value) };
    else if (name === 'D') changed = { ...changed, dash: dashOf((value as readonly unknown[])[0]) };
    else if (name === 'CA') changed = { ...changed, strokeAlpha: Number(value) };
    else if (name === 'ca') changed = { ...changed, fillAlpha: Number(value) };
  }
  return changed;
}

/** Lengths drawn and left out in turn. */
export const dashOf = (given: unknown): readonly number[] =>
  Array.isArray(given) ? given.map(Number).filter((length) => length >= 0) : [];
