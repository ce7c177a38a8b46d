import type { FilePlace } from '../../finding/values/place.ts';
import type { Region } from '../drawing/clip.ts';
import { lineOfName, type NamedLine } from '../drawing/line-name.ts';
import { apply, compose, type Matrix, shift } from '../matrix.ts';
import { regionsOf } from './clip-paths.ts';
import { LETTER_SIZE, type Measures } from './lengths.ts';
import { initialStyle, type Style, unfollowedProperties } from './properties.ts';
import type { SvgSource } from './source.ts';
import { classesOf } from './style.ts';
import { fitOf, type pageOf, viewBoxOf, viewPortOf } from './view.ts';
import type { XmlNode } from './xml-tree.ts';

/** What an element hands down to its children. */
export interface Context {
  readonly matrix: Matrix;
  readonly style: Style;
  readonly letter: number;
  readonly measures: Measures;
  /** Only what lies in all of these is seen. */
  readonly regions: readonly Region[];
  /** Transparent, or pressed to nothing. */
  readonly unseen: boolean;
  readonly layer: string;
  /** The layer is called by a label, so plain group ids inside it are no layers. */
  readonly labelled: boolean;
  readonly named: NamedLine | undefined;
  readonly reuse: number;
}

/** What surrounds the outermost element. */
export function outermostContext({ upward, width, height }: ReturnType<typeof pageOf>): Context {
  return {
    matrix: upward,
    style: initialStyle,
    letter: LETTER_SIZE,
    measures: { width, height, letter: LETTER_SIZE },
    regions: [],
    unseen: false,
    layer: '',
    labelled: false,
    named: undefined,
    reuse: 0,
  };
}

/** The context of an element under another one. `user` is the style of the `use` that shows it. */
export function contextOf(
  source: SvgSource,
  node: XmlNode,
  place: FilePlace,
  above: Context,
  user?: Style,
): Context {
  const { style, letter } = source.styleOf(node, above);
  const measures = { ...above.measures, letter };
  const placed = { style, measures, place };
  const matrix = compose(above.matrix, source.transformOf(placed));
  for (const name of unfollowedProperties)
    if (style[name] !== initialStyle[name]) source.notes.notFollowed(name, place);
  const clipped = regionsOf(source, { node, style, letter, matrix, measures });
  const label = node.name === 'g' ? node.attributes['inkscape:label'] : undefined;
  const id = node.name === 'g' && !above.labelled ? node.attributes.id : undefined;
  const context: Context = {
    matrix,
    style,
    letter,
    measures,
    regions: clipped.length === 0 ? above.regions : [...above.regions, ...clipped],
    unseen: above.unseen || source.isClear('opacity', placed) || isFlat(matrix),
    layer: label ?? id ?? above.layer,
    labelled: above.labelled || label !== undefined,
    named: nameOn(node) ?? above.named,
    reuse: above.reuse,
  };
  const isInner = node.name === 'symbol' || (node.name === 'svg' && node !== source.root);
  return isInner ? throughViewPort(context, node, place, user) : context;
}

/** Is everything pressed onto a line or a point? Then it is not shown (CSS Transforms 1, section 13.1). */
const isFlat = ([a, b, c, d]: Matrix) => a * d - b * c === 0;

/** An inner svg or symbol shows what lies in its view port, fitted from its view box. */
function throughViewPort(context: Context, node: XmlNode, place: FilePlace, user?: Style): Context {
  const { style, matrix, measures } = context;
  const { x, y, width, height } = viewPortOf(
    { ...style, width: user?.width || style.width, height: user?.height || style.height },
    measures,
    place,
  );
  const box = viewBoxOf(node, place);
  if (width === 0 || height === 0 || box?.width === 0 || box?.height === 0)
    return { ...context, unseen: true };
  const corner = compose(matrix, shift(x, y));
  const seen =
    width !== null && height !== null && !/^(visible|auto)$/.test(style.overflow)
      ? [...context.regions, [{ rings: [rectangle(corner, width, height)], evenOdd: false }]]
      : context.regions;
  if (!box) return { ...context, matrix: corner, regions: seen, measures: { ...measures, width, height } };
  const fitted = width === null || height === null ? shift(-box.x, -box.y) : fitOf(node, box, width, height);
  return {
    ...context,
    matrix: compose(corner, fitted),
    regions: seen,
    measures: { ...measures, width: box.width, height: box.height },
  };
}

const rectangle = (matrix: Matrix, width: number, height: number) => [
  apply(matrix, 0, 0),
  apply(matrix, width, 0),
  apply(matrix, width, height),
  apply(matrix, 0, height),
];

/** The kind that an element's own label, classes or id give, in this order. */
function nameOn(node: XmlNode): NamedLine | undefined {
  const { attributes } = node;
  const names = [attributes['inkscape:label'], attributes.class, ...classesOf(node), attributes.id];
  const lines = names.flatMap((name) => (name === undefined ? [] : (lineOfName(name) ?? [])));
  // where one gives the kind and another its angle as well, that is the whole of it
  return lines.find(({ kind, angle }) => kind === lines[0]!.kind && angle !== undefined) ?? lines[0];
}
