/** Patterns drawn as pictures by a rasteriser of the tests' own, clean or worn. */
import jpeg from 'jpeg-js';
import { seededRandom } from '../../src/core/numeric/random.ts';
import type { Raster } from '../../src/core/storage/picture/raster.ts';
import type { DrawnPattern, PatternLine } from './picture-patterns.ts';

type Point = readonly [number, number];

export interface Manner {
  /** Pixels a millimetre. */
  readonly fine: number;
  /** Degrees. */
  readonly turned?: number;
  /** Standard deviation, pixels. */
  readonly blur?: number;
  readonly uneven?: boolean;
  /** Standard deviation of 255. */
  readonly noise?: number;
  readonly jpeg?: number;
  /** Shift of opposite corners against each other, share of the picture. */
  readonly perspective?: number;
  /** Barrel bend: share by which the corners are drawn in. */
  readonly bow?: number;
  readonly dashes?: Dashes;
  /** Count of letters written on the sheet. */
  readonly letters?: number;
  readonly colours?: Readonly<Record<PatternLine['kind'], readonly [number, number, number]>>;
  readonly seed?: number;
}

type Dashes = Readonly<Record<'mountain' | 'valley', readonly number[]>>;

/** Lengths drawn and left out, mm: common practice, no source. */
const USUAL: Dashes = { valley: [3, 1.5], mountain: [5, 1.2, 0.6, 1.2, 0.6, 1.2] };
const SIZE = 210;
const WIDTH = 0.35;
const MARGIN = 12;

export interface DrawnPicture {
  readonly raster: Raster;
  /** From the pattern (longer side 1, y up) to the picture, pixels with y down. */
  readonly place: (point: Point) => Point;
}

export const worn = (fine: number, seed: number): Manner => {
  const random = seededRandom(seed + 77);
  const turned = (random() < 0.5 ? -1 : 1) * (1 + 2 * random());
  return { fine, turned, blur: 1, uneven: true, noise: 10, jpeg: 60, seed };
};

export function drawPicture({ lines }: DrawnPattern, manner: Manner): DrawnPicture {
  const { fine } = manner;
  const high = SIZE * Math.max(...lines.flatMap(({ y1, y2 }) => [y1, y2]));
  const [width, height] = [SIZE, high].map((side) => Math.ceil((side + 2 * MARGIN) * fine)) as [
    number,
    number,
  ];
  const place = placing(manner, width, height, high);
  const canvas = new Canvas(width, height);
  const random = seededRandom((manner.seed ?? 1) * 31 + 5);
  for (const one of lines) drawLine(canvas, one, manner, place);
  for (let k = 0; k < (manner.letters ?? 0); k++) drawLetter(canvas, random, manner, place, high);
  canvas.blur(manner.blur ?? 0);
  return { raster: finished(canvas, manner, random), place: ([x, y]) => place([x * SIZE, y * SIZE]) };
}

