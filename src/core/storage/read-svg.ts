import { type Finding, finding } from '../finding/finding.ts';
import type { Curve } from '../finding/values/file.ts';
import type { FilePlace } from '../finding/values/place.ts';
import { dashStyleOf } from './dash.ts';
import { type Drawing, DrawingBuilder, type StrokeLook } from './drawing.ts';
import { REUSE_LIMIT, STROKE_LIMIT } from './limits.ts';
import { lineOfName, type NamedLine } from './line-name.ts';
import { apply, compose, identity, type Matrix, scaleOf, shift, stretch } from './matrix.ts';
import { PassedOverCount } from './passed-over.ts';
import { refusal, unreadable } from './refusal.ts';
import { shapeNames, shapeOf } from './svg-shapes.ts';
import { classesOf, type Declarations, StyleSheet } from './svg-style.ts';
import { colourOf, lengthOf, millimetresOf, numbersOf, transformOf } from './svg-values.ts';
import { parseXml, type XmlNode } from './xml-tree.ts';

/** What an element hands down to its children. */
interface Context {
  readonly matrix: Matrix;
  readonly stroke: string;
  readonly dashes: string;
  readonly width: string;
  readonly visibility: string;
  readonly colour: string;
  readonly layer: string;
  /** The layer is called by a label, so plain group ids inside it are no layers. */
  readonly labelled: boolean;
  readonly named: NamedLine | undefined;
  readonly reuse: number;
}

const outermost: Context = {
  matrix: identity,
  stroke: 'none',
  dashes: 'none',
  width: '1',
  visibility: 'visible',
  colour: '#000000',
  layer: '',
  labelled: false,
  named: undefined,
  reuse: 0,
};

const containers = new Set(['svg', 'g', 'a', 'switch', 'symbol']);
/** Elements without strokes of their own that are passed over in silence. */
const silent = new Set(
  'defs style title desc metadata clipPath mask marker pattern linearGradient radialGradient filter sodipodi:namedview symbol'.split(
    ' ',
  ),
);

/** Elements looked at, uses of uses counted each time. */
const VISIT_LIMIT = 2 * STROKE_LIMIT;

/**
 * Reads an SVG drawing into straight strokes, y turned up. Scripts, event handlers and references to other files
 * are never run or opened. Throws a Refusal when the drawing cannot be used.
 */
export function readSvg(text: string): Drawing {
  const root = parseXml(text);
  if (root.name !== 'svg') {
    throw unreadable({ how: 'svg-root', name: root.name.slice(0, 40) });
  }
  const { upward, millimetres } = pageOf(root);
  const reader = new SvgReader(root);
  reader.walk(root, compose(upward, identity));
  return reader.finish(millimetres);
}

interface Page {
  /** Turns y up, keeping the lower left corner of the view box in place. */
  readonly upward: Matrix;
  readonly millimetres: number | null;
}

const page = (of: 'viewBox' | 'width' | 'height'): FilePlace => ({ how: 'page', of });

function pageOf(root: XmlNode): Page {
  const { attributes } = root;
  const box = attributes.viewBox ? numbersOf(attributes.viewBox, page('viewBox')) : null;
  const percent = (value: string | undefined) => (value?.includes('%') ? undefined : value);
  const width = percent(attributes.width);
  const height = percent(attributes.height);
  if (box && box.length === 4 && box[2]! > 0 && box[3]! > 0) {
    const wide = millimetresOf(width, page('width'));
    const high = millimetresOf(height, page('height'));
    const scales = [wide === null ? null : wide / box[2]!, high === null ? null : high / box[3]!];
    const known = scales.filter((scale): scale is number => scale !== null && scale > 0);
    return {
      upward: [1, 0, 0, -1, 0, 2 * box[1]! + box[3]!],
      millimetres: known.length > 0 ? Math.min(...known) : null,
    };
  }
  const tall = lengthOf(height, page('height'));
  const hasUnit = millimetresOf(width ?? height, page('width')) !== null;
  return { upward: [1, 0, 0, -1, 0, tall], millimetres: hasUnit ? 25.4 / 96 : null };
}

