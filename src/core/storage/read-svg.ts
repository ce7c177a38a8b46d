import { type Finding, finding } from '../finding/finding.ts';
import { dashStyleOf } from './dash.ts';
import { type Drawing, DrawingBuilder, type StrokeLook } from './drawing.ts';
import { REUSE_LIMIT, STROKE_LIMIT } from './limits.ts';
import { lineOfName, type NamedLine } from './line-name.ts';
import { apply, compose, identity, type Matrix, scaleOf, shift, stretch } from './matrix.ts';
import { Refusal } from './refusal.ts';
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
    throw new Refusal(
      `This XML file begins with <${root.name.slice(0, 40)}> instead of <svg>: save the drawing as SVG and open that.`,
    );
  }
  const page = pageOf(root);
  const reader = new SvgReader(root);
  reader.walk(root, compose(page.upward, identity));
  return reader.finish(page.millimetres);
}

interface Page {
  /** Turns y up, keeping the lower left corner of the view box in place. */
  readonly upward: Matrix;
  readonly millimetres: number | null;
}

function pageOf(root: XmlNode): Page {
  const { attributes } = root;
  const box = attributes.viewBox ? numbersOf(attributes.viewBox, 'the viewBox of the drawing') : null;
  const percent = (value: string | undefined) => (value?.includes('%') ? undefined : value);
  const width = percent(attributes.width);
  const height = percent(attributes.height);
  if (box && box.length === 4 && box[2]! > 0 && box[3]! > 0) {
    const wide = millimetresOf(width, 'the width of the drawing');
    const high = millimetresOf(height, 'the height of the drawing');
    const scales = [wide === null ? null : wide / box[2]!, high === null ? null : high / box[3]!];
    const known = scales.filter((scale): scale is number => scale !== null && scale > 0);
    return {
      upward: [1, 0, 0, -1, 0, 2 * box[1]! + box[3]!],
      millimetres: known.length > 0 ? Math.min(...known) : null,
    };
  }
  const tall = lengthOf(height, 'the height of the drawing');
  const hasUnit = millimetresOf(width ?? height, 'the width of the drawing') !== null;
  return { upward: [1, 0, 0, -1, 0, tall], millimetres: hasUnit ? 25.4 / 96 : null };
}

class SvgReader {
  private readonly builder = new DrawingBuilder();
  private readonly sheet = new StyleSheet();
  private readonly byId = new Map<string, XmlNode>();
  private readonly curves: string[] = [];
  private readonly passedOver = new Map<string, number>();
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
        throw new Refusal(
          `The drawing repeats its parts more than ${VISIT_LIMIT} times: turn the copies into plain lines and save again.`,
          'file-too-large',
        );
      }
      const style = this.sheet.styleOf(node);
      if (style.display === 'none') continue;
      const inner = this.inherit(node, style, context);
      if (shapeNames.has(node.name)) this.draw(node, inner);
      else if (node.name === 'use') this.reuse(node, inner, waiting);
      else if (containers.has(node.name) && (node.name !== 'symbol' || reused)) {
        for (let i = node.children.length - 1; i >= 0; i--) waiting.push([node.children[i]!, inner, false]);
      } else if (!silent.has(node.name)) this.passOver(node.name.includes(':') ? 'foreign' : node.name);
    }
  }

  finish(millimetres: number | null): Drawing {
    if (this.curves.length > 0) {
      const more = this.curves.length > 1 ? ` (and ${this.curves.length - 1} more)` : '';
      throw new Refusal(
        `The drawing holds ${this.curves[0]}${more}, and a crease pattern folds along straight lines only: draw it with straight lines or delete it.`,
        'line-curved',
        { value: this.curves.length },
      );
    }
    return this.builder.finish(millimetres, this.notes());
  }

  private notes(): Finding[] {
    const notes: Finding[] = [];
    for (const [name, count] of this.passedOver) {
      if (name === 'foreign') continue;
      notes.push(
        finding(
          'line-ignored',
          'note',
          `${count} × ${name} in the drawing left out: it is no line of the pattern.`,
          { value: count },
        ),
      );
    }
    if (this.sheet.leftOut > 0) {
      notes.push(
        finding(
          'line-ignored',
          'note',
          `${this.sheet.leftOut} style rules with combined selectors left out: give lines a class or a style of their own.`,
        ),
      );
    }
    return notes;
  }

  private passOver(what: string): void {
    this.passedOver.set(what, (this.passedOver.get(what) ?? 0) + 1);
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
      this.passOver('shape without a stroke');
      return;
    }
    const where = this.placeOf(node);
    const shape = shapeOf(node, where);
    if (shape.curve) {
      this.curves.push(`${shape.curve} at ${where}`);
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
      this.passOver(
        reference.startsWith('#') ? 'use of something that is not there' : 'reference to another file',
      );
      return;
    }
    if (context.reuse >= REUSE_LIMIT) {
      throw new Refusal(
        `The use at ${where} repeats itself: turn the copies into plain lines and save again.`,
      );
    }
    const placed = compose(
      context.matrix,
      shift(lengthOf(attributes.x, where), lengthOf(attributes.y, where)),
    );
    const view = target.name === 'symbol' ? viewOf(target, where, attributes) : identity;
    waiting.push([target, { ...context, matrix: compose(placed, view), reuse: context.reuse + 1 }, true]);
  }

  private placeOf(node: XmlNode): string {
    const id = node.attributes.id ? ` "${node.attributes.id.slice(0, 60)}"` : '';
    return `line ${node.line} (${node.name.slice(0, 40)}${id})`;
  }
}

function lookOf(context: Context, where: string): StrokeLook {
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
function viewOf(node: XmlNode, where: string, user: Readonly<Record<string, string>> = {}): Matrix {
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
