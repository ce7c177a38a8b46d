/**
 * How far paper gives: by how many mm a flat panel bows aside, without a crease, for another to get past. A panel of free
 * length L whose ends come nearer to each other by e bows by sqrt(3 e L / 8) (rise of a shallow arc whose length stays). A
 * fold is rounded by about the thickness t of the paper, so that each of the two ends yields half of it: e = t. A short
 * panel would have to be bent more sharply for that than it springs back from: a circle of radius R rises by L^2 / (8 R)
 * over a chord L. Arcs by elementary geometry; what folds yield and R common practice, no source.
 */
import { SPRINGS_BACK, USUAL_SHEET, USUAL_THICKNESS } from '../numeric/tolerance.ts';
import type { PanelShapes } from './shapes.ts';

/** The paper that a sheet is of, mm; what is not known is taken as usual. */
export interface PaperFacts {
  /** Length of the sheet's longer side. */
  readonly sheetSize?: number | undefined;
  readonly thickness?: number | undefined;
}

/** Rise, mm, to which a panel bows. @param length its free length, mm @param thickness of the paper, mm */
export function bowOf(length: number, thickness: number): number {
  const byEnds = Math.sqrt((3 * thickness * length) / 8);
  const byRadius = length ** 2 / (8 * SPRINGS_BACK * thickness);
  return Math.min(byEnds, byRadius);
}

/** How far either of two panels gives way to the other, sheet units: the longer one bows more. */
export type Give = (a: number, b: number) => number;

export function giveOf(
  shapes: PanelShapes,
  { sheetSize = USUAL_SHEET, thickness = USUAL_THICKNESS }: PaperFacts = {},
): Give {
  const bow = Float64Array.from({ length: shapes.panels }, (_, panel) => {
    return bowOf(longestWay(shapes, panel) * sheetSize, thickness) / sheetSize;
  });
  return (a, b) => Math.max(bow[a]!, bow[b]!);
}

/** The free length of a panel: its two corners furthest from each other. */
function longestWay({ first, flat }: PanelShapes, panel: number): number {
  let most = 0;
  for (let c = first[panel]!; c < first[panel + 1]!; c++)
    for (let d = first[panel]!; d < c; d++)
      most = Math.max(most, Math.hypot(flat[2 * c]! - flat[2 * d]!, flat[2 * c + 1]! - flat[2 * d + 1]!));
  return most;
}
