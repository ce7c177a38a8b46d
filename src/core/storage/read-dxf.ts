import type { Curve } from '../finding/values/file.ts';
import { FILE_ROUNDING } from '../numeric/tolerance.ts';
import { type DashStyle, dashStyleOfLineType } from './dash.ts';
import { type Drawing, DrawingBuilder, type StrokeLook, tooManyStrokes } from './drawing.ts';
import { colourOfNumber } from './dxf-colour.ts';
import { type DxfRecord, dxfRecords, entryOf, integerOf } from './dxf-groups.ts';
import { REUSE_LIMIT, STROKE_LIMIT } from './limits.ts';
import { lineOfName } from './line-name.ts';
import { apply, compose, identity, type Matrix, shift, stretch, turn } from './matrix.ts';
import { PassedOverCount } from './passed-over.ts';
import { readNumber, refusal, unreadable } from './refusal.ts';

interface Layer {
  readonly colour: string;
  readonly lineType: string;
  readonly shown: boolean;
}

interface Block {
  readonly base: readonly [number, number];
  readonly entities: DxfRecord[];
}

/** Where entities are placed, and what those drawn "by block" or on layer 0 inherit. */
interface Placing {
  readonly matrix: Matrix;
  readonly layer: string | null;
  readonly colour: string;
  readonly lineType: string;
  readonly depth: number;
}

const curves = new Set(['ARC', 'CIRCLE', 'ELLIPSE', 'SPLINE', 'HELIX']);

/** Millimetres in the units of $INSUNITS, from memory. */
const millimetresOfUnit: Readonly<Record<number, number>> = {
  1: 25.4,
  2: 304.8,
  4: 1,
  5: 10,
  6: 1000,
  14: 100,
};

/**
 * Reads a DXF drawing into straight strokes: lines and polylines, blocks put in place. Throws a Refusal when it
 * cannot be used.
 */
export function readDxf(text: string): Drawing {
  return new DxfReader(text).drawing();
}

class DxfReader {
  private readonly builder = new DrawingBuilder();
  private readonly layers = new Map<string, Layer>();
  private readonly lineTypes = new Map<string, number[]>();
  private readonly blocks = new Map<string, Block>();
  private readonly entities: DxfRecord[] = [];
  private readonly passedOver = new PassedOverCount();
  private readonly curved: Curve[] = [];
  private millimetres: number | null = null;
  private visits = 0;

  constructor(text: string) {
    let section = '';
    let block: Block | null = null;
    let kept = 0;
    for (const record of dxfRecords(text)) {
      if (record.type === 'SECTION') {
        section = entryOf(record, 2)?.toUpperCase() ?? '';
        if (section === 'HEADER') this.readHeader(record);
      } else if (record.type === 'ENDSEC') {
        section = '';
      } else if (section === 'TABLES') {
        this.readTable(record);
      } else if (section === 'BLOCKS' && record.type === 'BLOCK') {
        block = { base: [this.number(record, 10), this.number(record, 20)], entities: [] };
        this.blocks.set(entryOf(record, 2) ?? '', block);
      } else if (section === 'BLOCKS' || section === 'ENTITIES') {
        if (++kept > 2 * STROKE_LIMIT) throw tooManyStrokes();
        (section === 'ENTITIES' ? this.entities : block?.entities)?.push(record);
      }
    }
  }

  drawing(): Drawing {
    const top: Placing = {
      matrix: identity,
      layer: null,
      colour: '#000000',
      lineType: 'CONTINUOUS',
      depth: 0,
    };
    this.draw(this.entities, top);
    if (this.curved.length > 0) {
      const count = this.curved.length;
      throw refusal('line-curved', { first: this.curved[0]!, count }, { value: count });
    }
    return this.builder.finish(this.millimetres, this.passedOver.findings());
  }

  private readHeader(record: DxfRecord): void {
    record.groups.forEach((group, index) => {
      if (group.code !== 9 || group.value.toUpperCase() !== '$INSUNITS') return;
      const unit = Number(record.groups[index + 1]?.value);
      this.millimetres = millimetresOfUnit[unit] ?? null;
    });
  }

