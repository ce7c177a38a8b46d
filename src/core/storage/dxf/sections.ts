/** The sections of a DXF file: the unit of its header, its tables, its blocks and its entities. */

import { tooManyStrokes } from '../drawing/drawing.ts';
import { STROKE_LIMIT } from '../limits.ts';
import { colourOfNumber } from './colour.ts';
import { type DxfRecord, dxfRecords, folded } from './groups.ts';
import { type DxfLayer, DxfLayers } from './layers.ts';

/** An entity, with the vertices that follow it where it is a POLYLINE. */
export interface DxfEntity {
  readonly record: DxfRecord;
  readonly vertices: DxfRecord[];
}

export interface DxfBlock {
  readonly base: readonly [number, number, number];
  /** What it shows lies in another file. */
  readonly elsewhere: boolean;
  readonly entities: DxfEntity[];
}

/** Names of layers, line types and blocks do not mind case (AutoCAD DXF reference, symbol table names). */
export interface DxfFile {
  readonly layers: DxfLayers;
  readonly lineTypes: ReadonlyMap<string, readonly number[]>;
  readonly blocks: ReadonlyMap<string, DxfBlock>;
  readonly entities: readonly DxfEntity[];
  /** Length of the unit in mm, or null where the file does not say. */
  readonly millimetres: number | null;
}

/** Reads all that a drawing needs. Throws a Refusal for numbers that are none and for files without measure. */
export function readDxfSections(text: string): DxfFile {
  const sections = new Sections();
  for (const record of dxfRecords(text)) sections.take(record);
  return sections;
}

/** True colour, group 420, as #rrggbb. */
export function trueColour(record: DxfRecord): string | null {
  const value = record.integer(420, -1);
  return value < 0 ? null : `#${(value & 0xffffff).toString(16).padStart(6, '0')}`;
}

/** Millimetres in the units of $INSUNITS, from memory. */
const millimetresOfUnit: ReadonlyMap<number, number> = new Map([
  [1, 25.4],
  [2, 304.8],
  [4, 1],
  [5, 10],
  [6, 1000],
  [14, 100],
]);

/** Dashes and gaps of a line type that are looked at; the programs themselves take twelve, from memory. */
const DASHES = 24;

/** Flags of a block whose contents lie in another file (group 70, bits 4 and 8). */
const ELSEWHERE = 4 | 8;

class Sections implements DxfFile {
  readonly layers = new DxfLayers();
  readonly lineTypes = new Map<string, readonly number[]>();
  readonly blocks = new Map<string, DxfBlock>();
  readonly entities: DxfEntity[] = [];
  millimetres: number | null = null;
  private section = '';
  private block: DxfBlock | null = null;
  private polyline: DxfEntity | null = null;
  private kept = 0;

  take(record: DxfRecord): void {
    const { type } = record;
    if (type === 'SECTION') this.begin(record);
    else if (type === 'ENDSEC') this.section = '';
    else if (this.section === 'TABLES') this.takeTable(record);
    else if (this.section === 'ENTITIES') this.keep(record, this.entities);
    else if (this.section !== 'BLOCKS') return;
    else if (type === 'BLOCK') this.beginBlock(record);
    else if (type === 'ENDBLK') this.block = null;
    else if (this.block) this.keep(record, this.block.entities);
  }

  private begin(record: DxfRecord): void {
    this.section = folded(record.text(2) ?? '');
    if (this.section !== 'HEADER') return;
    record.groups.forEach((group, index) => {
      if (group.code !== 9 || folded(group.value) !== '$INSUNITS') return;
      this.millimetres = millimetresOfUnit.get(Number(record.groups[index + 1]?.value)) ?? null;
    });
  }

  private beginBlock(record: DxfRecord): void {
    const base = [record.number(10), record.number(20), record.number(30)] as const;
    const elsewhere = (record.integer(70, 0) & ELSEWHERE) !== 0;
    this.block = { base, elsewhere, entities: [] };
    this.polyline = null;
    this.blocks.set(folded(record.text(2) ?? ''), this.block);
  }

  private keep(record: DxfRecord, into: DxfEntity[]): void {
    if (++this.kept > 2 * STROKE_LIMIT) throw tooManyStrokes();
    if (record.type === 'VERTEX' && this.polyline) {
      this.polyline.vertices.push(record);
      return;
    }
    const entity = { record, vertices: [] };
    this.polyline = record.type === 'POLYLINE' ? entity : null;
    if (record.type !== 'SEQEND') into.push(entity);
  }

  private takeTable(record: DxfRecord): void {
    const name = record.text(2) ?? '';
    if (record.type === 'LTYPE') {
      const pattern = record.groups.filter((group) => group.code === 49).slice(0, DASHES);
      this.lineTypes.set(
        folded(name),
        pattern.map((group) => record.numberIn(group)),
      );
    } else if (record.type === 'LAYER') {
      this.layers.declare(name, layerOf(record));
    }
  }
}

/** Off where the colour is negative (group 62), frozen by bit 1 of group 70 (AutoCAD DXF reference, LAYER). */
function layerOf(record: DxfRecord): Omit<DxfLayer, 'name'> {
  const number = record.integer(62, 7);
  return {
    colour: trueColour(record) ?? colourOfNumber(Math.abs(number)),
    lineType: record.text(6) ?? 'CONTINUOUS',
    off: number < 0,
    frozen: (record.integer(70, 0) & 1) === 1,
  };
}
