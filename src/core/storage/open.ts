import { type Finding, finding } from '../finding/finding.ts';
import { type Lesson, lessonFormat } from '../lesson/lesson.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { type Drawing, drawingOf, type StrokeGroup, tooCurved } from './drawing/drawing.ts';
import {
  allNamed,
  assumedAngles,
  completeMapping,
  guessMapping,
  type LineMapping,
} from './drawing/mapping.ts';
import { curvesOn, type SheetRegion, setAside, sheetsIn } from './drawing/sheets-in.ts';
import { readDxf } from './dxf/read.ts';
import type { LessonPictures } from './lesson/pictures.ts';
import { readLesson } from './lesson/read.ts';
import { BYTE_LIMIT } from './limits.ts';
import { parseJson } from './parse-json.ts';
import type { PictureRead } from './picture/file.ts';
import { looksLikeFold, readFold } from './read-fold.ts';
import { Refusal, refusal, unreadable } from './refusal.ts';
import { readSvg } from './svg/read.ts';
import { textOf } from './text.ts';

/** What a file turned out to be. */
export type Opened =
  | {
      readonly kind: 'lesson';
      readonly lesson: Lesson;
      /** Of its steps, where the file carries any. */
      readonly pictures?: LessonPictures;
      readonly findings: Finding[];
    }
  | {
      readonly kind: 'drawing';
      readonly drawing: Drawing;
      /** Strokes of the file that were left out, as they stand round or beside the sheet. */
      readonly aside: Drawing['strokes'];
      readonly groups: readonly StrokeGroup[];
      /** Filled in for every group; where a mapping was given, it counts first. */
      readonly guess: LineMapping;
      /** All kinds come from names of our own form or from the given mapping: no mapping step is needed. */
      readonly named: boolean;
      readonly title: string;
      readonly findings: Finding[];
    }
  | {
      readonly kind: 'sheet';
      readonly sheet: Sheet;
      readonly title: string;
      /** Length of the file's unit in mm, or null. */
      readonly millimetres: number | null;
      readonly findings: Finding[];
    }
  /** The drawing holds more than one sheet: which is meant has to be said. */
  | {
      readonly kind: 'several';
      readonly sheets: readonly SheetRegion[];
      readonly drawing: Drawing;
      readonly title: string;
      readonly findings: Finding[];
    }
  | Refused;

/** What the caller says of a drawing. */
export interface DrawingChoices {
  readonly mapping?: LineMapping | undefined;
  /** Which of its sheets is meant, from 1; `all`: every line, whatever stands round the sheet. */
  readonly region?: number | 'all' | undefined;
}

/** A file as it was read, before anything about a drawing was asked. */
export type ReadFile = Exclude<Opened, { kind: 'drawing' | 'several' }> | DrawnFile;

export interface DrawnFile {
  readonly kind: 'drawn';
  readonly drawing: Drawing;
  readonly title: string;
  /** That it was read from. */
  readonly picture?: PictureRead;
}

/**
 * Opens a file of any kind that is a text, told by its content. Never throws: what cannot be used comes back as `refused`
 * with one finding. Nothing in the file is run, and nothing it refers to is fetched.
 */
export function openFile(name: string, bytes: Uint8Array, choices: DrawingChoices = {}): Opened {
  const read = readFile(name, bytes);
  return read.kind === 'drawn' ? takeDrawing(read, choices) : read;
}

/** Reads a file; as `openFile`, but a drawing comes back whole. */
export const readFile = (name: string, bytes: Uint8Array): ReadFile =>
  refusing(name, () => read(name, bytes));

/** Finds the sheet among what is drawn, and guesses what its lines mean. */
export const takeDrawing = ({ drawing, title, picture }: DrawnFile, choices: DrawingChoices = {}): Opened =>
  // of a picture all lines are shown on it and asked about
  refusing(title, () => openDrawing(drawing, title, picture ? { region: 'all', ...choices } : choices));

/** What is done, or the refusal that it ended with. */
function refusing<T>(name: string, open: () => T): T | Refused {
  try {
    return open();
  } catch (error) {
    return refusedBy(name, error);
  }
}

interface Refused {
  readonly kind: 'refused';
  readonly findings: Finding[];
}

