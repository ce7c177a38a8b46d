/**
 * What is written is read by general libraries from npm without a complaint, with the same counts and lengths: SVG by
 * fast-xml-parser, DXF by dxf-parser, GLB by the validator of the Khronos Group and three's loader, OBJ by three's loader,
 * FOLD by its published entries (FOLD 1.2).
 */
import DxfParser from 'dxf-parser';
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { validateBytes } from 'gltf-validator';
import type { Group, Mesh } from 'three';
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js';
import { OBJLoader } from 'three/addons/loaders/OBJLoader.js';
import { describe, expect, test } from 'vitest';
import { drawnPaper } from '../../../src/core/drawn/drawn-pose.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { type LineKind, lineKinds } from '../../../src/core/sheet/kind.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { writeDxf } from '../../../src/core/storage/dxf/write.ts';
import { openFile } from '../../../src/core/storage/open.ts';
import { writeSvg } from '../../../src/core/storage/svg/write.ts';
import { writeFold } from '../../../src/core/storage/write-fold.ts';
import { writeGlb } from '../../../src/core/storage/write-glb.ts';
import { writeObj } from '../../../src/core/storage/write-obj.ts';
import { cuffedTray, disguise, flare, hingedCase, squareTwist, wallet } from '../../support/models.ts';
import { fixture, openText, patternOf, sheetOf } from './help.ts';

const SIZE = 240;

const makers = [cuffedTray, hingedCase, flare, wallet, (random: () => number) => squareTwist(random, 'MVMV')];

/** Sheets of random models, and one with every kind of line. */
const sheets: readonly (readonly [string, Sheet])[] = [
  ...makers.map((make, k): [string, Sheet] => {
    const random = seededRandom(700 + k);
    const { segments } = disguise(make(random), random);
    return [`model ${k}`, buildSheet(segments).sheet!];
  }),
  ['every kind', everyKind()],
];

function everyKind(): Sheet {
  const line = (y: number, kind: LineKind, angle?: number) => ({
    x1: 0,
    y1: y,
    x2: 1,
    y2: y,
    kind,
    ...(angle && { angle }),
  });
  const { sheet } = buildSheet([
    { x1: 0, y1: 0, x2: 0, y2: 1, kind: 'edge' },
    { x1: 1, y1: 0, x2: 1, y2: 1, kind: 'edge' },
    line(0, 'edge'),
    line(1, 'edge'),
    line(0.2, 'valley', 1.1),
    line(0.35, 'mountain', -Math.PI),
    line(0.5, 'unassigned', -0.5),
    line(0.6, 'unassigned'),
    line(0.7, 'flat'),
    { ...line(0.85, 'cut'), x1: 0.3, x2: 0.6 },
  ]);
  return sheet!;
}

/** How many lines of each kind, and how long they are together, mm. */
function measured(lines: readonly { readonly kind: string; readonly length: number }[]) {
  const found: Record<string, { count: number; length: number }> = {};
  for (const { kind, length } of lines) {
    const one = (found[kind] ??= { count: 0, length: 0 });
    one.count++;
    one.length += length;
  }
  return Object.fromEntries(
    Object.entries(found)
      .sort(([a], [b]) => a.localeCompare(b))
      .map(([kind, { count, length }]) => [kind, { count, length: Number(length.toFixed(6)) }]),
  );
}

const linesOf = (sheet: Sheet, scale = SIZE) =>
  measured(
    [...sheet.creaseKind].map((kind, crease) => {
      const [a, b] = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!];
      const length = Math.hypot(sheet.vertexX[a]! - sheet.vertexX[b]!, sheet.vertexY[a]! - sheet.vertexY[b]!);
      return { kind: lineKinds[kind]!, length: scale * length };
    }),
  );

const hypot = (a: { x: number; y: number }, b: { x: number; y: number }) => Math.hypot(a.x - b.x, a.y - b.y);