  private readTable(record: DxfRecord): void {
    const name = entryOf(record, 2) ?? '';
    if (record.type === 'LTYPE') {
      const pattern = record.groups.filter((group) => group.code === 49);
      this.lineTypes.set(
        name.toUpperCase(),
        pattern.map((group) => Number(group.value)),
      );
    } else if (record.type === 'LAYER') {
      const number = integerOf(record, 62, 7);
      const frozen = (integerOf(record, 70, 0) & 1) === 1;
      const colour = trueColour(record) ?? colourOfNumber(Math.abs(number));
      const lineType = entryOf(record, 6) ?? 'CONTINUOUS';
      this.layers.set(name.toUpperCase(), { colour, lineType, shown: number >= 0 && !frozen });
    }
  }

  private draw(entities: readonly DxfRecord[], placing: Placing): void {
    for (let i = 0; i < entities.length; i++) {
      const entity = entities[i]!;
      if (++this.visits > 4 * STROKE_LIMIT) throw tooManyStrokes();
      let vertices: DxfRecord[] = [];
      if (entity.type === 'POLYLINE') {
        const first = i + 1;
        while (entities[i + 1]?.type === 'VERTEX') i++;
        vertices = entities.slice(first, i + 1);
      }
      if (integerOf(entity, 67, 0) === 1 || entity.type === 'SEQEND' || entity.type === 'ENDBLK') continue;
      const layer = this.layerOf(entity, placing);
      if (!(this.layers.get(layer.toUpperCase())?.shown ?? true)) this.passedOver.add('hidden-layer');
      else this.drawOne(entity, vertices, layer, placing);
    }
  }

  private drawOne(entity: DxfRecord, vertices: readonly DxfRecord[], layer: string, placing: Placing): void {
    const { type } = entity;
    if (curves.has(type)) this.curved.push({ how: 'entity', type, line: entity.line, layer });
    else if (type === 'LINE') this.drawLine(entity, layer, placing);
    else if (type === 'LWPOLYLINE') this.drawLightPolyline(entity, layer, placing);
    else if (type === 'POLYLINE') this.drawPolyline(entity, vertices, layer, placing);
    else if (type === 'INSERT') this.insert(entity, layer, placing);
    else this.passedOver.add({ how: 'element', name: type });
  }

  private drawLine(entity: DxfRecord, layer: string, placing: Placing): void {
    const number = (code: number) => this.number(entity, code);
    if (number(30) !== number(31)) {
      throw unreadable({ how: 'dxf-off-plane', line: entity.line });
    }
    const points: [number, number][] = [
      [number(10), number(20)],
      [number(11), number(21)],
    ];
    this.chain(points, false, placing.matrix, entity, layer, placing);
  }

  private drawLightPolyline(entity: DxfRecord, layer: string, placing: Placing): void {
    const points: [number, number][] = [];
    for (const group of entity.groups) {
      if (group.code === 10) points.push([readNumber(group.value, { how: 'line', line: group.line }), 0]);
      else if (group.code === 20 && points.length > 0) {
        points[points.length - 1]![1] = readNumber(group.value, { how: 'line', line: group.line });
      }
    }
    const bulges = entity.groups.some((group) => group.code === 42 && Number(group.value) !== 0);
    if (bulges) this.curved.push({ how: 'arc-in', type: 'LWPOLYLINE', line: entity.line, layer });
    const closed = (integerOf(entity, 70, 0) & 1) === 1;
    this.chain(points, closed, this.plane(entity, placing.matrix), entity, layer, placing);
  }

  private drawPolyline(
    entity: DxfRecord,
    vertices: readonly DxfRecord[],
    layer: string,
    placing: Placing,
  ): void {
    const flags = integerOf(entity, 70, 0);
    if ((flags & (16 | 64)) !== 0) {
      this.passedOver.add('mesh');
      return;
    }
    const bent = vertices.some((vertex) => this.number(vertex, 42) !== 0);
    if (bent || (flags & (2 | 4)) !== 0) {
      this.curved.push({ how: 'arc-in', type: 'POLYLINE', line: entity.line, layer });
    }
    const points = vertices.map((vertex): [number, number] => [
      this.number(vertex, 10),
      this.number(vertex, 20),
    ]);
    this.chain(points, (flags & 1) === 1, this.plane(entity, placing.matrix), entity, layer, placing);
  }

