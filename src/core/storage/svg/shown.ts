/** Which elements are shown at all (SVG 2, 5.8 and 5.9: conditional processing and the switch element). */
import type { XmlNode } from './xml-tree.ts';

/** Elements that hold others. */
export const containers: ReadonlySet<string> = new Set(['svg', 'g', 'a', 'symbol']);

/** Elements without strokes of their own that are passed over in silence. */
export const silent: ReadonlySet<string> = new Set(
  'defs style title desc metadata clipPath mask marker pattern linearGradient radialGradient filter sodipodi:namedview symbol'.split(
    ' ',
  ),
);

/** The language in which a drawing with several is read. */
const LANGUAGE = 'en';

/** Do the conditions on an element hold? Extensions are never there; features are no condition since SVG 2. */
export function conditionsHold({ attributes }: XmlNode): boolean {
  const { systemLanguage, requiredExtensions } = attributes;
  if (requiredExtensions !== undefined && requiredExtensions.trim() !== '') return false;
  if (systemLanguage === undefined) return true;
  const languages = systemLanguage.split(',').map((one) => one.trim().toLowerCase());
  return languages.some((one) => one === LANGUAGE || one.startsWith(`${LANGUAGE}-`));
}

/** The child that a switch shows. */
export function childOfSwitch(node: XmlNode): XmlNode | undefined {
  return node.children.find((child) => !child.foreign && !silent.has(child.name) && conditionsHold(child));
}
