import type { Point, Space } from '../../numeric/vector.ts';
import { type DashStyle, dashStyleOfLineType } from '../drawing/dash.ts';
import { type Drawing, DrawingBuilder, type DrawnCurve, type StrokeLook } from '../drawing/drawing.ts';
import { lineOfName } from '../drawing/line-name.ts';
import { PassedOverCount } from '../drawing/passed-over.ts';
import { REUSE_LIMIT, STROKE_LIMIT } from '../limits.ts';
import { apply, compose, identity, type Matrix } from '../matrix.ts';
import { refusal, unreadable } from '../refusal.ts';
import { colourOfNumber } from './colour.ts';
import { pointsOfCurve } from './curves.ts';
import { type DxfRecord, folded } from './groups.ts';
import { DxfHeights } from './heights.ts';
import { type DxfInsert, insertOf } from './inserts.ts';
import type { DxfLayer } from './layers.ts';
import { type DxfBlock, type DxfEntity, type DxfFile, readDxfSections, trueColour } from './sections.ts';
import { type DxfShape, isMesh, shapeOf } from './shapes.ts';

/** Where entities are placed, and what those drawn "by block" or on layer 0 inherit. */
interface Placing {
  readonly matrix: Matrix;
  /** World height = rise × height + base. */
  readonly rise: number;
  readonly base: number;
  readonly layer: DxfLayer | null;
  readonly colour: string;
  readonly lineType: string;
}

const top: Placing = {
  matrix: identity,
  rise: 1,
  base: 0,
  layer: null,
  colour: '#000000',
  lineType: 'CONTINUOUS',
};

const bent = new Set(['ARC', 'CIRCLE', 'ELLIPSE', 'SPLINE', 'HELIX']);
const lines = new Set(['LINE', 'LWPOLYLINE', 'POLYLINE']);

/** How often entities may be looked at, those of a block anew for each insert. */
const VISIT_LIMIT = 2 * STROKE_LIMIT;

/** So many points of a curve cost as much as an entity. */
const POINTS_A_VISIT = 4;

/** Kinds of entities that are told apart in notes; the format has some fifty. */
const KINDS_TOLD = 60;

/**
 * Reads a DXF drawing into straight strokes: lines and polylines, blocks put in place. Throws a Refusal when it
 * cannot be used.
 */
export function readDxf(text: string): Drawing {
  return new DxfReader(readDxfSections(text)).drawing();
}

class DxfReader {
  private readonly file: DxfFile;
  private readonly builder = new DrawingBuilder();
  private readonly heights = new DxfHeights();
  private readonly passedOver = new PassedOverCount();
  private readonly kinds = new Set<string>();
  private readonly curved: DrawnCurve[] = [];
  private readonly curves = new Map<DxfRecord, readonly Point[]>();
  private readonly shapes = new Map<DxfEntity, DxfShape>();
  private readonly inserts = new Map<DxfRecord, DxfInsert>();
  /** Blocks that are being drawn, each within the one before. */
  private readonly within = new Set<DxfBlock>();
  private visits = 0;

  constructor(file: DxfFile) {
    this.file = file;
  }

  drawing(): Drawing {
    this.draw(this.file.entities, top);
    const notes = this.passedOver.findings();
    const drawing = this.builder.finish(this.file.millimetres, notes, this.curved);
    this.heights.check();
    return drawing;
  }

  private draw(entities: readonly DxfEntity[], placing: Placing): void {
    for (const entity of entities) {
      this.visit(1);
      const layer = this.layerOf(entity.record, placing);
      if (this.isShown(entity.record, layer)) this.drawOne(entity, layer, placing);
    }
  }

  private visit(count: number): void {
    this.visits += count;
    if (this.visits > VISIT_LIMIT) {
      throw refusal('file-too-large', { how: 'dxf-repeats', most: VISIT_LIMIT }, { limit: VISIT_LIMIT });
    }
  }

  /**
   * Is an entity part of what one sees? Counts what is not: on the paper of a layout (group 67), on a layer that is
   * off or frozen, or invisible itself (group 60).
   */
  private isShown(record: DxfRecord, layer: DxfLayer): boolean {
    const inserts = record.type === 'INSERT';
    const draws = inserts || lines.has(record.type) || bent.has(record.type);
    const hidden = layer.frozen || (layer.off && !inserts);
    if (draws && record.integer(67, 0) === 1) this.passedOver.add('layout');
    else if (hidden) this.passedOver.add('hidden-layer');
    else if (record.integer(60, 0) !== 0) this.passedOver.add('invisible-entity');
    else return true;
    return false;
  }

