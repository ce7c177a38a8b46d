/** Which of its siblings an element is, counted once for all of them, for `:nth-child` and its like. */
import nthCheck from 'nth-check';
import type { Work } from '../drawing/work.ts';
import type { XmlNode } from './xml-tree.ts';

/** Places counted from 0 among siblings of the same name, from the first and from the last. */
interface Places {
  readonly first: number;
  readonly last: number;
}

/** The pseudo-classes that count, as css-select asks for them; the formula is `2n+1`, `odd`, `3`. */
export function countingPseudos(work: Work) {
  const ofType = new Map<XmlNode, Places>();
  const formulas = new Map<string, (place: number) => boolean>();
  const fits = (formula: string | null | undefined, place: number): boolean => {
    work.spend('styles', 1);
    const text = formula ?? '';
    let check = formulas.get(text);
    if (!check) formulas.set(text, (check = nthCheck(text)));
    return check(place);
  };
  const placesOf = (node: XmlNode): Places => {
    if (!ofType.has(node)) countSiblings(node, ofType, work);
    return ofType.get(node)!;
  };
  const after = (node: XmlNode) => (node.parent ? node.parent.children.length - 1 - node.index : 0);
  type Formula = string | null;
  return {
    'nth-child': (node: XmlNode, formula?: Formula) => fits(formula, node.index),
    'nth-last-child': (node: XmlNode, formula?: Formula) => fits(formula, after(node)),
    'nth-of-type': (node: XmlNode, formula?: Formula) => fits(formula, placesOf(node).first),
    'nth-last-of-type': (node: XmlNode, formula?: Formula) => fits(formula, placesOf(node).last),
  };
}

function countSiblings(node: XmlNode, places: Map<XmlNode, Places>, work: Work): void {
  const siblings = node.parent?.children ?? [node];
  work.spend('styles', siblings.length);
  const total = new Map<string, number>();
  for (const { name } of siblings) total.set(name, (total.get(name) ?? 0) + 1);
  const seen = new Map<string, number>();
  for (const sibling of siblings) {
    const first = seen.get(sibling.name) ?? 0;
    seen.set(sibling.name, first + 1);
    places.set(sibling, { first, last: total.get(sibling.name)! - 1 - first });
  }
}
