/** A decoded picture; made smaller, and seen straight on. */
import { apply, type Homography } from './homography.ts';

/** RGBA, row after row from the top; the middle of the pixel in column x and row y lies at (x + 0.5, y + 0.5). */
export interface Raster {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray;
}

/** A picture made smaller by a whole number: each pixel the mean of a square of pixels. */
export function madeSmaller(raster: Raster, factor: number): Raster {
  if (factor <= 1) return raster;
  const width = Math.floor(raster.width / factor);
  const height = Math.floor(raster.height / factor);
  const data = new Uint8ClampedArray(4 * width * height);
  const area = factor * factor;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const sum = [0, 0, 0, 0];
      for (let row = y * factor; row < (y + 1) * factor; row++) {
        const start = 4 * (row * raster.width + x * factor);
        for (let at = start; at < start + 4 * factor; at++) sum[at & 3]! += raster.data[at]!;
      }
      for (let k = 0; k < 4; k++) data[4 * (y * width + x) + k] = sum[k]! / area;
    }
  }
  return { width, height, data };
}

/** A picture drawn anew; what lies outside the old one is white. @param toOld from new pixels to old ones */
export function drawnAnew(raster: Raster, width: number, height: number, toOld: Homography): Raster {
  const data = new Uint8ClampedArray(4 * width * height).fill(255);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const [u, v] = apply(toOld, [x + 0.5, y + 0.5]);
      const [left, top] = [Math.floor(u - 0.5), Math.floor(v - 0.5)];
      if (left < 0 || top < 0 || left + 1 >= raster.width || top + 1 >= raster.height) continue;
      const [across, down] = [u - 0.5 - left, v - 0.5 - top];
      const at = 4 * (top * raster.width + left);
      const below = at + 4 * raster.width;
      for (let k = 0; k < 3; k++) {
        const upper = raster.data[at + k]! * (1 - across) + raster.data[at + 4 + k]! * across;
        const lower = raster.data[below + k]! * (1 - across) + raster.data[below + 4 + k]! * across;
        data[4 * (y * width + x) + k] = upper * (1 - down) + lower * down;
      }
    }
  }
  return { width, height, data };
}
