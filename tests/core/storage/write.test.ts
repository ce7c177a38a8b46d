import { describe, expect, test } from 'vitest';
import { drawnPaper } from '../../../src/core/drawn/drawn-pose.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { sheetFromGraph } from '../../../src/core/sheet/from-graph.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { openFile } from '../../../src/core/storage/open.ts';
import { writeFlatSvg, writeSvg } from '../../../src/core/storage/svg/write.ts';
import { writeFold } from '../../../src/core/storage/write-fold.ts';
import { writeGlb } from '../../../src/core/storage/write-glb.ts';
import { writeObj } from '../../../src/core/storage/write-obj.ts';
import { fixture, openText, patternOf, sheetOf } from './help.ts';

const bases = ['s1', 's2', 's3', 's4', 's5'];
const load = (name: string) => sheetOf(openFile(name, fixture(name)));
const colours = { up: '#ffffff', down: '#2f6690' };

/** Every finished angle as a pose, around panel 0. */
function finished(sheet: Sheet) {
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  return { angle, placement: placePanels(sheet, angle, 0) };
}

/** A square of 4 inches, its lower left corner at (10, 20), folded up by 90 degrees along its middle. */
function hinge(): Sheet {
  const { sheet } = sheetFromGraph({
    vertices: [
      [10, 20],
      [12, 20],
      [14, 20],
      [14, 24],
      [12, 24],
      [10, 24],
    ],
    edges: [
      [0, 1],
      [1, 2],
      [2, 3],
      [3, 4],
      [4, 5],
      [5, 0],
      [1, 4],
    ],
    kinds: ['edge', 'edge', 'edge', 'edge', 'edge', 'edge', 'valley'],
    angles: [Number.NaN, Number.NaN, Number.NaN, Number.NaN, Number.NaN, Number.NaN, Math.PI / 2],
  });
  return sheet!;
}

/** A square with a square hole. */
function frame(): Sheet {
  const kinds = Array.from({ length: 8 }, () => 'edge' as const);
  const { sheet } = sheetFromGraph({
    vertices: [
      [0, 0],
      [4, 0],
      [4, 4],
      [0, 4],
      [1, 1],
      [3, 1],
      [3, 3],
      [1, 3],
    ],
    edges: [
      [0, 1],
      [1, 2],
      [2, 3],
      [3, 0],
      [4, 5],
      [5, 6],
      [6, 7],
      [7, 4],
    ],
    kinds,
    angles: kinds.map(() => Number.NaN),
  });
  return sheet!;
}

describe('the pattern reads back the same', () => {
  test.each(bases)('%s as SVG, from every file kind, same coordinates and true size', (base) => {
    for (const ending of ['svg', 'dxf', 'fold']) {
      const sheet = load(`${base}.${ending}`);
      const text = writeSvg(sheet, { title: 'a <b> & "c"', size: sheet.frame.scale });
      const opened = openText('x.svg', text);
      expect(opened.findings).toEqual([]);
      expect(opened.kind === 'drawing' && opened.named).toBe(true);
      expect(opened.kind === 'drawing' && opened.drawing.millimetres).toBeCloseTo(1, 12);
      expect(patternOf(sheetOf(opened))).toEqual(patternOf(sheet));
      expect(sheetOf(opened).frame).toEqual(sheet.frame);
    }
  });

  test.each(bases)('%s as FOLD, same numbers', (base) => {
    const sheet = load(`${base}.svg`);
    const again = sheetOf(openText('x.fold', writeFold(sheet, { millimetres: 1 })));
    expect(again.creaseFrom).toEqual(sheet.creaseFrom);
    expect(again.creaseTo).toEqual(sheet.creaseTo);
    expect(again.creaseKind).toEqual(sheet.creaseKind);
    for (let v = 0; v < sheet.vertexX.length; v++)
      expect(again.vertexX[v]).toBeCloseTo(sheet.vertexX[v]!, 13);
    sheet.creaseAngle.forEach((angle, e) => {
      if (!Number.isNaN(angle)) expect(again.creaseAngle[e]).toBeCloseTo(angle, 13);
    });
  });

  test('the trade’s line styles: valley dashed, mountain dash-dot-dot, raw edge solid and heaviest', () => {
    const plain = writeSvg(load('s3.svg')).replace(/ (?:id|class)="[^"]*"/g, '');
    const opened = openText('x.svg', plain);
    if (opened.kind !== 'drawing') throw new Error('refused');
    const looks = opened.groups.map(({ dash, place }) => `${dash} ${place}`).sort();
    expect(looks).toEqual(['dash-dot-dot inside', 'dashed inside', 'solid rim']);
    const widths = new Map(opened.groups.map(({ dash, width }) => [dash, width]));
    expect(widths.get('solid')).toBeGreaterThan(1.5 * widths.get('dashed')!);
    expect(patternOf(sheetOf(opened))).toEqual(patternOf(load('s3.svg')));
  });
});