  private chain(
    points: readonly [number, number][],
    closed: boolean,
    matrix: Matrix,
    entity: DxfRecord,
    layer: string,
    placing: Placing,
  ): void {
    const placed = points.map(([x, y]) => apply(matrix, x, y));
    const source = { how: 'line', line: entity.line, element: entity.type, layer } as const;
    this.builder.addChain(placed, closed, this.lookOf(entity, layer, placing), source);
  }

  private insert(entity: DxfRecord, layer: string, placing: Placing): void {
    const name = entryOf(entity, 2) ?? '';
    const block = this.blocks.get(name);
    if (!block) {
      this.passedOver.add('block-missing');
      return;
    }
    if (placing.depth >= REUSE_LIMIT) {
      throw unreadable({ how: 'dxf-block', name, line: entity.line });
    }
    const number = (code: number, fallback: number) => this.number(entity, code, fallback);
    const size = stretch(number(41, 1), number(42, 1));
    const turned = turn(number(50, 0));
    const atBase = shift(-block.base[0], -block.base[1]);
    const outer = compose(this.plane(entity, placing.matrix), shift(number(10, 0), number(20, 0)));
    const columns = Math.max(1, integerOf(entity, 70, 1));
    const rows = Math.max(1, integerOf(entity, 71, 1));
    if (columns * rows > STROKE_LIMIT) throw tooManyStrokes();
    const inherits = {
      layer,
      colour: this.colourOf(entity, layer, placing),
      lineType: this.lineTypeOf(entity, layer, placing),
    };
    for (let row = 0; row < rows; row++) {
      for (let column = 0; column < columns; column++) {
        const cell = compose(turned, shift(column * number(44, 0), row * number(45, 0)));
        const matrix = compose(outer, compose(cell, compose(size, atBase)));
        this.draw(block.entities, { matrix, depth: placing.depth + 1, ...inherits });
      }
    }
  }

  /** Entities drawn from behind mirror x; those on tilted planes are refused. */
  private plane(entity: DxfRecord, matrix: Matrix): Matrix {
    const x = this.number(entity, 210);
    const y = this.number(entity, 220);
    if (Math.abs(x) > FILE_ROUNDING || Math.abs(y) > FILE_ROUNDING) {
      throw unreadable({ how: 'dxf-tilted', type: entity.type, line: entity.line });
    }
    return this.number(entity, 230, 1) < 0 ? compose(matrix, stretch(-1, 1)) : matrix;
  }

  private layerOf(entity: DxfRecord, placing: Placing): string {
    const own = entryOf(entity, 8) ?? '0';
    return own === '0' && placing.layer !== null ? placing.layer : own;
  }

  private colourOf(entity: DxfRecord, layer: string, placing: Placing): string {
    const own = trueColour(entity);
    if (own) return own;
    const number = integerOf(entity, 62, 256);
    if (number === 0) return placing.colour;
    return number === 256
      ? (this.layers.get(layer.toUpperCase())?.colour ?? '#000000')
      : colourOfNumber(number);
  }

  private lineTypeOf(entity: DxfRecord, layer: string, placing: Placing): string {
    const own = (entryOf(entity, 6) ?? 'BYLAYER').toUpperCase();
    if (own === 'BYBLOCK') return placing.lineType;
    return own === 'BYLAYER' ? (this.layers.get(layer.toUpperCase())?.lineType ?? 'CONTINUOUS') : own;
  }

  private lookOf(entity: DxfRecord, layer: string, placing: Placing): StrokeLook {
    const lineType = this.lineTypeOf(entity, layer, placing);
    const dash: DashStyle = dashStyleOfLineType(lineType, this.lineTypes.get(lineType.toUpperCase()) ?? []);
    const weight = integerOf(entity, 370, 0);
    const named = lineOfName(layer);
    return {
      colour: this.colourOf(entity, layer, placing),
      dash,
      width: weight > 0 ? weight / 100 : 0,
      layer,
      ...(named ? { named } : {}),
    };
  }

  private number(record: DxfRecord, code: number, fallback = 0): number {
    const group = record.groups.find((candidate) => candidate.code === code);
    const place = (line: number) => ({ how: 'line', line, element: record.type }) as const;
    return group ? readNumber(group.value, place(group.line + 1)) : fallback;
  }
}

function trueColour(record: DxfRecord): string | null {
  const value = integerOf(record, 420, -1);
  return value < 0 ? null : `#${(value & 0xffffff).toString(16).padStart(6, '0')}`;
}
