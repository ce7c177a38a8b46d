/** How much darker than the paper round it each pixel is. */
import { medianOf } from '../../numeric/quantile.ts';
import type { Raster } from './raster.ts';

export interface Ink {
  readonly width: number;
  readonly height: number;
  /** 0: as the paper; 1: no light at all. */
  readonly share: Float32Array;
  /** Standard deviation of the share on bare paper. */
  readonly noise: number;
}

/** Most blocks along the longer side in which the paper is measured. */
const BLOCKS = 50;
const LEAST_BLOCK = 16;

/**
 * The darkest of the three colours counts, so that coloured lines are as strong as black ones. A picture that is dark
 * as a whole is read as its negative.
 */
export function inkOf(raster: Raster): Ink {
  const { width, height, data } = raster;
  const dark = isDark(data);
  const value = new Float32Array(width * height);
  for (let at = 0; at < value.length; at++) {
    const [r, g, b] = [data[4 * at]!, data[4 * at + 1]!, data[4 * at + 2]!];
    value[at] = dark ? 255 - Math.max(r, g, b) : Math.min(r, g, b);
  }
  const share = againstGround(value, width, height);
  return { width, height, share, noise: noiseOf(share) };
}

function isDark(data: Uint8ClampedArray): boolean {
  const step = 4 * Math.max(1, Math.floor(data.length / 4 / 20000));
  const values: number[] = [];
  for (let at = 0; at < data.length; at += step)
    values.push(Math.max(data[at]!, data[at + 1]!, data[at + 2]!));
  return medianOf(values) < 110;
}

/** Replaces values by how far they lie below the ground, which is the median of blocks, even between their middles. */
function againstGround(value: Float32Array, width: number, height: number): Float32Array {
  const block = Math.max(LEAST_BLOCK, Math.ceil(Math.max(width, height) / BLOCKS));
  const [columns, rows] = [Math.ceil(width / block), Math.ceil(height / block)];
  const ground = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++)
      ground[row * columns + column] = blockMedian(value, width, height, column * block, row * block, block);
  for (let y = 0; y < height; y++) {
    const [above, below, down] = between((y + 0.5) / block - 0.5, rows);
    for (let x = 0; x < width; x++) {
      const [left, right, across] = between((x + 0.5) / block - 0.5, columns);
      const upper =
        ground[above * columns + left]! * (1 - across) + ground[above * columns + right]! * across;
      const lower =
        ground[below * columns + left]! * (1 - across) + ground[below * columns + right]! * across;
      const paper = Math.max(1, upper * (1 - down) + lower * down);
      value[y * width + x] = 1 - value[y * width + x]! / paper;
    }
  }
  return value;
}

function between(place: number, count: number): [number, number, number] {
  const low = Math.min(count - 1, Math.max(0, Math.floor(place)));
  return [low, Math.min(count - 1, low + 1), Math.min(1, Math.max(0, place - low))];
}

function blockMedian(
  value: Float32Array,
  width: number,
  height: number,
  left: number,
  top: number,
  size: number,
): number {
  const counts = new Uint32Array(256);
  let total = 0;
  for (let y = top; y < Math.min(height, top + size); y++)
    for (let x = left; x < Math.min(width, left + size); x++) {
      counts[value[y * width + x]!]!++;
      total++;
    }
  let seen = 0;
  for (let level = 0; level < 256; level++) {
    const here = counts[level]!;
    // within the level the values are taken to lie evenly
    if (seen + here >= total / 2) return level - 0.5 + (total / 2 - seen) / Math.max(1, here);
    seen += here;
  }
  return 255;
}

/** From the median of what lies off the ground, which the few pixels with ink hardly change. */
function noiseOf(share: Float32Array): number {
  const step = Math.max(1, Math.floor(share.length / 50000));
  const sizes: number[] = [];
  for (let at = 0; at < share.length; at += step) sizes.push(Math.abs(share[at]!));
  return 1.4826 * medianOf(sizes);
}

/** Ink at a place, even between the middles of pixels. */
export function inkAt({ width, height, share }: Ink, x: number, y: number): number {
  const u = Math.min(width - 1.001, Math.max(0, x - 0.5));
  const v = Math.min(height - 1.001, Math.max(0, y - 0.5));
  const [left, top] = [Math.floor(u), Math.floor(v)];
  const [across, down] = [u - left, v - top];
  const at = top * width + left;
  return (
    (share[at]! * (1 - across) + share[at + 1]! * across) * (1 - down) +
    (share[at + width]! * (1 - across) + share[at + width + 1]! * across) * down
  );
}
