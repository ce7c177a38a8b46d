/** Why a file cannot be read at all, in one sentence: what, where, and what to do. */
import type { BinaryKind, BrokenXml, FileValues, Shown, Wanted } from '../../core/finding/values/file.ts';
import { filePlace } from './parts.ts';
import { wantedText } from './wanted.ts';

export const shownText = (shown: Shown) =>
  shown.how === 'text' ? shown.text : shown.how === 'list' ? 'a list' : 'an object';

/** What a binary file is. */
const binaryKinds: Record<BinaryKind, string> = {
  png: 'a picture (PNG)',
  jpeg: 'a picture (JPEG)',
  gif: 'a picture (GIF)',
  pdf: 'a PDF',
  zip: 'a ZIP archive',
  gzip: 'a compressed file (gzip)',
  dwg: 'a DWG drawing',
  'binary-dxf': 'a binary DXF drawing',
  glb: 'a GLB model',
};

const again = 'correct it and open the file again';

export function unreadable(values: FileValues['file-unreadable']): string {
  switch (values.how) {
    case 'empty':
      return 'The file is empty: choose another file or save the drawing again.';
    case 'binary':
      return 'This file holds binary data and no text: save the drawing as SVG, DXF or FOLD text.';
    case 'binary-known':
      return `This file is ${binaryKinds[values.what]}, which cannot be read: save the drawing as SVG, DXF or FOLD text.`;
    case 'unknown-kind':
      return `The file "${values.name}" is none of SVG, PDF, DXF, FOLD, a picture (PNG, JPEG) or a Creaseway lesson: save the drawing as one of these.`;
    case 'surprise':
      return `The file "${values.name}" cannot be read (${values.said}): save it again from its program.`;
    case 'picture-undecoded':
      return 'This picture cannot be decoded here: save it as PNG or JPEG and open it again.';
    case 'picture-no-lines':
      return 'No straight line was found in this picture: take it anew in better light, straight from above.';
    case 'picture-crowded':
      return `This picture shows ${values.lines} lines, more than the ${values.most} of any crease pattern: cut it to the pattern alone.`;
    case 'picture-blurred':
      return `This picture is too soft for its dashes: a gap is ${values.gap.toFixed(1)} pixels wide and the blur ${values.blur.toFixed(1)}, and three times the blur is needed. Take it anew, sharper or larger.`;
    case 'picture-coarse':
      return values.of === 'sheet'
        ? `The sheet is only ${Math.round(values.pixels)} pixels long in this picture, and ${values.least} are needed: scan or take it larger.`
        : `The gaps between dashes are only ${values.pixels.toFixed(1)} pixels wide in this picture, and ${values.least} are needed: scan or take it larger.`;
    case 'pdf-locked':
      return 'This PDF file is locked with a password: save it without one and open it again.';
    case 'pdf-broken':
      return 'The PDF file is broken or breaks off: save it again from its program.';
    case 'page': {
      const [page, others] = [values.page, values.pages.join(', ')];
      return values.pages.length === 1
        ? `There are no lines on page ${page}: this file has them on page ${others}.`
        : `There are no lines on page ${page}: this file has them on pages ${others}.`;
    }
    case 'json-broken':
      return `The JSON of this file is broken at line ${values.line}, column ${values.column}: correct it there or save the file again.`;
    case 'json-unknown':
      return 'This JSON file is neither a Creaseway lesson nor a FOLD file: it has no format entry and no vertices_coords.';
    case 'mapping':
      return 'A line mapping is a JSON object from group keys to {"kind": …, "angle": …}.';
    case 'mapping-kind':
      return `In the line mapping, "${values.key}" needs a kind that is one of ${values.kinds.join(', ')}.`;
    case 'region':
      return `There is no sheet ${values.region}: this drawing holds ${Math.max(1, values.sheets)}.`;
    case 'mapping-angle':
      return `In the line mapping, "${values.key}" needs an angle from -180 to 180 degrees.`;
    case 'no-lesson':
    case 'lesson-version':
    case 'lesson-newer':
    case 'lesson-entry':
      return lessonUnreadable(values);
    case 'svg-path':
    case 'svg-broken':
    case 'svg-entity':
    case 'svg-root':
    case 'svg-name-space':
    case 'svg-transform':
    case 'svg-use':
      return svgUnreadable(values);
    case 'dxf-code':
    case 'dxf-off-plane':
    case 'dxf-tilted':
    case 'dxf-height':
    case 'dxf-missing':
    case 'dxf-block':
    case 'dxf-deep':
      return dxfUnreadable(values);
    default:
      return foldUnreadable(values);
  }
}

type Values = FileValues['file-unreadable'];
type Of<Start extends string> = Extract<Values, { how: `${Start}${string}` }>;

function lessonUnreadable(values: Of<'lesson-'> | Of<'no-lesson'>): string {
  switch (values.how) {
    case 'no-lesson':
      return 'This is no lesson: a JSON object with the entries of a lesson is wanted.';
    case 'lesson-version':
      return 'The lesson cannot be read at version: a whole number from 1 on is wanted here; correct that entry and open it again.';
    case 'lesson-newer':
      return `This lesson has format version ${values.version}, and this Creaseway reads versions up to ${values.known}: open it with a newer Creaseway.`;
    case 'lesson-entry':
      return `The lesson cannot be read at ${wayText(values.path)}: ${said(values.wanted)}; correct that entry and open it again.`;
  }
}

