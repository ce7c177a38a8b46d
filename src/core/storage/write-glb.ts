import { turn } from '../numeric/rotation.ts';
import { type Placement, placePoint } from '../pose/place.ts';
import { meshOfPanel } from '../sheet/panel-mesh.ts';
import type { Sheet } from '../sheet/sheet.ts';

export interface GlbFacts {
  /** Length of the longer side of the sheet in mm. */
  readonly size: number;
  /** #rrggbb of the side that faced up at the start, and of the other. */
  readonly up: string;
  readonly down: string;
}

const floatType = 5126;
const indexType = 5125;

/**
 * A pose as binary glTF 2.0, in metres and with y up as that standard asks: the sheet's z becomes y. Each panel has
 * corners of its own, and each side of the paper is a part with a one-sided material of its colour.
 */
export function writeGlb(sheet: Sheet, placement: Placement, facts: GlbFacts): Uint8Array {
  const positions: number[] = [];
  const normals: number[] = [];
  const triangles: number[] = [];
  const metres = facts.size / 1000;
  const point = new Float64Array(3);
  const normal = new Float64Array(3);
  for (let panel = 0; panel < sheet.panelRings.length; panel++) {
    const mesh = meshOfPanel(sheet, panel);
    const first = positions.length / 3;
    turn(normal, 0, placement.rotation, 4 * panel, 0, 0, 1);
    for (const vertex of mesh.corners) {
      placePoint(point, 0, placement, panel, sheet.vertexX[vertex]!, sheet.vertexY[vertex]!);
      positions.push(metres * point[0]!, metres * point[2]!, -metres * point[1]!);
      normals.push(normal[0]!, normal[2]!, -normal[1]!);
    }
    for (const corner of mesh.triangles) triangles.push(first + corner);
  }
  const place = Float32Array.from(positions);
  const front = Float32Array.from(normals);
  const parts = [
    place,
    front,
    front.map((value) => -value),
    Uint32Array.from(triangles),
    Uint32Array.from(triangles).reverse(),
  ];
  return pack(headerOf(place, front.length / 3, triangles.length, facts), parts);
}

function headerOf(place: Float32Array, corners: number, indices: number, facts: GlbFacts): string {
  const box = (pick: (a: number, b: number) => number) =>
    [0, 1, 2].map((axis) =>
      place.reduce((most, value, i) => (i % 3 === axis ? pick(most, value) : most), place[axis]!),
    );
  const bytes = 12 * corners;
  const view = (byteOffset: number, byteLength: number, target: number) => ({
    buffer: 0,
    byteOffset,
    byteLength,
    target,
  });
  const directions = { componentType: floatType, count: corners, type: 'VEC3' };
  const order = { componentType: indexType, count: indices, type: 'SCALAR' };
  const side = (name: string, colour: string) => ({
    name,
    doubleSided: false,
    pbrMetallicRoughness: { baseColorFactor: linearColour(colour), metallicFactor: 0, roughnessFactor: 0.9 },
  });
  return JSON.stringify({
    asset: { version: '2.0', generator: 'Creaseway' },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: [{ mesh: 0, name: 'sheet' }],
    meshes: [
      {
        primitives: [
          { attributes: { POSITION: 0, NORMAL: 1 }, indices: 3, material: 0 },
          { attributes: { POSITION: 0, NORMAL: 2 }, indices: 4, material: 1 },
        ],
      },
    ],
    materials: [side('side up', facts.up), side('side down', facts.down)],
    accessors: [
      { bufferView: 0, ...directions, min: box(Math.min), max: box(Math.max) },
      { bufferView: 1, ...directions },
      { bufferView: 2, ...directions },
      { bufferView: 3, ...order },
      { bufferView: 4, ...order },
    ],
    bufferViews: [
      view(0, bytes, 34962),
      view(bytes, bytes, 34962),
      view(2 * bytes, bytes, 34962),
      view(3 * bytes, 4 * indices, 34963),
      view(3 * bytes + 4 * indices, 4 * indices, 34963),
    ],
    buffers: [{ byteLength: 3 * bytes + 8 * indices }],
  });
}

/** Puts header and data into one little-endian file: 12 bytes of head, then two chunks padded to four bytes. */
function pack(header: string, parts: readonly (Float32Array | Uint32Array)[]): Uint8Array {
  const text = header.padEnd(Math.ceil(header.length / 4) * 4, ' ');
  const dataLength = parts.reduce((sum, part) => sum + part.byteLength, 0);
  const bytes = new Uint8Array(12 + 8 + text.length + 8 + dataLength);
  const view = new DataView(bytes.buffer);
  let at = 0;
  const word = (value: number) => {
    view.setUint32(at, value, true);
    at += 4;
  };
  for (const value of [0x46546c67, 2, bytes.length, text.length, 0x4e4f534a]) word(value);
  for (let i = 0; i < text.length; i++) bytes[at++] = text.charCodeAt(i);
  for (const value of [dataLength, 0x004e4942]) word(value);
  for (const part of parts) {
    const float = part instanceof Float32Array;
    part.forEach((value) => {
      if (float) view.setFloat32(at, value, true);
      else view.setUint32(at, value, true);
      at += 4;
    });
  }
  return bytes;
}

/** #rrggbb as linear light with full cover, as glTF wants it. */
function linearColour(colour: string): number[] {
  const channels = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255);
  return [...channels.map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)), 1];
}