/** From mm on the sheet, y up, to pixels. */
function placing(manner: Manner, width: number, height: number, high: number): (point: Point) => Point {
  const turn = ((manner.turned ?? 0) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const [half, tall] = [width / 2, height / 2];
  const tilt = manner.perspective ?? 0;
  return ([x, y]) => {
    const [u, v] = [(x - SIZE / 2) * manner.fine, (high / 2 - y) * manner.fine];
    const [p, q] = [cos * u - sin * v, sin * u + cos * v];
    const far = 1 + tilt * (p / half + q / tall / 2);
    const bent = 1 - (manner.bow ?? 0) * ((p / half) ** 2 + (q / tall) ** 2) * 0.5;
    const small = (1 - 2 * tilt) * bent;
    return [half + (small * p) / far, tall + (small * q) / far];
  };
}

function drawLine(canvas: Canvas, one: PatternLine, manner: Manner, place: (point: Point) => Point): void {
  const [dx, dy] = [(one.x2 - one.x1) * SIZE, (one.y2 - one.y1) * SIZE];
  const length = Math.hypot(dx, dy);
  const at = (along: number, beside: number): Point => [
    one.x1 * SIZE + (along * dx - beside * dy) / length,
    one.y1 * SIZE + (along * dy + beside * dx) / length,
  ];
  const dashes = one.kind === 'edge' ? [length] : (manner.dashes ?? USUAL)[one.kind];
  const colour = manner.colours?.[one.kind] ?? ([0, 0, 0] as const);
  for (let start = 0, k = 0; start < length; start += dashes[k++ % dashes.length]!) {
    const end = Math.min(length, start + dashes[k % dashes.length]!);
    if (k % 2 === 1) continue;
    // the ends of an outline are drawn on so that its corners are closed
    const on = one.kind === 'edge' ? WIDTH / 2 : 0;
    const bits = manner.bow ? Math.ceil((end - start) / 2) : 1;
    for (let bit = 0; bit < bits; bit++) {
      const [from, to] = [bit, bit + 1].map((b) => start - on + ((end - start + 2 * on) * b) / bits) as [
        number,
        number,
      ];
      const ring = [at(from, -WIDTH / 2), at(to, -WIDTH / 2), at(to, WIDTH / 2), at(from, WIDTH / 2)];
      canvas.fill(ring.map(place), colour);
    }
  }
}

/** Letters as strokes in a box of 1 by 1.4. */
const glyphs: readonly (readonly Point[])[] = [
  [
    [0, 0],
    [0.5, 1.4],
    [1, 0],
  ],
  [
    [0, 1.4],
    [0, 0],
    [0.8, 0],
  ],
  [
    [0, 0],
    [0, 1.4],
    [0.9, 1.1],
    [0, 0.7],
  ],
  [
    [0, 1.4],
    [1, 1.4],
    [0, 0],
    [1, 0],
  ],
  [
    [0, 0],
    [0, 1.4],
    [1, 0],
    [1, 1.4],
  ],
  [
    [0, 1.4],
    [0.5, 0.8],
    [1, 1.4],
    [0.5, 0.8],
    [0.5, 0],
  ],
];

function drawLetter(
  canvas: Canvas,
  random: () => number,
  manner: Manner,
  place: (point: Point) => Point,
  high: number,
): void {
  const tall = 3 + 4 * random();
  const [left, low] = [random() * (SIZE - 20), random() * (high - 10)];
  const word = 1 + Math.floor(4 * random());
  for (let letter = 0; letter < word; letter++) {
    const glyph = glyphs[Math.floor(random() * glyphs.length)]!;
    const points = glyph.map(
      ([x, y]): Point => [left + (x + 1.4 * letter) * tall * 0.7, low + y * tall * 0.7],
    );
    for (let k = 1; k < points.length; k++) {
      const [[ax, ay], [bx, by]] = [points[k - 1]!, points[k]!];
      const length = Math.hypot(bx - ax, by - ay);
      const [nx, ny] = [((ay - by) / length) * 0.2, ((bx - ax) / length) * 0.2];
      const ring: Point[] = [
        [ax + nx, ay + ny],
        [bx + nx, by + ny],
        [bx - nx, by - ny],
        [ax - nx, ay - ny],
      ];
      canvas.fill(ring.map(place), manner.colours?.edge ?? [0, 0, 0]);
    }
  }
}

const FINER = 6;

/** Share of the points of a pixel that lie on the inner side of all sides a x + b y + c = 0. */
function shareInside(x: number, y: number, a: Float64Array, b: Float64Array, c: Float64Array): number {
  let inside = 0;
  for (let i = 0; i < FINER; i++)
    for (let j = 0; j < FINER; j++) {
      let k = 0;
      while (k < a.length && a[k]! * (x + (i + 0.5) / FINER) + b[k]! * (y + (j + 0.5) / FINER) + c[k]! >= 0)
        k++;
      if (k === a.length) inside++;
    }
  return inside / FINER ** 2;
}

/** Light that comes back, 0 to 1, three channels. */
class Canvas {
  readonly light: Float32Array[];
  constructor(
    readonly width: number,
    readonly height: number,
  ) {
    this.light = [0, 1, 2].map(() => new Float32Array(width * height).fill(1));
  }

  /** A convex polygon, each pixel by the share of FINER x FINER points inside. */
  fill(ring: readonly Point[], colour: readonly [number, number, number]): void {
    const [xs, ys] = [ring.map(([x]) => x), ring.map(([, y]) => y)];
    const [left, right] = [
      Math.max(0, Math.floor(Math.min(...xs))),
      Math.min(this.width - 1, Math.floor(Math.max(...xs))),
    ];
    const [top, bottom] = [
      Math.max(0, Math.floor(Math.min(...ys))),
      Math.min(this.height - 1, Math.floor(Math.max(...ys))),
    ];
    const sides = ring.map(([ax, ay], k) => {
      const [bx, by] = ring[(k + 1) % ring.length]!;
      const length = Math.hypot(bx - ax, by - ay) || 1;
      return [(ay - by) / length, (bx - ax) / length, (ax * (by - ay) - ay * (bx - ax)) / length] as const;
    });
    const way =
      sides.reduce((sum, [a, b, c]) => sum + a * (xs[0]! + xs[2]!) + b * (ys[0]! + ys[2]!) + 2 * c, 0) > 0
        ? 1
        : -1;
    const [a, b, c] = [0, 1, 2].map((k) => Float64Array.from(sides, (side) => way * side[k]!)) as [
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    for (let y = top; y <= bottom; y++)
      for (let x = left; x <= right; x++) {
        // how far inside the middle of the pixel lies; no part of a pixel is further from that than 0.71
        let inside = 1;
        for (let k = 0; k < a.length; k++)
          inside = Math.min(inside, a[k]! * (x + 0.5) + b[k]! * (y + 0.5) + c[k]!);
        if (inside < -0.71) continue;
        const share = inside > 0.71 ? 1 : shareInside(x, y, a, b, c);
        const at = y * this.width + x;
        for (let k = 0; k < 3; k++) {
          const channel = this.light[k]!;
          channel[at] = channel[at]! * (1 - share) + (share * colour[k]!) / 255;
        }
      }
  }

  blur(deviation: number): void {
    if (deviation === 0) return;
    const reach = Math.ceil(3 * deviation);
    const weights = Array.from({ length: 2 * reach + 1 }, (_, k) =>
      Math.exp(-((k - reach) ** 2) / (2 * deviation ** 2)),
    );
    const whole = weights.reduce((sum, weight) => sum + weight, 0);
    const { width, height } = this;
    const isGrey = this.light[0]!.every(
      (value, at) => value === this.light[1]![at] && value === this.light[2]![at],
    );
    for (const channel of isGrey ? this.light.slice(0, 1) : this.light)
      for (const [step, count, rows, across] of [
        [1, width, height, width],
        [width, height, width, 1],
      ] as const) {
        const row = new Float32Array(count);
        for (let r = 0; r < rows; r++) {
          const start = r * across;
          for (let k = 0; k < count; k++) row[k] = channel[start + k * step]!;
          for (let k = 0; k < count; k++) {
            let sum = 0;
            for (let w = -reach; w <= reach; w++)
              sum += weights[w + reach]! * row[Math.min(count - 1, Math.max(0, k + w))]!;
            channel[start + k * step] = sum / whole;
          }
        }
        if (isGrey) for (const k of [1, 2]) this.light[k]!.set(this.light[0]!);
      }
  }
}

function finished(canvas: Canvas, manner: Manner, random: () => number): Raster {
  const { width, height } = canvas;
  const data = new Uint8ClampedArray(4 * width * height);
  const [slope, lean] = [0.25 * random(), 2 * Math.PI * random()];
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at = y * width + x;
      const across = (x / width - 0.5) * Math.cos(lean) + (y / height - 0.5) * Math.sin(lean);
      const lamp = manner.uneven ? 0.88 + slope * across - 0.1 * across * across : 1;
      const off = manner.noise ? manner.noise * normal(random) : 0;
      for (let k = 0; k < 3; k++) data[4 * at + k] = 255 * lamp * (0.06 + 0.94 * canvas.light[k]![at]!) + off;
      data[4 * at + 3] = 255;
    }
  if (!manner.jpeg) return { width, height, data };
  const packed = jpeg.encode({ width, height, data }, manner.jpeg);
  const decoded = jpeg.decode(packed.data, { useTArray: true, formatAsRGBA: true });
  return { width, height, data: new Uint8ClampedArray(decoded.data) };
}

const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
