/** The properties of CSS and SVG that say where a line is and whether it is seen, and how they are inherited. */

/** Handed down to children where nothing else is said; with what holds at the outermost. */
const inherited = {
  stroke: 'none',
  'stroke-width': '1',
  'stroke-dasharray': 'none',
  'stroke-opacity': '1',
  visibility: 'visible',
  color: '#000000',
  'clip-rule': 'nonzero',
  'font-size': 'medium',
} as const;

/** Of the element alone. An empty text is what holds where nothing is said. */
const own = {
  display: 'inline',
  opacity: '1',
  overflow: '',
  'clip-path': 'none',
  mask: 'none',
  filter: 'none',
  transform: 'none',
  'transform-origin': '',
  'transform-box': 'view-box',
  'vector-effect': 'none',
  translate: 'none',
  rotate: 'none',
  scale: 'none',
  'offset-path': 'none',
  zoom: '1',
  d: '',
  x: '',
  y: '',
  width: '',
  height: '',
  rx: '',
  ry: '',
  cx: '',
  cy: '',
  r: '',
} as const;

export type Property = keyof typeof inherited | keyof typeof own;
export type Style = Readonly<Record<Property, string>>;

/** What an element's attributes and the rules that fit it say of each property; the strongest stays. */
export type Declared = ReadonlyMap<Property, string>;

const initial = { ...inherited, ...own } as Style;
const names = Object.keys(initial) as Property[];
const handedDown = new Set<string>(Object.keys(inherited));
const known = new Set<string>(names);

export const isProperty = (name: string): name is Property => known.has(name);

/** Properties that move or hide a line in ways that are not followed. */
export const unfollowedProperties = [
  'translate',
  'rotate',
  'scale',
  'offset-path',
  'zoom',
  'mask',
  'filter',
] as const;

/** Their attributes of the same name mean something else, or nothing (SVG 2, 6.6). */
const noAttributes = new Set<string>([
  'translate',
  'rotate',
  'scale',
  'offset-path',
  'zoom',
  'transform-box',
]);

export const isAttribute = (name: string): name is Property => known.has(name) && !noAttributes.has(name);

export const initialStyle: Style = initial;

const unset = new Set(['', 'unset', 'revert', 'revert-layer']);

/** A value as it is compared and kept: words that hold for every property are in small letters. */
export function tidyValue(written: string): string {
  const value = written.trim();
  const word = value.length < 20 ? value.toLowerCase() : value;
  return word === 'inherit' || word === 'initial' || word === 'none' || unset.has(word) ? word : value;
}

/** The style of an element from what is said of it and from its parent's style (CSS Cascading 4, section 7.3). */
export function styleFrom(declared: Declared, above: Style): Style {
  const style = {} as Record<Property, string>;
  for (const name of names) style[name] = handedDown.has(name) ? above[name] : initial[name];
  for (const [name, value] of declared) {
    if (value === 'inherit') style[name] = above[name];
    else if (value === 'initial') style[name] = initial[name];
    else if (!unset.has(value)) style[name] = value;
  }
  return style;
}
