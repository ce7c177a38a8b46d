import { checkNumber, readNumber, unreadable } from '../refusal.ts';

/** One entry of a DXF file: a group code and its value, with the line that the code stands on. */
interface DxfGroup {
  readonly code: number;
  readonly value: string;
  readonly line: number;
}

/** From this many groups on a record is looked up by code: one that is drawn over and over must not be searched. */
const MANY_GROUPS = 24;

/** Largest whole number that a flag or colour of the format takes. */
const WHOLE_LIMIT = 0xffffffff;

/** An entity or table record: its type and its groups in order. */
export class DxfRecord {
  readonly type: string;
  readonly line: number;
  readonly groups: readonly DxfGroup[];
  private firsts: Map<number, DxfGroup> | null = null;

  constructor(type: string, line: number, groups: readonly DxfGroup[]) {
    this.type = type;
    this.line = line;
    this.groups = groups;
  }

  /** First value of a group code. */
  text(code: number): string | undefined {
    return this.group(code)?.value;
  }

  /** First value of a group code as a number. Throws a Refusal where it is none. */
  number(code: number, fallback = 0): number {
    const group = this.group(code);
    return group ? this.numberIn(group) : fallback;
  }

  /** The same for a coordinate that may not be missing. */
  coordinate(code: number): number {
    const group = this.group(code);
    if (!group) throw unreadable({ how: 'dxf-missing', type: this.type, line: this.line, code });
    return this.numberIn(group);
  }

  /** First value of a group code as a whole number. Throws a Refusal where it is none. */
  integer(code: number, fallback: number): number {
    const group = this.group(code);
    if (!group) return fallback;
    const value = /^[+-]?\d+(\.\d*)?$/.test(group.value) ? Math.trunc(Number(group.value)) : Number.NaN;
    return Math.abs(value) <= WHOLE_LIMIT ? value : checkNumber(value, this.place(group), group.value);
  }

  /** A group of this record as a number. Throws a Refusal where it is none. */
  numberIn(group: DxfGroup): number {
    return readNumber(group.value, this.place(group));
  }

  private group(code: number): DxfGroup | undefined {
    if (this.groups.length < MANY_GROUPS) return this.groups.find((group) => group.code === code);
    this.firsts ??= new Map(this.groups.toReversed().map((group) => [group.code, group]));
    return this.firsts.get(code);
  }

  private place(group: DxfGroup) {
    return { how: 'line', line: group.line + 1, element: this.type } as const;
  }
}

/** Splits the text of a DXF file into records, each beginning at a group 0. Groups before the first are dropped. */
export function* dxfRecords(text: string): Generator<DxfRecord> {
  const lines = new LineReader(text);
  let type = '';
  let start = 0;
  let groups: DxfGroup[] = [];
  for (;;) {
    const codeText = lines.next();
    const line = lines.number;
    const value = lines.next();
    if (codeText === null || value === null) break;
    const code = codeIn(codeText, line);
    if (code !== 0) {
      groups.push({ code, value, line });
      continue;
    }
    if (type !== '') yield new DxfRecord(type, start, groups);
    type = value.slice(0, TYPE_LENGTH).toUpperCase();
    start = line;
    groups = [];
    if (type === 'EOF') return;
  }
  if (type !== '') yield new DxfRecord(type, start, groups);
}

/** Types longer than this mean nothing; they are cut, for a note names them. */
const TYPE_LENGTH = 40;

/** A group code. The reference has none beyond 1071; six digits leave room for those of other programs. */
function codeIn(text: string, line: number): number {
  if (/^-?\d{1,6}$/.test(text)) return Number(text);
  throw unreadable({ how: 'dxf-code', line, text: text.slice(0, 30) });
}

/** Hands out lines one by one, trimmed, so that a huge file can be refused before all of it is looked at. */
class LineReader {
  /** Of the line given last, counted from 1. */
  number = 0;
  private at = 0;
  private readonly text: string;

  constructor(text: string) {
    // the line ends of old Macs
    this.text = text.includes('\n') ? text : text.replaceAll('\r', '\n');
  }

  /** Null after the last line. */
  next(): string | null {
    if (this.at >= this.text.length) return null;
    let end = this.text.indexOf('\n', this.at);
    if (end < 0) end = this.text.length;
    const line = this.text.slice(this.at, end).trim();
    this.at = end + 1;
    this.number++;
    return line;
  }
}

/** Names of tables and blocks are compared in this form. */
export const folded = (name: string) => name.toUpperCase();
