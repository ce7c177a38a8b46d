/** How far layers are drawn apart. */
import type { StageUniforms } from './uniforms.ts';

/**
 * Layers are drawn at least so far apart, pixels: a raster that rounds corners to a sixteenth of a pixel tells them
 * apart, an eye does not see it.
 */
const LEAST_SPACING = 0.22;
/** What is drawn thicker than it is, so that layers can be told apart, makes a stack no higher than this, sheet units. */
const STACK_HEIGHT = 0.2;

/**
 * How thick paper is drawn, so far from the eye: as thick as it is, and no thinner than a raster can tell.
 * @param paper its own thickness, sheet units @param deepest most layers to one side of the innermost
 */
export function drawnThickness(
  { pixelsPerUnit }: StageUniforms,
  distance: number,
  paper: number,
  deepest: number,
): number {
  const told = (LEAST_SPACING * distance) / pixelsPerUnit.value;
  return Math.max(paper, Math.min(told, STACK_HEIGHT / deepest));
}

/** @param thickness of the paper as it is drawn @param apart by how much more layers are pulled apart */
export function setSpacing({ spacing, lineLift }: StageUniforms, thickness: number, apart: number): void {
  spacing.value = thickness + apart;
  lineLift.value = 0.3 * thickness;
}