describe.each(sheets)('%s', (_, sheet) => {
  test('as SVG', () => {
    const text = writeSvg(sheet, { title: 'Round trip', size: SIZE });
    expect(XMLValidator.validate(text)).toBe(true);
    const list = (value: unknown) => (Array.isArray(value) ? value : [value]);
    const { svg } = new XMLParser({ ignoreAttributes: false, attributeNamePrefix: '' }).parse(text);
    const [, , width] = String(svg.viewBox).split(' ').map(Number);
    const unit = Number.parseFloat(svg.width) / width!;
    const lines = list(svg.g).flatMap((group) =>
      list(group.line).map((one: Record<string, string>) => ({
        kind: group.class,
        length: unit * Math.hypot(Number(one.x1) - Number(one.x2), Number(one.y1) - Number(one.y2)),
      })),
    );
    expect(measured(lines)).toEqual(linesOf(sheet));
    expect(text).not.toMatch(/xmlns:(?!xlink)/);
    expect(patternOf(sheetOf(openText('x.svg', text)))).toEqual(patternOf(sheet));
  });

  test('as DXF', () => {
    const text = writeDxf(sheet, SIZE);
    const read = new DxfParser().parseSync(text)!;
    // millimetres, in the table of the format (group 70 of $INSUNITS)
    expect(read.header.$INSUNITS).toBe(4);
    const layers = read.tables.layer.layers;
    const lines = read.entities.map((entity) => {
      const { vertices } = entity as unknown as { vertices: { x: number; y: number }[] };
      expect(Object.keys(layers)).toContain(entity.layer);
      return { kind: entity.layer!.split(' ')[0]!, length: hypot(vertices[0]!, vertices[1]!) };
    });
    expect(measured(lines)).toEqual(linesOf(sheet));
    const again = openText('x.dxf', text);
    expect(again.kind === 'drawing' && [again.named, again.drawing.millimetres]).toEqual([true, 1]);
    expect(patternOf(sheetOf(again))).toEqual(patternOf(sheet));
  });

  test('as FOLD', () => {
    const { x, y } = sheet.frame;
    const read = JSON.parse(writeFold({ ...sheet, frame: { x, y, scale: SIZE } }, { millimetres: 1 }));
    expect(read.file_spec).toBe(1.2);
    const kinds: Record<string, string> = {
      B: 'edge',
      M: 'mountain',
      V: 'valley',
      U: 'unassigned',
      F: 'flat',
      C: 'cut',
    };
    const lines = read.edges_vertices.map(([a, b]: [number, number], edge: number) => {
      const [from, to] = [read.vertices_coords[a], read.vertices_coords[b]];
      return {
        kind: kinds[read.edges_assignment[edge]]!,
        length: Math.hypot(from[0] - to[0], from[1] - to[1]),
      };
    });
    expect(measured(lines)).toEqual(linesOf(sheet));
    // a mark has the angle 0 in this format (FOLD 1.2, edges_assignment F)
    const creaseAngle = sheet.creaseAngle.map((angle, k) =>
      lineKinds[sheet.creaseKind[k]!] === 'flat' ? 0 : angle,
    );
    expect(patternOf(sheetOf(openText('x.fold', JSON.stringify(read))))).toEqual(
      patternOf({ ...sheet, creaseAngle }),
    );
  });
});

describe('models', () => {
  const sheet = sheetOf(openFile('s1.fold', fixture('s1.fold')));
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  const placement = placePanels(sheet, angle, 0);
  /** Areas of all panels together, of a sheet whose longer side is 1. */
  const area = () => {
    const across = Math.max(...sheet.vertexX);
    return across * Math.max(...sheet.vertexY);
  };

  function areaOf(group: Group): number {
    let sum = 0;
    group.traverse((one) => {
      const { geometry } = one as Mesh;
      if (!geometry) return;
      const { position } = geometry.attributes;
      const order = geometry.index?.array ?? Array.from({ length: position!.count }, (_, k) => k);
      for (let k = 0; k < order.length; k += 3) {
        const [a, b, c] = [0, 1, 2].map((n) =>
          [0, 1, 2].map((axis) => position!.getComponent(order[k + n]!, axis)),
        );
        const [u, v] = [
          b!.map((value, axis) => value - a![axis]!),
          c!.map((value, axis) => value - a![axis]!),
        ];
        sum +=
          Math.hypot(
            u[1]! * v[2]! - u[2]! * v[1]!,
            u[2]! * v[0]! - u[0]! * v[2]!,
            u[0]! * v[1]! - u[1]! * v[0]!,
          ) / 2;
      }
    });
    return sum;
  }

  test('as GLB: valid, both sides of the paper, in metres', async () => {
    const still = { levels: new Float32Array(sheet.panelRings.length), aside: null };
    // unfolded: where panels lie on each other, paper round the fold is drawn as well
    const unfolded = placePanels(sheet, new Float64Array(angle.length), 0);
    const bytes = writeGlb(drawnPaper(sheet, unfolded, still, []), {
      size: SIZE,
      thickness: 0.1,
      up: '#ffffff',
      down: '#2f6690',
    });
    const { issues } = await validateBytes(bytes);
    expect(issues.messages.filter(({ severity }: { severity: number }) => severity <= 1)).toEqual([]);
    const { scene } = await new GLTFLoader().parseAsync(
      bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer,
      '',
    );
    expect(areaOf(scene) / (2 * (SIZE / 1000) ** 2)).toBeCloseTo(area(), 5);
  });

  test('as OBJ: one polygon a panel', () => {
    const read = new OBJLoader().parse(writeObj(sheet, placement, 'Case'));
    expect(areaOf(read) / sheet.frame.scale ** 2).toBeCloseTo(area(), 6);
  });
});
