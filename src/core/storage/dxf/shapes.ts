/** The points of lines and polylines of a DXF file. */
import { LEVEL } from '../../numeric/tolerance.ts';
import type { Space } from '../../numeric/vector.ts';
import { unreadable } from '../refusal.ts';
import type { DxfRecord } from './groups.ts';
import type { DxfEntity } from './sections.ts';

/** A line or polyline in the coordinates of its drawing or block. */
export interface DxfShape {
  readonly points: readonly Space[];
  readonly closed: boolean;
  /** Some part of it is an arc, or it was rounded off. */
  readonly curved: boolean;
}

/** Flags of a POLYLINE, group 70. */
const CLOSED = 1;
const ROUNDED = 2 | 4;
const SPATIAL = 8;
const MESH = 16 | 64;

/** Is it a net of panels in space rather than a line? */
export const isMesh = ({ record }: DxfEntity) =>
  record.type === 'POLYLINE' && (record.integer(70, 0) & MESH) !== 0;

/** The points of a LINE, LWPOLYLINE or POLYLINE. Throws a Refusal for numbers that are none and tilted planes. */
export function shapeOf(entity: DxfEntity): DxfShape {
  switch (entity.record.type) {
    case 'LINE':
      return lineShape(entity.record);
    case 'LWPOLYLINE':
      return lightShape(entity.record);
    default:
      return polylineShape(entity);
  }
}

/**
 * 1 for an entity drawn from the front, -1 from behind: its x and z then point the other way (AutoCAD DXF reference,
 * arbitrary axis algorithm). Throws a Refusal for a tilted plane.
 */
export function facing(record: DxfRecord): 1 | -1 {
  const [x, y, z] = [record.number(210), record.number(220), record.number(230, 1)];
  if (Math.max(Math.abs(x), Math.abs(y)) > LEVEL * Math.abs(z)) {
    throw unreadable({ how: 'dxf-tilted', type: record.type, line: record.line });
  }
  return z < 0 ? -1 : 1;
}

/** The ends of a LINE stand in world coordinates, however its normal points. */
function lineShape(record: DxfRecord): DxfShape {
  const points: Space[] = [
    [record.coordinate(10), record.coordinate(20), record.number(30)],
    [record.coordinate(11), record.coordinate(21), record.number(31)],
  ];
  return { points, closed: false, curved: false };
}

function lightShape(record: DxfRecord): DxfShape {
  const side = facing(record);
  const z = side * record.number(38);
  const across = record.groups.filter(({ code }) => code === 10).map((group) => record.numberIn(group));
  const up = record.groups.filter(({ code }) => code === 20).map((group) => record.numberIn(group));
  if (up.length !== across.length) {
    const code = up.length < across.length ? 20 : 10;
    throw unreadable({ how: 'dxf-missing', type: record.type, line: record.line, code });
  }
  return {
    points: across.map((x, i): Space => [side * x, up[i]!, z]),
    closed: (record.integer(70, 0) & CLOSED) !== 0,
    curved: record.groups.some((group) => group.code === 42 && record.numberIn(group) !== 0),
  };
}

/** The points of a 3D polyline stand in world coordinates, those of any other on its own plane. */
function polylineShape({ record, vertices }: DxfEntity): DxfShape {
  const flags = record.integer(70, 0);
  const spatial = (flags & SPATIAL) !== 0;
  const side = spatial ? 1 : facing(record);
  const heights = spatial ? vertices.map((vertex) => vertex.number(30)) : planeHeights(record, vertices);
  return {
    points: vertices.map(
      (vertex, i): Space => [side * vertex.coordinate(10), vertex.coordinate(20), side * heights[i]!],
    ),
    closed: (flags & CLOSED) !== 0,
    curved: (flags & ROUNDED) !== 0 || vertices.some((vertex) => vertex.number(42) !== 0),
  };
}

/** The elevation of a plane polyline stands at its head; programs that leave it out there write it at each vertex. */
function planeHeights(record: DxfRecord, vertices: readonly DxfRecord[]): number[] {
  const own = vertices.map((vertex) => vertex.number(30));
  const elevation = record.number(30);
  return elevation === 0 ? own : own.map((height) => elevation + height - own[0]!);
}
