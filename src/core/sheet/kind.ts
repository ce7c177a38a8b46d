/** The kinds of line on a sheet, in the order in which `Sheet.creaseKind` stores them. */
export const lineKinds = ['mountain', 'valley', 'unassigned', 'flat', 'edge', 'cut'] as const;

/**
 * mountain, valley: folds, seen from the side that faces up at the start. unassigned: may go either way.
 * flat: a mark or construction line, stays unfolded. edge: raw edge of the sheet. cut: slit inside the sheet.
 */
export type LineKind = (typeof lineKinds)[number];

/** Index of each kind in `lineKinds`, for typed arrays. */
export const KIND = { mountain: 0, valley: 1, unassigned: 2, flat: 3, edge: 4, cut: 5 } as const;

/** Does paper go on across a line of this kind (so that it may hinge)? */
export function kindJoinsPanels(kind: number): boolean {
  return kind !== KIND.edge && kind !== KIND.cut;
}

/** May a line of this kind take a fold angle other than 0? */
export function kindFolds(kind: number): boolean {
  return kind === KIND.mountain || kind === KIND.valley || kind === KIND.unassigned;
}
