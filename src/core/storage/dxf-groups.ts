import { Refusal } from './refusal.ts';

/** One entry of a DXF file: a group code and its value, with the line that the code stands on. */
export interface DxfGroup {
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
  const lines = text.split(/\r\n|\r|\n/);
  let type = '';
  let start = 0;
  let groups: DxfGroup[] = [];
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const code = Number(lines[i]);
    if (!Number.isInteger(code) || lines[i]!.trim() === '') {
      if (lines.slice(i).every((line) => line.trim() === '')) break;
      throw new Refusal(
        `The DXF file is broken at line ${i + 1}: a group code is wanted there, not "${lines[i]!.trim().slice(0, 30)}"; save it again from the drawing program.`,
      );
    }
    const value = lines[i + 1]!.trim();
    if (code !== 0) {
      groups.push({ code, value, line: i + 1 });
      continue;
    }
    if (type !== '') yield { type, line: start, groups };
    type = value.toUpperCase();
    start = i + 1;
    groups = [];
    if (type === 'EOF') return;
  }
  if (type !== '') yield { type, line: start, groups };
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