export function refusedBy(name: string, error: unknown): Refused {
  if (error instanceof Refusal) return { kind: 'refused', findings: [error.finding] };
  const said = error instanceof Error ? error.message : String(error);
  return { kind: 'refused', findings: [unreadable({ how: 'surprise', name, said }).finding] };
}

function read(name: string, bytes: Uint8Array): ReadFile {
  checkSize(bytes);
  const text = textOf(bytes);
  const start = text.trimStart();
  if (start === '') throw unreadable({ how: 'empty' });
  const title = titleOf(name);
  if (start.startsWith('<')) return { kind: 'drawn', drawing: readSvg(start), title };
  if (start.startsWith('{') || start.startsWith('[')) return openJson(parseJson(text), title);
  if (/^\s*\d+\s*[\r\n]/.test(text) && /^[ \t]*SECTION[ \t\r]*$/m.test(text))
    return { kind: 'drawn', drawing: readDxf(text), title };
  throw unreadable({ how: 'unknown-kind', name });
}

/** Throws a Refusal for a file that is larger than any drawing. */
export function checkSize(bytes: Uint8Array): void {
  if (bytes.length <= BYTE_LIMIT) return;
  const count = Math.ceil(bytes.length / 1048576);
  const facts = { value: bytes.length, limit: BYTE_LIMIT };
  throw refusal('file-too-large', { how: 'bytes', count, most: BYTE_LIMIT / 1048576 }, facts);
}

function openJson(value: unknown, title: string): ReadFile {
  if (typeof value === 'object' && value !== null && 'format' in value && value.format === lessonFormat) {
    const { lesson, pictures, findings } = readLesson(value);
    return lesson
      ? { kind: 'lesson', lesson, ...(pictures && { pictures }), findings }
      : { kind: 'refused', findings };
  }
  if (looksLikeFold(value)) {
    const { sheet, findings, ...facts } = readFold(value);
    if (!sheet) return { kind: 'refused', findings };
    return { kind: 'sheet', sheet, ...facts, title: facts.title || title, findings };
  }
  throw unreadable({ how: 'json-unknown' });
}

function openDrawing(whole: Drawing, title: string, { mapping, region }: DrawingChoices): Opened {
  const sheets = region === 'all' ? [] : sheetsIn(whole);
  if (sheets.length > 1 && region === undefined)
    return { kind: 'several', sheets, drawing: whole, title, findings: [...whole.findings] };
  if (typeof region === 'number' && region > Math.max(1, sheets.length))
    throw unreadable({ how: 'region', region, sheets: sheets.length });
  const sheet = sheets[typeof region === 'number' ? region - 1 : 0];
  const bent = sheet ? curvesOn(sheet, whole.curves) : whole.curves;
  if (bent.length > 0) throw tooCurved(bent);
  const { drawing, aside } = sheet ? alone(whole, sheet) : { drawing: whole, aside: [] };
  return openSheet(drawing, aside, title, mapping);
}

/** The sheet without what stands round and beside it, and that. */
function alone(whole: Drawing, sheet: SheetRegion): { drawing: Drawing; aside: Drawing['strokes'] } {
  const curves = whole.curves.length;
  if (sheet.strokes.length === whole.strokes.length && curves === 0) return { drawing: whole, aside: [] };
  const { strokes: aside, round, beside } = setAside(whole, sheet);
  const left = finding(
    'line-ignored',
    'note',
    { how: 'not-of-sheet', round, beside, curves },
    { value: round + beside + curves },
  );
  return { drawing: drawingOf(whole, sheet.strokes, [...whole.findings, left]), aside };
}

function openSheet(
  drawing: Drawing,
  aside: Drawing['strokes'],
  title: string,
  mapping: LineMapping | undefined,
): Opened {
  const guessed = guessMapping(drawing);
  const guess = mapping ? completeMapping(drawing, mapping, guessed.guess) : guessed.guess;
  const named = allNamed(drawing) || mapping !== undefined;
  const findings = [
    ...drawing.findings,
    ...(mapping ? [] : guessed.findings),
    ...assumedAngles(drawing, guess),
  ];
  return { kind: 'drawing', drawing, aside, groups: drawing.groups, guess, named, title, findings };
}

/** The name of a file without its ending; empty where it has none. */
export function titleOf(name: string): string {
  const base = name.split(/[\\/]/).pop() ?? '';
  return base.replace(/\.[^.]*$/, '');
}
