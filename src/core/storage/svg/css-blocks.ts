/**
 * Style sheets taken apart into declarations, each with the selector that it stands under: the structure of CSS Syntax
 * Level 3 and of CSS Nesting, on the tokens of @csstools/css-tokenizer. Nothing is fetched.
 */
import { type CSSToken, TokenType, tokenize } from '@csstools/css-tokenizer';
import { mediaAnswer } from './css-media.ts';

export interface Declaration {
  readonly property: string;
  readonly value: string;
  readonly important: boolean;
}

/** A declaration of a style sheet, in the order of the sheet. */
interface RuledDeclaration extends Declaration {
  readonly selector: string;
}

interface Sheet {
  readonly declarations: RuledDeclaration[];
  /** Rules and declarations that are not followed. */
  leftOut: number;
  /** Other files asked for. */
  elsewhere: number;
}

/** A selector put together from nested rules may be this long; doubling `&` would make it endless. */
export const SELECTOR_LENGTH = 1000;

/** Rules that tell nothing of lines, or of another moment. */
const without = new Set(
  'charset counter-style font-face font-feature-values keyframes -webkit-keyframes namespace page property'.split(
    ' ',
  ),
);

interface Block {
  /** null at the outermost level; '' where nothing inside is read. */
  readonly selector: string | null;
  /** Rules inside are named as left out. */
  readonly counted: boolean;
}

/** The declarations of a style sheet, under their selectors. */
export function readSheet(css: string): Sheet {
  const reader = new SheetReader(tokenize({ css }));
  reader.read();
  return reader.sheet;
}

/** The declarations of a `style` attribute, and how many are none. */
export function readDeclarations(css: string): { declarations: Declaration[]; leftOut: number } {
  const reader = new SheetReader(tokenize({ css }));
  reader.read({ selector: '*', counted: false });
  return { declarations: reader.sheet.declarations, leftOut: reader.sheet.leftOut };
}

const closing = new Set<string>([TokenType.CloseParen, TokenType.CloseSquare]);
const opening = new Set<string>([TokenType.OpenParen, TokenType.OpenSquare, TokenType.Function]);
const blank = new Set<string>([TokenType.Whitespace, TokenType.Comment, TokenType.CDO, TokenType.CDC]);

class SheetReader {
  readonly sheet: Sheet = { declarations: [], leftOut: 0, elsewhere: 0 };
  private readonly tokens: readonly CSSToken[];
  private readonly blocks: Block[] = [];
  private at = 0;

  constructor(tokens: readonly CSSToken[]) {
    this.tokens = tokens;
  }

  read(outermost: Block = { selector: null, counted: false }): void {
    this.blocks.push(outermost);
    for (let type = this.type; type !== TokenType.EOF; type = this.type) {
      if (blank.has(type) || type === TokenType.Semicolon) this.at++;
      else if (type === TokenType.CloseCurly) {
        this.at++;
        if (this.blocks.length > 1) this.blocks.pop();
      } else this.readItem();
    }
  }

  private get type(): string {
    return this.tokens[this.at]![0];
  }

  private get block(): Block {
    return this.blocks.at(-1)!;
  }

  /** A rule, an at-rule or a declaration. */
  private readItem(): void {
    const start = this.at;
    const isAt = this.type === TokenType.AtKeyword;
    const { selector } = this.block;
    const item = this.takeUntil(isAt || selector !== null);
    const opens = this.type === TokenType.OpenCurly;
    if (opens) this.at++;
    if (isAt) this.atRule(this.tokens[start] as CSSToken, item.slice(1), opens);
    else if (opens) this.blocks.push(this.ruleOf(item));
    else if (selector === null) this.sheet.leftOut++;
    else this.declare(item, selector);
  }

