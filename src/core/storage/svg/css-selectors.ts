/** Selectors (Selectors 4), parsed by css-what and matched by css-select. */
import { compile } from 'css-select';
import { parse, type Selector } from 'css-what';
import type { Work } from '../drawing/work.ts';
import { SELECTOR_LENGTH } from './css-blocks.ts';
import { countingPseudos } from './css-places.ts';
import type { XmlNode } from './xml-tree.ts';

/** One selector of a list. */
interface Matcher {
  /** `#id`, `.class`, `<tag` or `*`: an element that does not have it cannot fit. */
  readonly key: string;
  /** Ids, classes and tags, the stronger the larger. */
  readonly specificity: number;
  fits(node: XmlNode): boolean;
}

/** Pseudo-classes of the standard that css-select follows; it knows others that are no CSS. */
const followed = new Set(
  `not is where has root empty first-child last-child only-child first-of-type last-of-type only-of-type nth-child
  nth-last-child nth-of-type nth-last-of-type hover active visited link any-link`.split(/\s+/),
);

const combinators = new Set(['descendant', 'child', 'sibling', 'adjacent']);

/** Makes matchers that count their work. */
export class SelectorReader {
  private readonly plain;
  private readonly counting;

  constructor(work: Work) {
    this.plain = { xmlMode: true, adapter: adapterWith(work), cacheResults: false };
    this.counting = { ...this.plain, pseudos: countingPseudos(work) };
  }

  /** The selectors of a list, or null where one of them is not followed: then the whole rule does not count. */
  read(list: string): Matcher[] | null {
    if (list.length > SELECTOR_LENGTH) return null;
    try {
      const selectors = parse(list);
      return isFollowed(selectors) ? selectors.map((selector) => this.matcher(selector)) : null;
    } catch {
      return null;
    }
  }

  private matcher(selector: Selector[]): Matcher {
    const key = keyOf(selector);
    const specificity = specificityOf(selector);
    const [first] = selector;
    const isKeyAlone =
      selector.length === 1 && (first!.type !== 'attribute' || key !== '*') && first!.type !== 'pseudo';
    if (isKeyAlone) return { key, specificity, fits: () => true };
    // css-select counts "2 of .name" itself
    const options = selector.some((token) => groupOf(token)) ? this.plain : this.counting;
    return { key, specificity, fits: compile<XmlNode, XmlNode>([selector], options) };
  }
}

/** The selectors in `:nth-child(2 of .name)`. */
function groupOf(token: Selector): Selector[][] | null {
  if (token.type !== 'pseudo' || typeof token.data !== 'string' || !token.name.startsWith('nth-'))
    return null;
  const list = /\sof\s(.*)$/is.exec(token.data)?.[1];
  return list === undefined ? null : parse(list.trim());
}

/** The tree as css-select walks it; each step is work. */
function adapterWith(work: Work) {
  const step = <Value>(value: Value): Value => {
    work.spend('styles', 1);
    return value;
  };
  return {
    isTag: (_node: XmlNode): _node is XmlNode => step(true),
    getAttributeValue: (node: XmlNode, name: string) => {
      const value = node.attributes[name];
      work.spend('styles', 1 + (value?.length ?? 0) / 32);
      return value;
    },
    hasAttrib: (node: XmlNode, name: string) => step(name in node.attributes),
    getChildren: (node: XmlNode) => step(node.children),
    getName: (node: XmlNode) => step(node.name),
    getParent: (node: XmlNode) => step(node.parent),
    getSiblings: (node: XmlNode) => step(node.parent?.children ?? [node]),
    prevElementSibling: (node: XmlNode) => step(node.parent?.children[node.index - 1] ?? null),
    getText: (node: XmlNode) => step(node.text),
    removeSubsets: (nodes: XmlNode[]) => step(nodes),
    equals: (one: XmlNode, other: XmlNode) => step(one === other),
  };
}

function isFollowed(selectors: readonly (readonly Selector[])[]): boolean {
  return selectors.every((selector) =>
    selector.every((token) => {
      switch (token.type) {
        case 'attribute':
          return token.namespace === null && token.action !== 'not';
        case 'pseudo':
          return (
            followed.has(token.name) &&
            isFollowed(groupOf(token) ?? []) &&
            (!Array.isArray(token.data) || isFollowed(token.data))
          );
        case 'tag':
        case 'universal':
          return token.namespace === null;
        default:
          return combinators.has(token.type);
      }
    }),
  );
}

/** What `#name` and `.name` become in css-what, apart from `[id="name"]`. */
const isShort = (token: Selector, name: 'id' | 'class') =>
  token.type === 'attribute' && token.name === name && token.ignoreCase === 'quirks';

function keyOf(selector: readonly Selector[]): string {
  const last = selector.slice(1 + selector.findLastIndex(({ type }) => combinators.has(type)));
  const id = last.find((token) => isShort(token, 'id'));
  if (id?.type === 'attribute') return `#${id.value}`;
  const ofClass = last.find((token) => isShort(token, 'class'));
  if (ofClass?.type === 'attribute') return `.${ofClass.value}`;
  const tag = last.find(({ type }) => type === 'tag');
  return tag?.type === 'tag' ? `<${tag.name}` : '*';
}

const OF_ID = 1e8;
const OF_CLASS = 1e4;

/** Selectors 4, section 17: ids, then classes, attributes and pseudo-classes, then tags. */
function specificityOf(selector: readonly Selector[]): number {
  let sum = 0;
  for (const token of selector) {
    if (token.type === 'tag') sum += 1;
    else if (token.type === 'attribute') sum += isShort(token, 'id') ? OF_ID : OF_CLASS;
    else if (token.type === 'pseudo' && token.name !== 'where') {
      const inside = Array.isArray(token.data) ? token.data : groupOf(token);
      if (!Array.isArray(token.data)) sum += OF_CLASS;
      sum += Math.max(0, ...(inside ?? []).map(specificityOf));
    }
  }
  return sum;
}
