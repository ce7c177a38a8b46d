/** Where an INSERT of a DXF file puts the copies of its block. */

import { compose, type Matrix, shift, stretch, turn } from '../matrix.ts';
import { type DxfRecord, folded } from './groups.ts';
import type { DxfBlock, DxfFile } from './sections.ts';
import { facing } from './shapes.ts';

/** An INSERT, in the coordinates of the drawing or block that it stands in. */
export interface DxfInsert {
  /** Null where no block has this name. */
  readonly block: DxfBlock | null;
  readonly name: string;
  readonly columns: number;
  readonly rows: number;
  /** Outer height = rise × height in the block + base. */
  readonly rise: number;
  readonly base: number;
  /** From the block to its copy in a column and a row. */
  placeOf(column: number, row: number): Matrix;
}

/** Longest name of a block that is told. */
const NAME_LENGTH = 60;

/** Reads an INSERT. Throws a Refusal for numbers that are none and for a tilted plane. */
export function insertOf(record: DxfRecord, blocks: DxfFile['blocks']): DxfInsert {
  const name = record.text(2) ?? '';
  const block = blocks.get(folded(name)) ?? null;
  const [x, y, z] = block?.base ?? [0, 0, 0];
  const side = facing(record);
  const turned = turn(record.number(50));
  const outer = compose(stretch(side, 1), shift(record.number(10), record.number(20)));
  const inner = compose(stretch(record.number(41, 1), record.number(42, 1)), shift(-x, -y));
  const rise = side * record.number(43, 1);
  const [across, up] = [record.number(44), record.number(45)];
  const first = compose(outer, compose(turned, inner));
  return {
    block,
    name: name.slice(0, NAME_LENGTH),
    columns: Math.max(1, record.integer(70, 1)),
    rows: Math.max(1, record.integer(71, 1)),
    rise,
    base: side * record.number(30) - rise * z,
    placeOf(column, row) {
      if (column === 0 && row === 0) return first;
      const cell = compose(turned, shift(column * across, row * up));
      return compose(outer, compose(cell, inner));
    },
  };
}
