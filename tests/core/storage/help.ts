import { readFileSync } from 'node:fs';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { lineKinds } from '../../../src/core/sheet/kind.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { applyMapping, type LineMapping } from '../../../src/core/storage/drawing/mapping.ts';
import { type Opened, openFile } from '../../../src/core/storage/open.ts';
import { sentenceOf } from '../../../src/words/findings.ts';

export function fixture(name: string): Uint8Array {
  return new Uint8Array(readFileSync(new URL(`../../fixtures/${name}`, import.meta.url)));
}

export function sampleLesson(name: string): Uint8Array {
  return new Uint8Array(readFileSync(new URL(`../../../public/lessons/${name}`, import.meta.url)));
}

export function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

/** Opens text as a file of this name. */
export function openText(name: string, text: string, mapping?: LineMapping): Opened {
  return openFile(name, bytesOf(text), { mapping });
}

/** The sheet of whatever was opened, the guess standing in for the mapping step. */
export function sheetOf(opened: Opened): Sheet {
  const sheet =
    opened.kind === 'lesson'
      ? sheetOfLesson(opened.lesson).sheet
      : opened.kind === 'sheet'
        ? opened.sheet
        : opened.kind === 'drawing'
          ? buildSheet(applyMapping(opened.drawing, opened.guess)).sheet
          : null;
  if (!sheet) throw new Error(opened.findings.map(sentenceOf).join('\n') || 'no sheet');
  return sheet;
}

/** The one sentence of a refused file. */
export function refusalOf(opened: Opened): { code: string; message: string } {
  if (opened.kind !== 'refused') throw new Error(`opened as ${opened.kind}`);
  const [first, ...others] = opened.findings;
  if (!first || others.length > 0) throw new Error(`${opened.findings.length} findings`);
  return { code: first.code, message: sentenceOf(first) };
}

/**
 * A pattern as a sorted list of its creases, free of numbering: ends to 1e-6 of the sheet, kind, and finished angle
 * in degrees to 1e-6.
 */
export function patternOf(sheet: Sheet): string[] {
  const round = (value: number) => (Math.round(value * 1e6) / 1e6 + 0).toFixed(6);
  return Array.from(sheet.creaseKind, (kind, crease) => {
    const ends = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!]
      .map((vertex) => `${round(sheet.vertexX[vertex]!)},${round(sheet.vertexY[vertex]!)}`)
      .sort();
    const angle = sheet.creaseAngle[crease]!;
    const degrees = Number.isNaN(angle) ? '-' : round((angle * 180) / Math.PI);
    return `${ends.join(' ')} ${lineKinds[kind]} ${degrees}`;
  }).sort();
}

/** A square of side 10 with one valley down the middle, as the inside of an SVG. */
export const square =
  '<rect id="edge" width="10" height="10" stroke="#000"/><path id="valley-90" d="M5 0V10" stroke="#000"/>';

export function svg(inside: string, attributes = 'viewBox="0 0 10 10"'): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" ${attributes}>${inside}</svg>`;
}

/** DXF text from pairs of group code and value. */
export function dxf(entities: readonly (readonly [number, string | number])[], before = ''): string {
  const pairs = entities.map(([code, value]) => `${code}\n${value}\n`).join('');
  return `${before}0\nSECTION\n2\nENTITIES\n${pairs}0\nENDSEC\n0\nEOF\n`;
}
