/** Drawings that several tests share. */
import type { LineKind } from '../../../src/core/sheet/kind.ts';
import type { Segment } from '../../../src/core/sheet/segment.ts';
import models from '../../outside/values/models.json' with { type: 'json' };

export const modelNames = ['S1', 'S2', 'S3', 'S4', 'S5'] as const;
export type ModelName = (typeof modelNames)[number];

export function line(
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  kind: LineKind = 'edge',
  angle?: number,
): Segment {
  return { x1, y1, x2, y2, kind, angle };
}

/** Closed polygon of raw edges. */
export function outline(...points: [number, number][]): Segment[] {
  return points.map(([x, y], k) => line(x, y, ...points[(k + 1) % points.length]!));
}

export function square(size = 1): Segment[] {
  return outline([0, 0], [size, 0], [size, size], [0, size]);
}

/** A demonstration model as loose strokes, in grid units; angles in radians. */
export function model(name: ModelName): Segment[] {
  const { grid, creases } = models[name];
  return [
    ...square(grid),
    ...creases.map((c) => {
      const [x1, y1, x2, y2, degrees] = c as [number, number, number, number, number];
      return line(x1, y1, x2, y2, degrees > 0 ? 'valley' : 'mountain', (degrees * Math.PI) / 180);
    }),
  ];
}

/** Strokes with every point mapped. */
export function mapped(
  segments: readonly Segment[],
  map: (x: number, y: number) => [number, number],
): Segment[] {
  return segments.map((s) => {
    const [x1, y1] = map(s.x1, s.y1);
    const [x2, y2] = map(s.x2, s.y2);
    return { ...s, x1, y1, x2, y2 };
  });
}