  private drawOne(entity: DxfEntity, layer: DxfLayer, placing: Placing): void {
    const { record } = entity;
    const { type, line } = record;
    if (bent.has(type)) {
      const points = this.curves.get(record) ?? pointsOfCurve(record);
      this.curves.set(record, points);
      this.visit(Math.ceil(points.length / POINTS_A_VISIT));
      const placed = points.map(([x, y]) => apply(placing.matrix, x, y));
      this.curved.push({ how: 'entity', type, line, layer: layer.name, points: placed });
    } else if (type === 'INSERT') this.insert(entity, layer, placing);
    else if (isMesh(entity)) this.passedOver.add('mesh');
    else if (lines.has(type)) this.chain(entity, layer, placing);
    else this.passOver(type);
  }

  private passOver(name: string): void {
    if (this.kinds.size < KINDS_TOLD) this.kinds.add(name);
    if (this.kinds.has(name)) this.passedOver.add({ how: 'element', name });
    else this.passedOver.add('other-kind');
  }

  private chain(entity: DxfEntity, layer: DxfLayer, placing: Placing): void {
    const { record } = entity;
    const { type, line } = record;
    const shape = this.shapes.get(entity) ?? shapeOf(entity);
    this.shapes.set(entity, shape);
    if (shape.curved) this.curved.push({ how: 'arc-in', type, line, layer: layer.name, points: [] });
    const placed = shape.points.map(
      ([x, y, z]): Space => [...apply(placing.matrix, x, y), placing.rise * z + placing.base],
    );
    const flat = placed.map(([x, y]) => [x, y] as const);
    const source = { how: 'line', line, element: type, layer: layer.name } as const;
    this.builder.addChain(flat, shape.closed, this.lookOf(record, layer, placing), source);
    this.heights.add(record, placed);
  }

  private insert({ record }: DxfEntity, layer: DxfLayer, placing: Placing): void {
    const insert = this.inserts.get(record) ?? insertOf(record, this.file.blocks);
    this.inserts.set(record, insert);
    const { block } = insert;
    if (!block) this.passedOver.add('block-missing');
    else if (block.elsewhere) this.passedOver.add('other-file');
    else {
      this.enter(block, insert, record);
      this.drawCopies(block, insert, {
        ...placing,
        rise: placing.rise * insert.rise,
        base: placing.rise * insert.base + placing.base,
        layer,
        colour: this.colourOf(record, layer, placing),
        lineType: this.lineTypeOf(record, layer, placing),
      });
      this.within.delete(block);
    }
  }

  private enter(block: DxfBlock, { name }: DxfInsert, { line }: DxfRecord): void {
    if (this.within.has(block)) throw unreadable({ how: 'dxf-block', name, line });
    if (this.within.size >= REUSE_LIMIT) throw unreadable({ how: 'dxf-deep', name, line, most: REUSE_LIMIT });
    this.within.add(block);
  }

  private drawCopies(block: DxfBlock, insert: DxfInsert, placing: Placing): void {
    for (let row = 0; row < insert.rows; row++) {
      for (let column = 0; column < insert.columns; column++) {
        this.visit(1);
        const matrix = compose(placing.matrix, insert.placeOf(column, row));
        this.draw(block.entities, { ...placing, matrix });
      }
    }
  }

  private layerOf(record: DxfRecord, placing: Placing): DxfLayer {
    const own = record.text(8) ?? '0';
    return own === '0' && placing.layer !== null ? placing.layer : this.file.layers.of(own);
  }

  private colourOf(record: DxfRecord, layer: DxfLayer, placing: Placing): string {
    const own = trueColour(record);
    if (own) return own;
    const number = record.integer(62, 256);
    if (number === 0) return placing.colour;
    return number === 256 ? layer.colour : colourOfNumber(number);
  }

  private lineTypeOf(record: DxfRecord, layer: DxfLayer, placing: Placing): string {
    const own = folded(record.text(6) ?? 'BYLAYER');
    if (own === 'BYBLOCK') return placing.lineType;
    return own === 'BYLAYER' ? layer.lineType : own;
  }

  private lookOf(record: DxfRecord, layer: DxfLayer, placing: Placing): StrokeLook {
    const lineType = this.lineTypeOf(record, layer, placing);
    const dash: DashStyle = dashStyleOfLineType(lineType, this.file.lineTypes.get(folded(lineType)) ?? []);
    const weight = record.integer(370, 0);
    const named = lineOfName(layer.name);
    return {
      colour: this.colourOf(record, layer, placing),
      dash,
      width: weight > 0 ? weight / 100 : 0,
      layer: layer.name,
      ...(named ? { named } : {}),
    };
  }
}
