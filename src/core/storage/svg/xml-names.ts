/** Name spaces of XML: which vocabulary an element or attribute belongs to, whatever prefix a program chose. */

const SVG = 'http://www.w3.org/2000/svg';

/** Prefixes that are understood where a file uses them without declaring them, as hand-made files do. */
const customary: readonly (readonly [prefix: string, address: string])[] = [
  ['svg', SVG],
  ['xlink', 'http://www.w3.org/1999/xlink'],
  ['inkscape', 'http://www.inkscape.org/namespaces/inkscape'],
  ['sodipodi', 'http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd'],
  ['xml', 'http://www.w3.org/XML/1998/namespace'],
];

/** How the readers call attributes of these vocabularies. */
const calledBy = new Map(customary.map(([prefix, address]) => [address, prefix]));

type Written = Readonly<Record<string, string>>;

/** The prefixes declared by the elements that are open at the moment. */
export class NameSpaces {
  private readonly declared = new Map(customary.map(([prefix, address]) => [prefix, [address]]));

  /** Takes in what a start tag declares; returns the prefixes, for `leave`. */
  enter(attributes: Written): string[] {
    const fresh: string[] = [];
    for (const name in attributes) {
      if (name !== 'xmlns' && !name.startsWith('xmlns:')) continue;
      const prefix = name.slice(6);
      fresh.push(prefix);
      const known = this.declared.get(prefix);
      if (known) known.push(attributes[name]!);
      else this.declared.set(prefix, [attributes[name]!]);
    }
    return fresh;
  }

  leave(prefixes: readonly string[]): void {
    for (const prefix of prefixes) this.declared.get(prefix)!.pop();
  }

  /** The name of an element without its prefix, and its vocabulary; null for a prefix that nobody declared. */
  elementOf(name: string): { readonly local: string; readonly address: string | null } {
    const colon = name.indexOf(':');
    const address = this.declared.get(colon < 0 ? '' : name.slice(0, colon))?.at(-1);
    return { local: name.slice(colon + 1), address: address ?? (colon < 0 ? '' : null) };
  }

  /** Attributes by name: those of other vocabularies as `xlink:href`, whatever prefix the file uses. */
  attributesOf(written: Written): Written {
    const found: Record<string, string> = Object.create(null);
    for (const name in written) {
      const colon = name.indexOf(':');
      if (colon < 0) found[name] = written[name]!;
      else {
        const prefix = calledBy.get(this.declared.get(name.slice(0, colon))?.at(-1) ?? '');
        if (prefix && prefix !== 'svg') found[`${prefix}:${name.slice(colon + 1)}`] = written[name]!;
      }
    }
    return found;
  }
}

/** Does a vocabulary hold the elements of SVG? A file that declares none is read as SVG. */
export const isSvg = (address: string | null, ofRoot: string | null) =>
  address === SVG || (address === '' && ofRoot === '');
