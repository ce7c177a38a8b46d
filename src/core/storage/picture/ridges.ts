/**
 * Points on the middle of lines, from second derivatives of the ink (Steger 1998, An unbiased detector of curvilinear
 * structures; from memory).
 */
import { medianOf, quantileOf } from '../../numeric/quantile.ts';
import { type Ink, inkAt } from './ink.ts';

export interface Ridges {
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Direction of the line, 0 to pi, y down as in the picture. */
  readonly angle: Float64Array;
  /** 1 where the direction can be relied on: not on dots nor where lines meet. */
  readonly sure: Uint8Array;
  /** Smoothed ink, and its usual amount on a line. */
  readonly smooth: Float32Array;
  readonly depth: number;
}

/** Points beyond these are the weakest and are left out: noise must not make the work endless. */
const MOST_POINTS = 150_000;
/** A ridge stands this many deviations above the noise of the smoothed ink, and this share of the usual depth. */
const OVER_NOISE = 4;
const OF_DEPTH = 0.3;
/** How far beside its pixel the ridge may lie: a line between two pixels is seen from one of them at least. */
const OFF_PIXEL = 0.6;

/** @param sigma scale of the derivatives: half the width of the line as it is seen, pixels */
export function ridgesOf(ink: Ink, sigma: number): Ridges {
  const { width, height } = ink;
  const kernels = kernelsOf(sigma);
  const [across, slope, bend] = kernels.map((kernel) => alongRows(ink, kernel)) as [
    Float32Array,
    Float32Array,
    Float32Array,
  ];
  const smooth = downColumns(across, width, height, kernels[0]!);
  const least = (OVER_NOISE * ink.noise) / (2 * Math.sqrt(Math.PI) * sigma);
  const found = candidates(smooth, width, height, kernels[0]!.length >> 1, Math.max(least, 0.02));
  const depth = quantileOf(found.heights, 0.8);
  const floor = Math.max(least, OF_DEPTH * depth);
  const points: { x: number; y: number; angle: number; sure: boolean; strength: number }[] = [];
  for (const at of found.places) {
    if (smooth[at]! < floor) continue;
    const column = (from: Float32Array, kernel: Float32Array) => columnAt(from, at, width, kernel);
    const [plain, first, second] = kernels as [Float32Array, Float32Array, Float32Array];
    const [gx, gy] = [column(slope, plain), column(across, first)];
    const [xx, yy, xy] = [column(bend, plain), column(across, second), column(slope, first)];
    const mean = (xx + yy) / 2;
    const apart = Math.hypot((xx - yy) / 2, xy);
    const strong = mean - apart;
    if (strong >= 0) continue;
    // the way across the line, in which the ink falls off on both sides
    const normal = 0.5 * Math.atan2(2 * xy, xx - yy) + Math.PI / 2;
    const [nx, ny] = [Math.cos(normal), Math.sin(normal)];
    const shift = -(gx * nx + gy * ny) / strong;
    if (Math.abs(shift * nx) > OFF_PIXEL || Math.abs(shift * ny) > OFF_PIXEL) continue;
    points.push({
      x: (at % width) + 0.5 + shift * nx,
      y: Math.floor(at / width) + 0.5 + shift * ny,
      angle: turned(normal + Math.PI / 2),
      sure: Math.abs(mean + apart) < 0.5 * -strong,
      strength: -strong,
    });
  }
  const least2 = OF_DEPTH * medianOf(points.map(({ strength }) => strength));
  const strong = points.filter(({ strength }) => strength >= least2);
  if (strong.length > MOST_POINTS) strong.sort((a, b) => b.strength - a.strength).length = MOST_POINTS;
  return {
    count: strong.length,
    x: Float64Array.from(strong, ({ x }) => x),
    y: Float64Array.from(strong, ({ y }) => y),
    angle: Float64Array.from(strong, ({ angle }) => angle),
    sure: Uint8Array.from(strong, ({ sure }) => (sure ? 1 : 0)),
    smooth,
    depth,
  };
}

/** The same direction from 0 up to pi. */
export function turned(angle: number): number {
  const rest = angle % Math.PI;
  return rest < 0 ? rest + Math.PI : rest;
}