describe('a pose as FOLD', () => {
  test('coordinates in the unit of the input, angles in degrees, order kept', () => {
    const sheet = hinge();
    const file = JSON.parse(writeFold(sheet, { millimetres: 25.4 }, finished(sheet)));
    expect(file.frame_unit).toBe('in');
    expect(file.edges_vertices[6]).toEqual([1, 4]);
    expect(file.edges_foldAngle).toEqual([0, 0, 0, 0, 0, 0, 90]);
    // one half stays, the other stands up: its far corners are 2 inches above the fold (by hand)
    const heights = file.vertices_coords.map((point: number[]) => Math.round(point[2]! * 1e9) / 1e9 + 0);
    expect(heights.filter((z: number) => z === 2)).toHaveLength(2);
    expect(heights.filter((z: number) => z === 0)).toHaveLength(4);
    const still = file.vertices_coords[heights[0] === 0 ? 0 : 2];
    expect(still.slice(0, 2)).toEqual(heights[0] === 0 ? [10, 20] : [14, 20]);
  });

  test.each(bases)('%s: its second frame is the flat pattern, which opens again', (base) => {
    const bytes = fixture(`${base}.fold`);
    const given = JSON.parse(new TextDecoder().decode(bytes));
    const sheet = load(`${base}.fold`);
    const text = writeFold(sheet, { millimetres: 1 }, finished(sheet));
    const file = JSON.parse(text);
    expect(file.edges_vertices).toEqual(given.edges_vertices);
    expect(file.edges_assignment).toEqual(given.edges_assignment);
    file.faces_vertices.forEach((face: number[], panel: number) => {
      expect([...face].sort()).toEqual([...given.faces_vertices[panel]].sort());
    });
    expect(patternOf(sheetOf(openText('x.fold', text)))).toEqual(patternOf(sheet));
  });
});

describe('OBJ', () => {
  test('one polygon a panel, corners in the unit of the input', () => {
    const sheet = hinge();
    const lines = writeObj(sheet, finished(sheet).placement).split('\n');
    const points = lines
      .filter((line) => line.startsWith('v '))
      .map((line) => line.split(' ').slice(1).map(Number));
    const faces = lines
      .filter((line) => line.startsWith('f '))
      .map((line) => line.split(' ').slice(1).map(Number));
    expect(points).toHaveLength(6);
    expect(faces.map((face) => face.length)).toEqual([4, 4]);
    for (const face of faces) {
      const sides = face.map((corner, k) => {
        const [a, b] = [points[corner - 1]!, points[face[(k + 1) % 4]! - 1]!];
        return Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!);
      });
      sides.sort((a, b) => a - b).forEach((side, k) => expect(side).toBeCloseTo([2, 2, 4, 4][k]!, 9));
    }
  });

  test('a panel with a hole becomes triangles that cover it', () => {
    const sheet = frame();
    const lines = writeObj(sheet, finished(sheet).placement).split('\n');
    const points = lines
      .filter((line) => line.startsWith('v '))
      .map((line) => line.split(' ').slice(1).map(Number));
    const areas = lines
      .filter((line) => line.startsWith('f '))
      .map((line) =>
        line
          .split(' ')
          .slice(1)
          .map((n) => points[Number(n) - 1]!),
      )
      .map(
        ([a, b, c]) => ((b![0]! - a![0]!) * (c![1]! - a![1]!) - (b![1]! - a![1]!) * (c![0]! - a![0]!)) / 2,
      );
    expect(areas.every((area) => area > 0)).toBe(true);
    expect(areas.reduce((sum, area) => sum + area, 0)).toBeCloseTo(16 - 4, 12);
  });
});

