import type { Work } from '../drawing/work.ts';
import { type Declaration, readDeclarations, readSheet } from './css-blocks.ts';
import { mediaAnswer } from './css-media.ts';
import { SelectorReader } from './css-selectors.ts';
import { type Declared, isAttribute, isProperty, type Property, tidyValue } from './properties.ts';
import type { XmlNode } from './xml-tree.ts';

interface Ranked {
  readonly value: string;
  /** Importance, then where it stands: presentation attribute, rule, `style` attribute. */
  readonly weight: number;
  readonly specificity: number;
  readonly order: number;
}

interface Rule {
  readonly fits: (node: XmlNode) => boolean;
  readonly declared: Map<Property, Ranked>;
}

const weights = { attribute: 0, rule: 1, style: 2, important: 4 };

/** The style sheets of a drawing and the cascade of its elements (CSS Cascading 4; SVG 2, 6.6 for attributes). */
export class StyleSheet {
  /** Rules and declarations that are not followed. */
  leftOut = 0;
  /** Style sheets in other files. */
  elsewhere = 0;
  private readonly rulesOf = new Map<string, Rule[]>();
  private readonly known = new Map<string, readonly { specificity: number; rule: Rule }[] | null>();
  private readonly ofNode = new Map<XmlNode, Declared>();
  private readonly ofText = new Map<string, readonly Declaration[]>();
  private readonly selectors: SelectorReader;
  private readonly work: Work;
  private order = 0;

  constructor(work: Work) {
    this.work = work;
    this.selectors = new SelectorReader(work);
  }

  /** Reads a `style` element. */
  add({ text, attributes }: XmlNode): void {
    if (!/^(text\/css)?$/i.test((attributes.type ?? '').trim())) return;
    const shown = mediaAnswer(attributes.media ?? '');
    if (shown === 'no') return;
    const { declarations, leftOut, elsewhere } = readSheet(text);
    this.elsewhere += elsewhere;
    this.leftOut += leftOut;
    for (const one of declarations) {
      if (shown === 'unknown') this.leftOut++;
      else this.addDeclaration(one.selector, one);
    }
  }

  /** Rules under the same selector are one, so that they are matched once. */
  private addDeclaration(list: string, { property, value, important }: Declaration): void {
    if (!this.known.has(list)) this.known.set(list, this.rulesUnder(list));
    const order = this.order++;
    if (!isProperty(property)) return;
    for (const { specificity, rule } of this.known.get(list) ?? []) {
      const weight = weights.rule + (important ? weights.important : 0);
      keepStronger(rule.declared, property, { value, weight, specificity, order });
    }
  }

  private rulesUnder(list: string) {
    const matchers = this.selectors.read(list);
    if (!matchers) this.leftOut++;
    return (
      matchers?.map(({ key, specificity, fits }) => {
        const rule: Rule = { fits, declared: new Map() };
        const beside = this.rulesOf.get(key);
        if (beside) beside.push(rule);
        else this.rulesOf.set(key, [rule]);
        return { specificity, rule };
      }) ?? null
    );
  }

  /** Everything that is said of an element itself. */
  declaredFor(node: XmlNode): Declared {
    let declared = this.ofNode.get(node);
    if (!declared) this.ofNode.set(node, (declared = this.cascade(node)));
    return declared;
  }

  private cascade(node: XmlNode): Declared {
    const found = new Map<Property, Ranked>();
    const { attributes } = node;
    for (const name in attributes) {
      if (isAttribute(name))
        found.set(name, { value: attributes[name]!, weight: weights.attribute, specificity: 0, order: 0 });
    }
    for (const rule of this.candidates(node)) {
      this.work.spend('styles', 4);
      if (!rule.fits(node)) continue;
      this.work.spend('styles', 4 * rule.declared.size);
      for (const [property, ranked] of rule.declared) keepStronger(found, property, ranked);
    }
    if (attributes.style) {
      for (const { property, value, important } of this.inline(attributes.style)) {
        const weight = weights.style + (important ? weights.important : 0);
        if (isProperty(property)) keepStronger(found, property, { value, weight, specificity: 0, order: 0 });
      }
    }
    return new Map([...found].map(([property, { value }]) => [property, tidyValue(value)]));
  }

  private candidates(node: XmlNode): Rule[] {
    if (this.rulesOf.size === 0) return [];
    const classes = new Set(classesOf(node));
    const keys = [
      '*',
      `<${node.name}`,
      `#${node.attributes.id ?? ''}`,
      ...[...classes].map((name) => `.${name}`),
    ];
    return keys.flatMap((key) => this.rulesOf.get(key) ?? []);
  }

  private inline(text: string): readonly Declaration[] {
    let known = this.ofText.get(text);
    if (!known) {
      const { declarations, leftOut } = readDeclarations(text);
      this.leftOut += leftOut;
      this.ofText.set(text, (known = declarations));
    }
    return known;
  }
}

function keepStronger(found: Map<Property, Ranked>, property: Property, one: Ranked): void {
  const other = found.get(property);
  const difference = other
    ? one.weight - other.weight || one.specificity - other.specificity || one.order - other.order
    : 1;
  if (difference >= 0) found.set(property, one);
}

export function classesOf(node: XmlNode): string[] {
  return node.attributes.class?.split(/\s+/).filter(Boolean) ?? [];
}
