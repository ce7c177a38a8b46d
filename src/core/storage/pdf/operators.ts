/** The drawing operators of a page that are followed, as the PDF library numbers them. Names as in ISO 32000-2, annex A. */
type Arguments = readonly unknown[];

/** A page as it is drawn: one operator after the other, each with what it is given. */
export interface DrawnPage {
  /** Names by number. */
  readonly names: ReadonlyMap<number, string>;
  readonly operators: readonly number[];
  readonly arguments: readonly (Arguments | null)[];
  /** Left, low, right and high side of what is shown of it, points (1/72 inch), before it is turned. */
  readonly box: readonly [number, number, number, number];
  /** Degrees clockwise: 0, 90, 180 or 270. */
  readonly turned: number;
  /** Length of its unit, points. */
  readonly unit: number;
  /** Is what stands on this layer shown? */
  readonly isShown: (layer: unknown) => boolean;
}