/** Angle between two lines, 0 to a right angle. */
export function angleBetween(a: number, b: number): number {
  const apart = turned(a - b);
  return Math.min(apart, Math.PI - apart);
}

/** Width at half height of lines as they are seen, pixels, from sections across them. */
export function seenWidth(ink: Ink, ridges: Ridges): number {
  const step = Math.max(1, Math.floor(ridges.count / 1500));
  const reach = 24;
  const section = Array.from({ length: reach * 2 + 1 }, (): number[] => []);
  for (let k = 0; k < ridges.count; k += step) {
    if (!ridges.sure[k]) continue;
    const [nx, ny] = [-Math.sin(ridges.angle[k]!), Math.cos(ridges.angle[k]!)];
    section.forEach((values, at) => {
      const off = (at - reach) / 2;
      values.push(inkAt(ink, ridges.x[k]! + off * nx, ridges.y[k]! + off * ny));
    });
  }
  const middle = section.map(medianOf);
  const half = middle[reach]! / 2;
  const side = (way: 1 | -1): number => {
    for (let k = 1; k <= reach; k++) {
      const [inner, outer] = [middle[reach + way * (k - 1)]!, middle[reach + way * k]!];
      if (outer < half) return (k - 1 + (inner - half) / (inner - outer)) / 2;
    }
    return reach / 2;
  };
  return side(1) + side(-1);
}

/** The bell curve, its slope and its bend. */
function kernelsOf(sigma: number): [Float32Array, Float32Array, Float32Array] {
  const reach = Math.ceil(3.5 * sigma);
  const bell = Float32Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * sigma ** 2)),
  );
  const whole = bell.reduce((sum, value) => sum + value, 0);
  const plain = bell.map((value) => value / whole);
  const slope = plain.map((value, k) => (value * (k - reach)) / sigma ** 2);
  const bend = plain.map((value, k) => value * ((k - reach) ** 2 / sigma ** 4 - 1 / sigma ** 2));
  const lean = bend.reduce((sum, value) => sum + value, 0) / bend.length;
  return [plain, slope, bend.map((value) => value - lean)];
}

function alongRows({ width, height, share }: Ink, kernel: Float32Array): Float32Array {
  const out = new Float32Array(width * height);
  const reach = kernel.length >> 1;
  const row = new Float32Array(width + 2 * reach);
  for (let y = 0; y < height; y++) {
    const start = y * width;
    row.set(share.subarray(start, start + width), reach);
    row.fill(row[reach]!, 0, reach);
    row.fill(row[reach + width - 1]!, reach + width);
    for (let x = 0; x < width; x++) {
      let sum = 0;
      for (let k = 0; k < kernel.length; k++) sum += kernel[k]! * row[x + k]!;
      out[start + x] = sum;
    }
  }
  return out;
}

function downColumns(from: Float32Array, width: number, height: number, kernel: Float32Array): Float32Array {
  const out = new Float32Array(width * height);
  const reach = kernel.length >> 1;
  for (let y = 0; y < height; y++) {
    const start = y * width;
    for (let k = 0; k < kernel.length; k++) {
      const row = Math.min(height - 1, Math.max(0, y + k - reach)) * width;
      const weight = kernel[k]!;
      for (let x = 0; x < width; x++) out[start + x]! += weight * from[row + x]!;
    }
  }
  return out;
}

function columnAt(from: Float32Array, at: number, width: number, kernel: Float32Array): number {
  const reach = kernel.length >> 1;
  let sum = 0;
  for (let k = 0; k < kernel.length; k++) sum += kernel[k]! * from[at + (k - reach) * width]!;
  return sum;
}

/** Pixels that are a ridge in a row, a column or a diagonal, or nearly. */
function candidates(smooth: Float32Array, width: number, height: number, margin: number, least: number) {
  const places: number[] = [];
  const heights: number[] = [];
  for (let y = margin; y < height - margin; y++)
    for (let x = margin; x < width - margin; x++) {
      const at = y * width + x;
      const here = smooth[at]!;
      if (here < least) continue;
      const isTop = (step: number) => here >= smooth[at - step]! && here >= smooth[at + step]!;
      if (isTop(1) || isTop(width) || isTop(width + 1) || isTop(width - 1)) {
        places.push(at);
        heights.push(here);
      }
    }
  return { places, heights };
}
