import { unreadable } from './refusal.ts';

/** One entry of a DXF file: a group code and its value, with the line that the code stands on. */
interface DxfGroup {
  readonly code: number;
  readonly value: string;
  readonly line: number;
}

/** An entity or table record: its type and its groups in order. */
export interface DxfRecord {
  readonly type: string;
  readonly line: number;
  readonly groups: readonly DxfGroup[];
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
    const code = codeText === '' ? Number.NaN : Number(codeText);
    if (!Number.isInteger(code)) {
      throw unreadable({ how: 'dxf-code', line, text: codeText.slice(0, 30) });
    }
    if (code !== 0) {
      groups.push({ code, value, line });
      continue;
    }
    if (type !== '') yield { type, line: start, groups };
    type = value.toUpperCase();
    start = line;
    groups = [];
    if (type === 'EOF') return;
  }
  if (type !== '') yield { type, line: start, groups };
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

/** First value of a group code in a record. */
export function entryOf(record: DxfRecord, code: number): string | undefined {
  return record.groups.find((group) => group.code === code)?.value;
}

/** First value of a group code as a whole number. */
export function integerOf(record: DxfRecord, code: number, fallback: number): number {
  const value = Number.parseInt(entryOf(record, code) ?? '', 10);
  return Number.isNaN(value) ? fallback : value;
}
