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
 * How thick paper is drawn, so far from the eye, that a raster can tell its layers, sheet units.
 * @param deepest most layers to one side of the innermost
 */
export function thicknessToTell({ pixelsPerUnit }: StageUniforms, distance: number, deepest: number): number {
  return Math.min((LEAST_SPACING * distance) / pixelsPerUnit.value, STACK_HEIGHT / deepest);
}

/** @param thickness of the paper as it is drawn @param apart by how much more layers are pulled apart */
export function setSpacing({ spacing, lineLift }: StageUniforms, thickness: number, apart: number): void {
  spacing.value = thickness + apart;
  lineLift.value = 0.3 * thickness;
}