  /** Tokens up to the next brace, or semicolon where one ends an item; brackets are kept together. */
  private takeUntil(semicolonEnds: boolean): CSSToken[] {
    const taken: CSSToken[] = [];
    for (let depth = 0; this.type !== TokenType.EOF; this.at++) {
      const { type } = this;
      if (opening.has(type)) depth++;
      else if (closing.has(type)) depth = Math.max(0, depth - 1);
      else if (depth === 0) {
        if (type === TokenType.OpenCurly) break;
        if (type === TokenType.CloseCurly && this.block.selector !== null) break;
        if (type === TokenType.CloseCurly && this.blocks.length > 1) break;
        if (type === TokenType.Semicolon && semicolonEnds) break;
      }
      if (type !== TokenType.Comment) taken.push(this.tokens[this.at]!);
    }
    return taken;
  }

  private atRule(keyword: CSSToken, prelude: readonly CSSToken[], opens: boolean): void {
    const name = (keyword[4] as { value: string }).value.toLowerCase();
    if (name === 'import') this.sheet.elsewhere++;
    if (!opens) return;
    const { selector, counted } = this.block;
    if (name === 'media') {
      const answer = mediaAnswer(textOf(prelude));
      if (answer === 'yes') this.blocks.push({ selector, counted });
      else this.blocks.push({ selector: '', counted: counted || answer === 'unknown' });
    } else this.blocks.push({ selector: '', counted: counted || !without.has(name) });
  }

  private ruleOf(prelude: readonly CSSToken[]): Block {
    const { selector, counted } = this.block;
    const inner = selector === '' ? '' : nested(prelude, selector);
    if (counted || inner.length > SELECTOR_LENGTH) this.sheet.leftOut++;
    return { selector: inner.length > SELECTOR_LENGTH ? '' : inner, counted };
  }

  private declare(item: readonly CSSToken[], selector: string): void {
    if (selector === '') return;
    const [name, ...rest] = item.filter((token, index) => index === 0 || !blank.has(token[0]));
    if (name?.[0] !== TokenType.Ident || rest[0]?.[0] !== TokenType.Colon) {
      this.sheet.leftOut++;
      return;
    }
    const written = item.slice(item.indexOf(rest[0]) + 1);
    const important = isImportant(rest);
    const end = important ? written.lastIndexOf(rest.at(-2)!) : written.length;
    const property = (name[4] as { value: string }).value.toLowerCase();
    this.sheet.declarations.push({ selector, property, value: textOf(written.slice(0, end)), important });
  }
}

function isImportant(tokens: readonly CSSToken[]): boolean {
  const [mark, word] = tokens.slice(-2);
  return mark?.[1] === '!' && word?.[0] === TokenType.Ident && word[4].value.toLowerCase() === 'important';
}

/** As written, words without their escapes. */
const textOf = (tokens: readonly CSSToken[]) =>
  tokens
    .map((token) => (token[0] === TokenType.Ident && token[1].includes('\\') ? token[4].value : token[1]))
    .join('')
    .trim();

/** The selector of a rule inside another one (CSS Nesting 1, section 3). */
function nested(prelude: readonly CSSToken[], outer: string | null): string {
  const asWritten = (tokens: readonly CSSToken[]) =>
    tokens
      .map((token) => token[1])
      .join('')
      .trim();
  if (outer === null || outer === '*') return asWritten(prelude);
  const parts: CSSToken[][] = [[]];
  let depth = 0;
  for (const token of prelude) {
    if (opening.has(token[0])) depth++;
    else if (closing.has(token[0])) depth--;
    if (token[0] === TokenType.Comma && depth === 0) parts.push([]);
    else parts.at(-1)!.push(token);
  }
  const parent = `:is(${outer})`;
  const isParent = (token: CSSToken) => token[0] === TokenType.Delim && token[1] === '&';
  return parts
    .map((part) =>
      part.some(isParent)
        ? part
            .map((token) => (isParent(token) ? parent : token[1]))
            .join('')
            .trim()
        : `${parent} ${asWritten(part)}`,
    )
    .join(', ');
}
