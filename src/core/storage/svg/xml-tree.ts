import { SaxesParser } from 'saxes';
import type { BrokenXml } from '../../finding/values/file.ts';
import type { FilePlace } from '../../finding/values/place.ts';
import { tooManyStrokes } from '../drawing/drawing.ts';
import { STROKE_LIMIT } from '../limits.ts';
import { type Refusal, unreadable } from '../refusal.ts';
import { isSvg, NameSpaces } from './xml-names.ts';

export interface XmlNode {
  /** Without its prefix for elements of SVG, else as written. */
  readonly name: string;
  /** Of another vocabulary than SVG. */
  readonly foreign: boolean;
  readonly attributes: Readonly<Record<string, string>>;
  readonly parent: XmlNode | null;
  /** Which child of its parent it is. */
  readonly index: number;
  readonly children: XmlNode[];
  /** Text directly inside, kept for style sheets only. */
  text: string;
  readonly line: number;
}

/** Elements kept at most: drawings hold a few groups and definitions beside their strokes. */
const ELEMENT_LIMIT = 2 * STROKE_LIMIT;

/**
 * Parses XML into a light tree. Entities declared as plain text in the document are replaced; entities that refer to
 * other entities or to other files are refused, and nothing is ever fetched.
 * Throws a Refusal that names line and column for XML that is not well-formed.
 */
export function parseXml(text: string): XmlNode {
  const parser = new SaxesParser({ xmlns: false, position: true });
  const tree = new TreeBuilder();
  parser.on('error', (error) => {
    throw unreadable({
      how: 'svg-broken',
      line: parser.line,
      column: parser.column,
      what: faultOf(error.message),
    });
  });
  parser.on('doctype', (doctype) => {
    Object.assign(parser.ENTITIES, entitiesOf(doctype));
  });
  parser.on('opentag', (tag) => tree.open(tag.name, tag.attributes as Record<string, string>, parser.line));
  parser.on('closetag', () => tree.close());
  parser.on('text', (piece) => tree.addText(piece));
  parser.on('cdata', (piece) => tree.addText(piece));
  parser.write(text).close();
  return tree.root!;
}

class TreeBuilder {
  root: XmlNode | null = null;
  private readonly names = new NameSpaces();
  private readonly openNodes: XmlNode[] = [];
  private readonly entered: string[][] = [];
  private rootAddress: string | null = '';
  private elements = 0;

  open(name: string, written: Readonly<Record<string, string>>, line: number): void {
    if (++this.elements > ELEMENT_LIMIT) throw tooManyStrokes();
    this.entered.push(this.names.enter(written));
    const { local, address } = this.names.elementOf(name);
    const parent = this.openNodes.at(-1) ?? null;
    if (!parent) this.rootAddress = address;
    const foreign = !isSvg(address, this.rootAddress);
    const node: XmlNode = {
      name: foreign ? name : local,
      foreign,
      attributes: this.names.attributesOf(written),
      parent,
      index: parent?.children.length ?? 0,
      children: [],
      text: '',
      line,
    };
    if (parent) parent.children.push(node);
    else this.root = node;
    this.openNodes.push(node);
  }

  close(): void {
    this.openNodes.pop();
    this.names.leave(this.entered.pop()!);
  }

  addText(piece: string): void {
    const node = this.openNodes.at(-1);
    if (node?.name === 'style') node.text += piece;
  }
}

/** Where an element stands, for a sentence. */
export function placeOf({ line, name, attributes: { id } }: XmlNode): FilePlace {
  return { how: 'line', line, element: name.slice(0, 40), ...(id ? { id: id.slice(0, 60) } : {}) };
}

/** What the parser says, first fit. */
const faults: readonly (readonly [RegExp, BrokenXml])[] = [
  [/unclosed tag|unexpected end/, 'unclosed'],
  [/closing tag|close tag/, 'end-tag'],
  [/duplicate attribute/, 'attribute-twice'],
  [/attribute/, 'attribute'],
  [/entity/, 'entity'],
  [/outside of root|only one root|root element/, 'outside'],
  [/disallowed/, 'character'],
];

const faultOf = (said: string): BrokenXml => faults.find(([sign]) => sign.test(said))?.[1] ?? 'form';

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
  unreadable({ how: 'svg-entity', name: name.slice(0, 40), why });