const said = (wanted: Wanted | null) => (wanted ? wantedText(wanted) : 'an entry is missing or wrong');

/** "steps, entry 2, angle": list places count from 1, as people do. */
const wayText = (path: readonly (string | number)[]) =>
  path.length === 0
    ? 'its start'
    : path.map((key) => (typeof key === 'number' ? `entry ${key + 1}` : key)).join(', ');

const brokenXml: Record<BrokenXml, string> = {
  unclosed: 'the file ends before an element is closed',
  'end-tag': 'an end tag closes nothing that is open there',
  'attribute-twice': 'an element has the same attribute twice',
  attribute: 'an attribute is not written as name="value"',
  entity: 'an entity is not declared or not well written',
  outside: 'there is something beside the one outermost element',
  character: 'a character stands where it must not',
  form: 'it is no well-formed XML',
};

function svgUnreadable(values: Of<'svg-'>): string {
  switch (values.how) {
    case 'svg-path':
      return `The path at ${filePlace(values.place)} cannot be read${values.at === null ? '' : ` from character ${values.at} of its data on`}: redraw it as straight lines.`;
    case 'svg-broken':
      return `The SVG file is broken at line ${values.line}, column ${values.column}: ${brokenXml[values.what]}; save it again from the drawing program.`;
    case 'svg-entity': {
      const why =
        values.why === 'elsewhere'
          ? 'stands for another file, which is never opened'
          : 'is built from other entities or is too long';
      return `The entity "${values.name}" at the head of the SVG file ${why}: save the drawing as plain SVG and open that.`;
    }
    case 'svg-root':
      return `This XML file begins with <${values.name}> instead of <svg>: save the drawing as SVG and open that.`;
    case 'svg-name-space':
      return 'The <svg> at the head of this file belongs to another name space: write xmlns="http://www.w3.org/2000/svg" there, or save the drawing as SVG again.';
    case 'svg-transform':
      return `At ${filePlace(values.place)}, the transform "${values.text}" cannot be read: apply transforms in the drawing program and save again.`;
    case 'svg-use':
      return `The use at ${filePlace(values.place)} repeats itself: turn the copies into plain lines and save again.`;
  }
}

function dxfUnreadable(values: Of<'dxf-'>): string {
  switch (values.how) {
    case 'dxf-code':
      return `The DXF file is broken at line ${values.line}: a group code is wanted there, not "${values.text}"; save it again from the drawing program.`;
    case 'dxf-off-plane':
      return `The ${values.type} at line ${values.line} leaves the drawing plane: flatten the drawing and save it again.`;
    case 'dxf-tilted':
      return `The ${values.type} at line ${values.line} lies on a tilted plane: flatten the drawing and save it again.`;
    case 'dxf-height':
      return `The ${values.type} at line ${values.line} lies at height ${values.height}, but the drawing begins at height ${values.others}: bring all lines to one height and save it again.`;
    case 'dxf-missing':
      return `The ${values.type} at line ${values.line} lacks a coordinate (group ${values.code}): draw it anew or delete it and save the drawing again.`;
    case 'dxf-block':
      return `The block "${values.name}" at line ${values.line} contains itself: explode the blocks and save the drawing again.`;
    case 'dxf-deep':
      return `The block "${values.name}" at line ${values.line} lies more than ${values.most} blocks deep: explode the blocks and save the drawing again.`;
  }
}

function foldUnreadable(values: Of<'fold-'>): string {
  switch (values.how) {
    case 'fold-object':
      return 'This FOLD file holds no object: save it again.';
    case 'fold-no-coords':
      return 'This FOLD file has no vertices_coords, so it draws nothing: save it with coordinates.';
    case 'fold-folded':
      return 'This FOLD file holds a folded shape and no flat pattern: save the flat crease pattern as a frame and open that.';
    case 'fold-frame-itself':
      return `Frame ${values.frame} of the FOLD file inherits from itself: correct frame_parent.`;
    case 'fold-frame-missing':
      return `Frame ${values.frame} of the FOLD file inherits from frame ${shownText(values.parent)}, which is not there: correct frame_parent.`;
    case 'fold-frame':
      return `At ${filePlace(values.place)}, an object with the entries of a frame is wanted: ${again}.`;
    case 'fold-unit':
      return `The frame_unit "${shownText(values.shown)}" is no unit of the FOLD format: write one of ${values.units.join(', ')}, or leave it out.`;
    case 'fold-point':
      return `At ${filePlace(values.place)}, a point [x, y] or [x, y, z] is wanted: ${again}.`;
    case 'fold-edge':
      return `At ${filePlace(values.place)}, two vertex numbers are wanted: ${again}.`;
    case 'fold-face':
      return `At ${filePlace(values.place)}, at least three vertex numbers are wanted: ${again}.`;
    case 'fold-letter':
      return `At ${filePlace(values.place)}, "${shownText(values.shown)}" is none of B, M, V, F, U, C, J: ${again}.`;
    case 'fold-no-list':
      return `The entry ${values.list} of the FOLD file is not a list: correct it.`;
    case 'fold-list-length':
      return `The list ${values.list} of the FOLD file has ${values.length} entries, but there are ${values.edges} edges: give one entry per edge.`;
    case 'fold-index':
      return `At ${filePlace(values.place)}, "${shownText(values.shown)}" is no vertex: numbers from 0 to ${values.most} are wanted.`;
  }
}
