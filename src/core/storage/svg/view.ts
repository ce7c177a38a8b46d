/** View boxes, view ports and how one fits the other (SVG 2, 8.6 The viewBox attribute and 8.7 preserveAspectRatio). */
import type { FilePlace } from '../../finding/values/place.ts';
import { compose, type Matrix, shift, stretch } from '../matrix.ts';
import { hasUnit, lengthOf, type Measures } from './lengths.ts';
import type { Style } from './properties.ts';
import { numbersOf } from './values.ts';
import type { XmlNode } from './xml-tree.ts';

interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

interface Aspect {
  /** Shares of the room left over that lie before the drawing; null where it is stretched. */
  readonly align: readonly [x: number, y: number] | null;
  readonly slice: boolean;
}

/** The view box of an element; null where none is given, or one that does not count. */
export function viewBoxOf({ attributes }: XmlNode, place: FilePlace): ViewBox | null {
  const numbers = attributes.viewBox ? numbersOf(attributes.viewBox, place) : [];
  const [x, y, width, height] = numbers;
  if (numbers.length !== 4 || width! < 0 || height! < 0) return null;
  return { x: x!, y: y!, width: width!, height: height! };
}

const shares = { min: 0, mid: 0.5, max: 1 } as const;
type Share = keyof typeof shares;

function aspectOf({ attributes }: XmlNode): Aspect {
  const text = (attributes.preserveAspectRatio ?? '').trim().replace(/^defer\s+/, '');
  const match = /^(?:(none)|x(Min|Mid|Max)Y(Min|Mid|Max))(?:\s+(meet|slice))?$/.exec(text);
  if (match?.[1]) return { align: null, slice: false };
  const [x, y] = [match?.[2] ?? 'Mid', match?.[3] ?? 'Mid'].map(
    (name) => shares[name.toLowerCase() as Share],
  );
  return { align: [x!, y!], slice: match?.[4] === 'slice' };
}

/** The map from a view box to a view port of this size with its corner at the origin. */
export function fitOf(node: XmlNode, box: ViewBox, width: number, height: number): Matrix {
  const { align, slice } = aspectOf(node);
  const across = width / box.width;
  const down = height / box.height;
  const corner = shift(-box.x, -box.y);
  if (!align) return compose(stretch(across, down), corner);
  const scale = slice ? Math.max(across, down) : Math.min(across, down);
  const before = shift(align[0] * (width - box.width * scale), align[1] * (height - box.height * scale));
  return compose(before, compose(stretch(scale, scale), corner));
}

interface Page {
  /** Turns y up, the lower left corner of the view box kept in place; stretches where the page does. */
  readonly upward: Matrix;
  readonly millimetres: number | null;
  /** What percentages inside are of. */
  readonly width: number | null;
  readonly height: number | null;
}

const page = (of: 'viewBox' | 'width' | 'height'): FilePlace => ({ how: 'page', of });

/** The page of a drawing: its size in millimetres, and the view box as it lies on it. */
export function pageOf(root: XmlNode, style: Style, letter: number): Page {
  const box = viewBoxOf(root, page('viewBox'));
  const sizeOf = (of: 'width' | 'height') => {
    const text = style[of];
    if (text === '' || text === 'auto' || text.endsWith('%')) return null;
    return lengthOf(text, of, { width: null, height: null, letter }, page(of));
  };
  const [width, height] = [sizeOf('width'), sizeOf('height')];
  const known = hasUnit(style.width) || hasUnit(style.height);
  if (!box || box.width === 0 || box.height === 0) {
    const millimetres = known ? 25.4 / 96 : null;
    return { upward: [1, 0, 0, -1, 0, height ?? 0], millimetres, width, height };
  }
  const { scale, wider, higher } = scaleOn(root, style, { ...box, across: width, down: height });
  return {
    upward: [wider, 0, 0, -higher, box.x * (1 - wider), box.y + higher * (box.y + box.height)],
    millimetres: scale === null || !known ? null : (scale * 25.4) / 96,
    width: box.width,
    height: box.height,
  };
}

interface Sides {
  readonly width: number;
  readonly height: number;
  /** The size of the page in pixels. */
  readonly across: number | null;
  readonly down: number | null;
}

/** Pixels in one unit of the view box, and how much further the drawing is stretched along x and y. */
function scaleOn(root: XmlNode, style: Style, { width, height, across, down }: Sides) {
  const { align, slice } = aspectOf(root);
  const scaleX = across === null || across <= 0 ? null : across / width;
  const scaleY = down === null || down <= 0 ? null : down / height;
  if (!align && scaleX !== null && scaleY !== null) {
    const scale = Math.min(scaleX, scaleY);
    return { scale, wider: scaleX / scale, higher: scaleY / scale };
  }
  const scales = [hasUnit(style.width) ? scaleX : null, hasUnit(style.height) ? scaleY : null].filter(
    (scale) => scale !== null,
  );
  const scale = scales.length === 0 ? null : slice ? Math.max(...scales) : Math.min(...scales);
  return { scale, wider: 1, higher: 1 };
}

/** Where an inner svg or a symbol is shown; null for a size that is not known. */
interface ViewPort {
  readonly x: number;
  readonly y: number;
  readonly width: number | null;
  readonly height: number | null;
}

type Sizes = Readonly<Record<'x' | 'y' | 'width' | 'height', string>>;

/** The view port of an inner svg or a symbol: as large as the one around it where nothing else is said. */
export function viewPortOf(sizes: Sizes, measures: Measures, place: FilePlace): ViewPort {
  const sideOf = (along: 'width' | 'height') =>
    /^(auto)?$/.test(sizes[along]) ? measures[along] : lengthOf(sizes[along], along, measures, place);
  return {
    x: lengthOf(sizes.x, 'width', measures, place),
    y: lengthOf(sizes.y, 'height', measures, place),
    width: sideOf('width'),
    height: sideOf('height'),
  };
}