/** Reads a GLB by the letter of the glTF 2.0 specification. */
function readGlb(bytes: Uint8Array) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  expect([view.getUint32(0, true), view.getUint32(4, true), view.getUint32(8, true)]).toEqual([
    0x46546c67,
    2,
    bytes.length,
  ]);
  const length = view.getUint32(12, true);
  expect([view.getUint32(16, true), length % 4]).toEqual([0x4e4f534a, 0]);
  const header = JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + length)));
  const start = 20 + length + 8;
  expect(view.getUint32(start - 4, true)).toBe(0x004e4942);
  expect(view.getUint32(start - 8, true)).toBe(header.buffers[0].byteLength);
  const numbers = (accessor: number): number[] => {
    const { bufferView, componentType, count, type } = header.accessors[accessor];
    const from = start + header.bufferViews[bufferView].byteOffset;
    const size = count * (type === 'VEC3' ? 3 : 1);
    expect(header.bufferViews[bufferView].byteLength).toBe(4 * size);
    return Array.from({ length: size }, (_, i) =>
      componentType === 5126 ? view.getFloat32(from + 4 * i, true) : view.getUint32(from + 4 * i, true),
    );
  };
  return { header, numbers };
}

/** The finished state, of whose layers nothing is told. */
function asPlaced(sheet: Sheet) {
  const levels = new Float32Array(sheet.panelRings.length);
  return drawnPaper(sheet, finished(sheet).placement, { levels, aside: null }, []);
}

describe('GLB', () => {
  test('two sides, each with its colour, its normals along its winding; metres, y up', () => {
    const sheet = hinge();
    const { header, numbers } = readGlb(writeGlb(asPlaced(sheet), { size: 100, thickness: 0.1, ...colours }));
    const [{ primitives }] = header.meshes;
    expect(primitives).toHaveLength(2);
    for (const { attributes, indices } of primitives) {
      const at = numbers(attributes.POSITION);
      const normal = numbers(attributes.NORMAL);
      const order = numbers(indices);
      for (let i = 0; i < order.length; i += 3) {
        const [a, b, c] = order.slice(i, i + 3).map((v) => at.slice(3 * v, 3 * v + 3)) as [
          number[],
          number[],
          number[],
        ];
        const u = b.map((value, k) => value - a[k]!) as [number, number, number];
        const w = c.map((value, k) => value - a[k]!) as [number, number, number];
        const cross = [u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]];
        const dot = cross.reduce((sum, value, k) => sum + value * normal[3 * order[i]! + k]!, 0);
        expect(dot).toBeGreaterThan(0);
      }
      expect(header.accessors[attributes.POSITION].max[1]).toBeCloseTo(0.05, 6);
    }
    const base = header.materials.map(
      (m: { pbrMetallicRoughness: { baseColorFactor: number[] } }) => m.pbrMetallicRoughness.baseColorFactor,
    );
    expect(base[0]).toEqual([1, 1, 1, 1]);
    // sRGB 0x2f in linear light: ((47/255 + 0.055) / 1.055) ^ 2.4, from the sRGB definition
    expect(base[1][0]).toBeCloseTo(((47 / 255 + 0.055) / 1.055) ** 2.4, 12);
  });

  test.each(bases)('%s: the box in the file is the box of its corners', (base) => {
    const sheet = load(`${base}.fold`);
    const { header, numbers } = readGlb(writeGlb(asPlaced(sheet), { size: 200, thickness: 0.1, ...colours }));
    const at = numbers(0);
    for (const axis of [0, 1, 2]) {
      const along = at.filter((_, i) => i % 3 === axis);
      expect(header.accessors[0].min[axis]).toBeCloseTo(Math.min(...along), 6);
      expect(header.accessors[0].max[axis]).toBeCloseTo(Math.max(...along), 6);
    }
  });
});

test('a flat result as SVG has the finished size, each panel in the colour of the side that looks up', () => {
  const sheet = load('s3.svg');
  const text = writeFlatSvg(sheet, finished(sheet).placement, colours, { size: 150 });
  // 5 by 7 of 12 units of a 150 mm sheet, from the description of the pattern
  expect(text).toMatch(/width="62\.5mm" height="87\.5mm"/);
  expect(text.match(/fill="#(ffffff|2f6690)"/g)).toHaveLength(12);
});
