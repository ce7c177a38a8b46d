import { SaxesParser } from 'saxes';
import { tooManyStrokes } from './drawing.ts';
import { STROKE_LIMIT } from './limits.ts';
import { type Refusal, unreadable } from './refusal.ts';

export interface XmlNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: XmlNode[];
  /** Text directly inside, kept for style sheets only. */
  text: string;
  readonly line: number;
}

/** Elements kept at most: drawings hold a few groups and definitions beside their strokes. */
const ELEMENT_LIMIT = 2 * STROKE_LIMIT;

/**
 * Parses XML into a light tree. Names lose the `svg:` prefix. Entities declared as plain text in the document are
 * replaced; entities that refer to other entities or to other files are refused, and nothing is ever fetched.
 * Throws a Refusal that names line and column for XML that is not well-formed.
 */
export function parseXml(text: string): XmlNode {
  const parser = new SaxesParser({ xmlns: false, position: true });
  const root: XmlNode = { name: '', attributes: {}, children: [], text: '', line: 0 };
  const open: XmlNode[] = [root];
  let elements = 0;
  parser.on('error', (error) => {
    const said = error.message.replace(/^\d+:\d+:\s*/, '').replace(/\.$/, '');
    throw unreadable({ how: 'svg-broken', line: parser.line, column: parser.column, said });
  });
  parser.on('doctype', (doctype) => {
    Object.assign(parser.ENTITIES, entitiesOf(doctype));
  });
  parser.on('opentag', (tag) => {
    if (++elements > ELEMENT_LIMIT) throw tooManyStrokes();
    const attributes = tag.attributes as Record<string, string>;
    const node: XmlNode = {
      name: tag.name.replace(/^svg:/, ''),
      attributes,
      children: [],
      text: '',
      line: parser.line,
    };
    open[open.length - 1]!.children.push(node);
    open.push(node);
  });
  parser.on('closetag', () => {
    open.pop();
  });
  const keepText = (piece: string) => {
    const node = open[open.length - 1]!;
    if (node.name === 'style') node.text += piece;
  };
  parser.on('text', keepText);
  parser.on('cdata', keepText);
  parser.write(text).close();
  return root.children[0]!;
}

/** Longest replacement text accepted for a declared entity; drawing programs declare name-space addresses. */
const ENTITY_LENGTH = 500;

function entitiesOf(doctype: string): Record<string, string> {
  const found: Record<string, string> = Object.create(null);
  const declaration = /<!ENTITY\s+(%\s+)?([\w.:-]+)\s+(SYSTEM\b|PUBLIC\b|"[^"]*"|'[^']*')/g;
  for (const [, parameter, name, value] of doctype.matchAll(declaration)) {
    const plain = value!.slice(1, -1);
    if (parameter || value === 'SYSTEM' || value === 'PUBLIC') {
      throw refuseEntity(name!, 'elsewhere');
    }
    if (/[&%<]/.test(plain) || plain.length > ENTITY_LENGTH) {
      throw refuseEntity(name!, 'built');
    }
    found[name!] = plain;
  }
  return found;
}

const refuseEntity = (name: string, why: 'elsewhere' | 'built'): Refusal =>
  unreadable({ how: 'svg-entity', name, why });
