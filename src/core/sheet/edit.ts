/** Whole-sheet changes. Each gives a new sheet with the same numbering. */
import { KIND } from './kind.ts';
import type { Sheet } from './sheet.ts';
import { NONE } from './sheet.ts';

/** The mirror image: x is reflected, kinds and angles stay (a left-handed copy of the model). */
export function mirrorSheet(sheet: Sheet): Sheet {
  return reflect(sheet);
}

/** The same paper seen from its other side: x is reflected, mountains and valleys change places, angles turn sign. */
export function seenFromBehind(sheet: Sheet): Sheet {
  return {
    ...reflect(sheet),
    creaseKind: sheet.creaseKind.map((kind) =>
      kind === KIND.mountain ? KIND.valley : kind === KIND.valley ? KIND.mountain : kind,
    ),
    creaseAngle: sheet.creaseAngle.map((angle) => (angle === 0 ? 0 : -angle)),
  };
}

/** Reflects x within the sheet's box; half-edges change direction so that paper stays on their left. */
function reflect(sheet: Sheet): Sheet {
  const width = sheet.vertexX.reduce((widest, x) => Math.max(widest, x), 0);
  const next = new Int32Array(sheet.halfEdgeNext.length);
  const panel = new Int32Array(next.length).fill(NONE);
  for (let h = 0; h < next.length; h++) {
    // the ring is walked backwards, on the twins
    next[sheet.halfEdgeNext[h]! ^ 1] = h ^ 1;
    panel[h ^ 1] = sheet.halfEdgePanel[h]!;
  }
  return {
    ...sheet,
    vertexX: sheet.vertexX.map((x) => width - x),
    halfEdgeNext: next,
    halfEdgePanel: panel,
    panelRings: sheet.panelRings.map((rings) => rings.map((h) => h ^ 1)),
  };
}
