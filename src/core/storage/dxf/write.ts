import Drawing from 'dxf-writer';
import { tidy, tidyDegrees } from '../../numeric/tidy.ts';
import { kindFolds, type LineKind, lineKinds } from '../../sheet/kind.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { nameOfLine } from '../drawing/line-name.ts';

/** Dashes and gaps (negative) of each kind in thousandths of the sheet, as in the SVG. */
const lineTypes: Readonly<Record<LineKind, readonly number[]>> = {
  edge: [],
  cut: [],
  valley: [12, -6],
  mountain: [14, -4, 3, -4, 3, -4],
  unassigned: [24, -7],
  flat: [],
};

/** Colour numbers of the standard (1 to 255), apart from each other on dark and light: no kind is told by them alone. */
const colours: Readonly<Record<LineKind, number>> = {
  ...{ edge: 7, cut: 30, valley: 52, mountain: 222, unassigned: 5, flat: 8 },
};

/**
 * The crease pattern as DXF in mm, or without a unit where the size is not known: one layer per kind and finished angle,
 * named in our own form and with a line type of its own, so that reading it back gives the same pattern.
 * @param size length of the longer side of the sheet, mm
 */
export function writeDxf(sheet: Sheet, size: number | null): string {
  const scale = size ?? sheet.frame.scale;
  const drawing = new Drawing();
  drawing.setUnits(size === null ? 'Unitless' : 'Millimeters');
  for (const kind of lineKinds) {
    const dashes = lineTypes[kind].map((length) => (length * scale) / 1000);
    if (dashes.length > 0) drawing.addLineType(kind.toUpperCase(), kind, dashes);
  }
  const known = new Set<string>();
  sheet.creaseKind.forEach((number, crease) => {
    const kind = lineKinds[number]!;
    const angle = sheet.creaseAngle[crease]!;
    const degrees = kindFolds(number) && !Number.isNaN(angle) ? tidyDegrees(angle) : undefined;
    const layer = nameOfLine(kind, degrees);
    if (!known.has(layer)) {
      const lineType = lineTypes[kind].length > 0 ? kind.toUpperCase() : 'CONTINUOUS';
      drawing.addLayer(layer, colours[kind], lineType);
      known.add(layer);
    }
    drawing.setActiveLayer(layer);
    const place = (vertex: number) =>
      [tidy(scale * sheet.vertexX[vertex]!), tidy(scale * sheet.vertexY[vertex]!)] as const;
    drawing.drawLine(...place(sheet.creaseFrom[crease]!), ...place(sheet.creaseTo[crease]!));
  });
  return drawing.toDxfString();
}
