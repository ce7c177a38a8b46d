/**
 * How much a file may hold. A drawing beyond these is refused with a sentence that states the limit, so that no
 * file, however made, keeps the page busy for more than about two seconds.
 */

/** Bytes of a file: the largest hand-made drawing seen is a few hundred kilobytes. */
export const BYTE_LIMIT = 32 * 1024 * 1024;

/** Strokes of a drawing. Ten times the largest sheet that the solver is built for. */
export const STROKE_LIMIT = 200_000;

/** Largest coordinate, in the file's own unit: beyond it squares of lengths lose the digits that folding needs. */
export const COORDINATE_LIMIT = 1e9;

/** Uses of uses, or blocks within blocks. */
export const REUSE_LIMIT = 32;