class SvgReader {
  private readonly builder = new DrawingBuilder();
  private readonly sheet = new StyleSheet();
  private readonly byId = new Map<string, XmlNode>();
  private readonly curves: Curve[] = [];
  private readonly passedOver = new PassedOverCount();
  private readonly root: XmlNode;

  constructor(root: XmlNode) {
    this.root = root;
    const waiting = [root];
    for (let node = waiting.pop(); node; node = waiting.pop()) {
      if (node.attributes.id && !this.byId.has(node.attributes.id)) this.byId.set(node.attributes.id, node);
      if (node.name === 'style') this.sheet.add(node.text);
      for (const child of node.children) waiting.push(child);
    }
  }

  /** Visits elements in document order with a list of its own, so that depth costs no call stack. */
  walk(root: XmlNode, matrix: Matrix): void {
    const waiting: [XmlNode, Context, boolean][] = [[root, { ...outermost, matrix }, false]];
    let visits = 0;
    for (let next = waiting.pop(); next; next = waiting.pop()) {
      const [node, context, reused] = next;
      if (++visits > VISIT_LIMIT) {
        throw refusal('file-too-large', { how: 'svg-repeats', most: VISIT_LIMIT });
      }
      const style = this.sheet.styleOf(node);
      if (style.display === 'none') continue;
      const inner = this.inherit(node, style, context);
      if (shapeNames.has(node.name)) this.draw(node, inner);
      else if (node.name === 'use') this.reuse(node, inner, waiting);
      else if (containers.has(node.name) && (node.name !== 'symbol' || reused)) {
        for (let i = node.children.length - 1; i >= 0; i--) waiting.push([node.children[i]!, inner, false]);
      } else if (!silent.has(node.name) && !node.name.includes(':'))
        this.passedOver.add({ how: 'element', name: node.name });
    }
  }

  finish(millimetres: number | null): Drawing {
    if (this.curves.length > 0) {
      const count = this.curves.length;
      throw refusal('line-curved', { first: this.curves[0]!, count }, { value: count });
    }
    return this.builder.finish(millimetres, this.notes());
  }

  private notes(): Finding[] {
    const count = this.sheet.leftOut;
    const rules = count > 0 ? [finding('line-ignored', 'note', { how: 'style-rules', count })] : [];
    return [...this.passedOver.findings(), ...rules];
  }

  private inherit(node: XmlNode, style: Declarations, above: Context): Context {
    const { attributes } = node;
    const where = this.placeOf(node);
    const label = node.name === 'g' ? attributes['inkscape:label'] : undefined;
    const id = node.name === 'g' && !above.labelled ? attributes.id : undefined;
    const given = (value: string | undefined, otherwise: string) =>
      value === undefined || value === 'inherit' ? otherwise : value;
    let matrix = compose(above.matrix, transformOf(style.transform, where));
    if (node.name === 'svg' && node !== this.root) matrix = compose(matrix, viewOf(node, where));
    return {
      matrix,
      stroke: given(style.stroke, above.stroke),
      dashes: given(style['stroke-dasharray'], above.dashes),
      width: given(style['stroke-width'], above.width),
      visibility: given(style.visibility, above.visibility),
      colour: given(style.color, above.colour),
      layer: label ?? id ?? above.layer,
      labelled: above.labelled || label !== undefined,
      named: nameOn(node) ?? above.named,
      reuse: above.reuse,
    };
  }

