import type { XmlNode } from './xml-tree.ts';

/** Style properties by name, as written. */
export type Declarations = Readonly<Record<string, string>>;

interface Rule {
  readonly tag: string | null;
  readonly ids: readonly string[];
  readonly classes: readonly string[];
  readonly declarations: Declarations;
  /** Sorts rules: ids, then classes, then tag, then order. */
  readonly rank: number;
}

/** The style rules of a drawing: selectors made of a tag, ids and classes. Others are counted as left out. */
export class StyleSheet {
  private readonly rulesOf = new Map<string, Rule[]>();
  leftOut = 0;
  private count = 0;

  /** Reads a style sheet. At-rules (imports, media, fonts) are passed over; nothing is fetched. */
  add(css: string): void {
    const plain = css.replace(/\/\*[\s\S]*?(?:\*\/|$)/g, ' ').replace(/@[^;{]*;/g, ' ');
    for (const [, prelude, body] of plain.matchAll(/([^{}]+)\{([^{}]*)\}/g)) {
      if (prelude!.trim().startsWith('@')) continue;
      for (const selector of prelude!.split(',')) this.addRule(selector.trim(), readDeclarations(body!));
    }
  }

  private addRule(selector: string, declarations: Declarations): void {
    const match = /^(\*|[a-z][\w-]*)?((?:[.#](?:\\.|[^\s\\.#>+~:[\]*,])+)*)$/i.exec(selector);
    if (!match || selector === '') {
      this.leftOut++;
      return;
    }
    const names = (match[2]!.match(/[.#](?:\\.|[^.#\\])+/g) ?? []).map((name) =>
      name.replace(/\\(.)/g, '$1'),
    );
    const ids = names.filter((name) => name.startsWith('#')).map((name) => name.slice(1));
    const classes = names.filter((name) => name.startsWith('.')).map((name) => name.slice(1));
    const tag = match[1] && match[1] !== '*' ? match[1] : null;
    const rank = ids.length * 1e12 + classes.length * 1e9 + (tag ? 1e7 : 0) + this.count++;
    const key = names[0] ?? tag ?? '*';
    const list = this.rulesOf.get(key) ?? [];
    list.push({ tag, ids, classes, declarations, rank });
    this.rulesOf.set(key, list);
  }

  /** Everything the rules and the element's own attributes say, the stronger over the weaker. */
  styleOf(node: XmlNode): Declarations {
    const { attributes } = node;
    const classes = classesOf(node);
    const keys = ['*', node.name, `#${attributes.id ?? ''}`, ...classes.map((name) => `.${name}`)];
    const fits = (rule: Rule) =>
      (!rule.tag || rule.tag === node.name) &&
      rule.ids.every((id) => id === attributes.id) &&
      rule.classes.every((name) => classes.includes(name));
    const rules = this.count === 0 ? [] : keys.flatMap((key) => this.rulesOf.get(key) ?? []).filter(fits);
    rules.sort((a, b) => a.rank - b.rank);
    const own = attributes.style ? readDeclarations(attributes.style) : {};
    return Object.assign({}, attributes, ...rules.map((rule) => rule.declarations), own);
  }
}

export function classesOf(node: XmlNode): string[] {
  return node.attributes.class?.split(/\s+/).filter(Boolean) ?? [];
}

function readDeclarations(text: string): Declarations {
  const found: Record<string, string> = {};
  for (const part of text.split(';')) {
    const colon = part.indexOf(':');
    if (colon < 0) continue;
    found[part.slice(0, colon).trim().toLowerCase()] = part
      .slice(colon + 1)
      .replace(/!\s*important/i, '')
      .trim();
  }
  return found;
}
