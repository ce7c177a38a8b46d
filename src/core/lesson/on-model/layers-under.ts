/** The layers that a line drawn on the model may take: from the top, as many as are wished. */

import { cellAt } from '../../layer/pieces.ts';
import { FOLDED_FLAT } from '../../numeric/tolerance.ts';
import { kindJoinsPanels } from '../../sheet/kind.ts';
import { NONE } from '../../sheet/sheet.ts';
import { type DrawnLine, movingSide } from './fold-across.ts';
import { halfEdgesOf, type LyingPaper, ownPlace } from './in-plane.ts';

/** Places tried between the two points of the line, and how far beside it, sheet units: below what a hand can point at. */
const TRIED = 15;
const BESIDE = 1e-4;

/** The tallest stack just beside a line, on the side that moves: panels, lowest first as the plane's normal looks. */
export function layersBeside(paper: LyingPaper, line: DrawnLine): readonly number[] {
  const { side } = movingSide(paper, line);
  const [a, b] = [ownPlace(paper, line.from), ownPlace(paper, line.to)];
  const plane = paper.stacks.planes.groups[paper.group]!;
  let tallest: readonly number[] = [];
  for (let k = 1; k < TRIED; k++) {
    const at = ([0, 1] as const).map((c) => a[c] + (k / TRIED) * (b[c] - a[c]) + BESIDE * side.inward[c]);
    const here = paper.stacks.over[paper.group]![cellAt(plane, at[0]!, at[1]!)]!;
    if (here.length > tallest.length) tallest = here;
  }
  return tallest;
}

/** Panels, and those that go on from them unfolded: marks do not end a layer. */
export function wholeLayers(
  { sheet, angle }: Pick<LyingPaper, 'sheet' | 'angle'>,
  panels: readonly number[],
): readonly number[] {
  const layers = new Set(panels);
  for (const panel of layers)
    for (const h of halfEdgesOf(sheet, panel)) {
      const beyond = sheet.halfEdgePanel[h ^ 1]!;
      const goesOn = beyond !== NONE && kindJoinsPanels(sheet.creaseKind[h >> 1]!);
      if (goesOn && Math.abs(angle[h >> 1]!) <= FOLDED_FLAT) layers.add(beyond);
    }
  return [...layers];
}