  private draw(node: XmlNode, context: Context): void {
    if (context.visibility === 'hidden' || context.visibility === 'collapse') return;
    const unseen = context.stroke === 'none' || context.stroke === 'transparent';
    if (unseen && !context.named) {
      this.passedOver.add('no-stroke');
      return;
    }
    const where = this.placeOf(node);
    const shape = shapeOf(node, where);
    if (shape.curve) {
      this.curves.push({ how: 'shape', shape: shape.curve, place: where });
      return;
    }
    const look = lookOf(context, where);
    for (const chain of shape.chains) {
      const points = chain.points.map(([x, y]) => apply(context.matrix, x, y));
      this.builder.addChain(points, chain.closed, look, where);
    }
  }

  private reuse(node: XmlNode, context: Context, waiting: [XmlNode, Context, boolean][]): void {
    const { attributes } = node;
    const reference = (attributes.href ?? attributes['xlink:href'] ?? '').trim();
    const where = this.placeOf(node);
    const target = reference.startsWith('#') ? this.byId.get(reference.slice(1)) : undefined;
    if (!target) {
      this.passedOver.add(reference.startsWith('#') ? 'use-of-nothing' : 'other-file');
      return;
    }
    if (context.reuse >= REUSE_LIMIT) {
      throw unreadable({ how: 'svg-use', place: where });
    }
    const placed = compose(
      context.matrix,
      shift(lengthOf(attributes.x, where), lengthOf(attributes.y, where)),
    );
    const view = target.name === 'symbol' ? viewOf(target, where, attributes) : identity;
    waiting.push([target, { ...context, matrix: compose(placed, view), reuse: context.reuse + 1 }, true]);
  }

  private placeOf({ line, name, attributes: { id } }: XmlNode): FilePlace {
    return { how: 'line', line, element: name.slice(0, 40), ...(id ? { id: id.slice(0, 60) } : {}) };
  }
}

function lookOf(context: Context, where: FilePlace): StrokeLook {
  const scale = scaleOf(context.matrix);
  const width = context.width.includes('%') ? 1 : lengthOf(context.width, where, 1);
  const dashes = context.dashes.trim();
  const pattern =
    dashes === 'none' || dashes === ''
      ? []
      : dashes.split(/[\s,]+/).map((part) => (part.includes('%') ? 1 : lengthOf(part, where)));
  return {
    colour: colourOf(context.stroke.toLowerCase() === 'currentcolor' ? context.colour : context.stroke),
    dash: dashStyleOf(pattern, width),
    width: width * scale,
    layer: context.layer,
    ...(context.named ? { named: context.named } : {}),
  };
}

/** The kind that an element's own label, classes or id give, in this order. */
function nameOn(node: XmlNode): NamedLine | undefined {
  const { attributes } = node;
  const names = [attributes['inkscape:label'], attributes.class, ...classesOf(node), attributes.id];
  for (const name of names) {
    const line = name === undefined ? null : lineOfName(name);
    if (line) return line;
  }
  return undefined;
}

/** The map of an inner svg or symbol from its view box to the place it is shown in. */
function viewOf(node: XmlNode, where: FilePlace, user: Readonly<Record<string, string>> = {}): Matrix {
  const { attributes } = node;
  const at =
    node.name === 'svg' ? shift(lengthOf(attributes.x, where), lengthOf(attributes.y, where)) : identity;
  const box = attributes.viewBox ? numbersOf(attributes.viewBox, where) : [];
  if (box.length !== 4 || !(box[2]! > 0) || !(box[3]! > 0)) return at;
  const sizeOf = (name: 'width' | 'height', otherwise: number) => {
    const value = user[name] ?? attributes[name];
    return value === undefined || value.includes('%') ? otherwise : lengthOf(value, where);
  };
  const width = sizeOf('width', box[2]!);
  const height = sizeOf('height', box[3]!);
  const scale = Math.min(width / box[2]!, height / box[3]!);
  const middle = shift((width - box[2]! * scale) / 2, (height - box[3]! * scale) / 2);
  return compose(at, compose(middle, compose(stretch(scale, scale), shift(-box[0]!, -box[1]!))));
}
