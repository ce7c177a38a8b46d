import type { Unfollowed } from '../../finding/values/file.ts';
import type { FilePlace } from '../../finding/values/place.ts';
import type { Run } from '../drawing/runs.ts';
import type { Work } from '../drawing/work.ts';
import { compose, identity, type Matrix, shift } from '../matrix.ts';
import { LETTER_SIZE, letterSizeOf, type Measures, styleLength } from './lengths.ts';
import { SvgNotes } from './notes.ts';
import { type Declared, initialStyle, type Property, type Style, styleFrom } from './properties.ts';
import { fixedShapes, shapeOf } from './shapes.ts';
import { StyleSheet } from './style.ts';
import { transformOf } from './values.ts';
import { placeOf, type XmlNode } from './xml-tree.ts';

/** A style, and the size of letters that it gives. */
interface Styled {
  readonly style: Style;
  readonly letter: number;
}

const outermost: Styled = { style: initialStyle, letter: LETTER_SIZE };

/** The elements of a drawing by id, with their styles, shapes and transforms. */
export class SvgSource {
  readonly root: XmlNode;
  readonly work: Work;
  readonly notes = new SvgNotes();
  readonly sheet: StyleSheet;
  private readonly byId = new Map<string, XmlNode>();
  private readonly shapes = new Map<XmlNode, Run[]>();
  private readonly transforms = new Map<string, Matrix>();

  constructor(root: XmlNode, work: Work) {
    this.root = root;
    this.work = work;
    this.sheet = new StyleSheet(work);
    const waiting = [root];
    for (let node = waiting.pop(); node; node = waiting.pop()) {
      const { id } = node.attributes;
      if (id && !this.byId.has(id)) this.byId.set(id, node);
      if (node.name === 'style' && !node.foreign) this.sheet.add(node);
      for (let i = node.children.length - 1; i >= 0; i--) waiting.push(node.children[i]!);
    }
    for (let i = 0; i < this.sheet.elsewhere; i++) this.notes.passedOver.add('other-file');
  }

  withId(id: string): XmlNode | undefined {
    return this.byId.get(id);
  }

  /** The element that an attribute `href` names; undefined where it is not in this drawing. */
  named({ attributes }: XmlNode): { readonly here: boolean; readonly target: XmlNode | undefined } {
    const reference = (attributes.href ?? attributes['xlink:href'] ?? '').trim();
    const here = reference.startsWith('#');
    return { here, target: here ? this.byId.get(reference.slice(1)) : undefined };
  }

  /** The style of an element under another one. */
  styleOf(node: XmlNode, above: Styled = outermost): Styled {
    const declared = this.readable(node, this.sheet.declaredFor(node));
    const style = { ...styleFrom(declared, above.style) };
    let { letter } = above;
    if (declared.has('font-size')) {
      letter = letterSizeOf(style['font-size'], above.letter) ?? letter;
      style['font-size'] = `${letter}px`;
    }
    for (const name of ['stroke-width', 'stroke-dasharray'] as const)
      if (declared.has(name)) style[name] = inPixels(style[name], letter);
    return { style, letter };
  }

  /** The style of an element where it stands in the file. */
  styleAt(node: XmlNode): Styled {
    const above: XmlNode[] = [];
    for (let one: XmlNode | null = node; one; one = one.parent) above.push(one);
    let styled = outermost;
    for (const one of above.reverse()) {
      this.work.visit();
      styled = this.styleOf(one, styled);
    }
    return styled;
  }

  /** Values that are worked out from other ones are not followed. A stroke keeps its own: it is no plain colour. */
  private readable(node: XmlNode, declared: Declared): Declared {
    let kept: Map<Property, string> | null = null;
    for (const [name, value] of declared) {
      if (name === 'stroke' || value.length > 500 || !/\b(?:var|env|attr)\(/i.test(value)) continue;
      this.notes.notFollowed(name, placeOf(node));
      kept ??= new Map(declared);
      kept.delete(name);
    }
    return kept ?? declared;
  }

  /** The runs of a shape in its own coordinates. */
  runsOf(node: XmlNode, style: Style, measures: Measures, place: FilePlace): Run[] {
    const known = this.shapes.get(node);
    if (known) return this.counted(known);
    const { points } = node.attributes;
    this.work.spend('shapes', 4 * Math.max(style.d.length, points?.length ?? 0));
    const runs = shapeOf(node, style, measures, place);
    if (fixedShapes.has(node.name)) this.shapes.set(node, runs);
    return this.counted(runs);
  }

  private counted(runs: Run[]): Run[] {
    for (const { pieces } of runs) this.work.spend('shapes', 20 * (1 + pieces.length));
    return runs;
  }

  /** The transform of an element, about its origin (CSS Transforms 1, sections 5 to 7). */
  transformOf({ style, measures, place }: { style: Style; measures: Measures; place: FilePlace }): Matrix {
    const text = style.transform;
    if (text === 'none') return identity;
    let matrix = this.transforms.get(text);
    if (!matrix) {
      this.work.spend('shapes', 10 * text.length);
      this.transforms.set(text, (matrix = transformOf(text, place)));
    }
    const box = style['transform-box'];
    if (box !== 'view-box' && box !== 'border-box') this.notes.notFollowed('transform-box', place);
    if (style['transform-origin'] === '') return matrix;
    const origin = originOf(style['transform-origin'], measures);
    if (!origin) this.notes.notFollowed('transform-origin', place);
    return origin ? compose(shift(...origin), compose(matrix, shift(-origin[0], -origin[1]))) : matrix;
  }

  /** A value of a style that must be a length; where it is none, that is noted and `otherwise` holds. */
  lengthOr(otherwise: number, name: Unfollowed & Property, { style, measures, place }: Placed): number {
    const length = styleLength(style[name], 'diagonal', measures);
    if (length !== null && length >= 0) return length;
    this.notes.notFollowed(name, place);
    return otherwise;
  }

  /** Is an element transparent altogether? */
  isClear(name: 'opacity' | 'stroke-opacity', { style, place }: Placed): boolean {
    const [, value, percent] = /^([-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[-+]?\d+)?)(%?)$/i.exec(style[name]) ?? [];
    if (value === undefined || percent === undefined) this.notes.notFollowed(name, place);
    return value !== undefined && Number(value) <= 0;
  }
}

/** A style at a place of the file, with what its lengths are measured against. */
interface Placed {
  readonly style: Style;
  readonly measures: Measures;
  readonly place: FilePlace;
}

/** Lengths in letter sizes as pixels, so that they are inherited as such. */
const inPixels = (text: string, letter: number) =>
  text
    .split(/([\s,]+)/)
    .map((part) => {
      const isInLetters = part.length < 40 && /\d(?:em|ex|ch|rem)$/i.test(part);
      const size = isInLetters ? styleLength(part, 'width', { width: null, height: null, letter }) : null;
      return size === null ? part : String(size);
    })
    .join('');

const sides: ReadonlyMap<string, string> = new Map([
  ['left', '0%'],
  ['top', '0%'],
  ['center', '50%'],
  ['right', '100%'],
  ['bottom', '100%'],
]);

function originOf(text: string, measures: Measures): [number, number] | null {
  const [one, two = 'center'] = text.toLowerCase().split(/\s+/);
  const turned = /^(top|bottom)$/.test(one!) || /^(left|right)$/.test(two);
  const [x, y] = turned ? [two, one!] : [one!, two];
  const across = styleLength(sides.get(x) ?? x, 'width', measures);
  const down = styleLength(sides.get(y) ?? y, 'height', measures);
  return across === null || down === null ? null : [across, down];
}
