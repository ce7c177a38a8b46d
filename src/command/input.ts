import { readFile } from 'node:fs/promises';
import type { Finding } from '../core/finding/finding.ts';
import type { Lesson } from '../core/lesson/lesson.ts';
import { sheetOfLesson } from '../core/lesson/sheet-of-lesson.ts';
import { settleAngles } from '../core/pose/settle-angles.ts';
import { buildSheet } from '../core/sheet/build.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { trueUp } from '../core/sheet/true-up.ts';
import { applyMapping, type LineMapping } from '../core/storage/drawing/mapping.ts';
import type { SheetRegion } from '../core/storage/drawing/sheets-in.ts';
import type { Opened } from '../core/storage/open.ts';
import { openAnyFile, type PagedFile } from '../core/storage/open-any.ts';
import { parseJson } from '../core/storage/parse-json.ts';
import type { DecodePicture } from '../core/storage/picture/file.ts';
import { Refusal } from '../core/storage/refusal.ts';
import { textOf } from '../core/storage/text.ts';
import { sentenceOf } from '../words/findings.ts';
import type { Options } from './options.ts';
import { Unusable } from './unusable.ts';

/** The sheet that a call is about, and what its file says beside it. */
export interface Input {
  /** Null when the drawing makes no sheet; the findings say why. */
  readonly sheet: Sheet | null;
  readonly lesson: Lesson | null;
  readonly title: string;
  /** Length of the longer side in mm, where the call or the file says it. */
  readonly size: number | null;
  /** Length of the file's own unit in mm, where the file says it. */
  readonly millimetres: number | null;
  /** How far true-up moved the worst vertex, mm; null when it was not asked for. */
  readonly moved: number | null;
  readonly findings: readonly Finding[];
}

type Plain = Omit<Input, 'size' | 'moved'>;

/** Reads the file of a call that is about a sheet. Throws Unusable where there is none. */
export async function readSheet(options: Options): Promise<{ input: Input; sheet: Sheet }> {
  const input = await readInput(options);
  if (input.sheet) return { input, sheet: input.sheet };
  const why = input.findings.find(({ severity }) => severity === 'error');
  throw new Unusable((say) => (why ? sentenceOf(why) : say.noSheet()));
}

/** Reads the file of a call. Throws Unusable when it cannot be used. */
export async function readInput(options: Options): Promise<Input> {
  const mapping = options.lines === null ? undefined : await readMapping(options.lines);
  const bytes = await readBytes(options.file);
  const opened = await openAnyFile(options.file === '-' ? 'standard input' : options.file, bytes, {
    mapping,
    region: options.region ?? undefined,
    page: options.page ?? undefined,
    decode: decoded,
  });
  if (mapping && (opened.kind === 'lesson' || opened.kind === 'sheet')) {
    throw new Unusable((say) => say.linesNotWanted());
  }
  if (options.region !== null && (opened.kind === 'lesson' || opened.kind === 'sheet')) {
    throw new Unusable((say) => say.regionNotWanted());
  }
  const input = plainInput(opened);
  const scale = input.sheet?.frame.scale ?? 0;
  const size =
    options.sheet ??
    knownSize(input.lesson) ??
    (input.millimetres === null ? null : input.millimetres * scale);
  if (options.trueUp === null || !input.sheet) return { ...input, size, moved: null };
  if (size === null) {
    throw new Unusable((say) => say.sizeWanted());
  }
  // ends that true-up would bring together are joined first
  const snap = (0.6 * options.trueUp) / size;
  const wide = opened.kind === 'drawing' ? plainInput(opened, snap) : input;
  const joined = wide.sheet ? wide : input;
  const first = trueUp(joined.sheet!, options.trueUp / size);
  // where the angles as written stand in the way, they are settled too, and the corners trued once more
  const settled = settleAngles(first.sheet);
  const trued = settled.findings.length > 0 ? trueUp(settled.sheet, options.trueUp / size) : first;
  return {
    ...joined,
    size,
    sheet: trued.sheet,
    moved: Math.max(first.moved, trued.moved) * size,
    findings: [...joined.findings, ...first.findings, ...settled.findings],
  };
}

/** A lesson whose size was only assumed says nothing of it. */
const knownSize = (lesson: Lesson | null): number | undefined =>
  lesson?.sheet.sizeAssumed ? undefined : lesson?.sheet.size;

function plainInput(opened: Opened | PagedFile, snap?: number): Plain {
  switch (opened.kind) {
    case 'refused':
      throw new Unusable(() => sentenceOf(opened.findings[0]!));
    case 'pages': {
      const pages = opened.pages.map(({ page }) => page);
      throw new Unusable((say) => say.severalPages(pages));
    }
    case 'several': {
      const sheets = opened.sheets.map((one) => toldSheet(one, opened.drawing.millimetres));
      throw new Unusable((say) => say.severalSheets(sheets));
    }
    case 'lesson': {
      const { lesson } = opened;
      const { sheet, findings } = sheetOfLesson(lesson);
      return {
        sheet,
        lesson,
        title: lesson.title,
        millimetres: null,
        findings: [...opened.findings, ...findings],
      };
    }
    case 'sheet': {
      const { sheet, title, millimetres, findings } = opened;
      return { sheet, lesson: null, title, millimetres, findings };
    }
    case 'drawing': {
      const { sheet, findings } = buildSheet(applyMapping(opened.drawing, opened.guess), { snap });
      const { title, drawing } = opened;
      return {
        sheet,
        lesson: null,
        title,
        millimetres: drawing.millimetres,
        findings: [...opened.findings, ...findings],
      };
    }
  }
}

/** Its size in mm, or in the drawing's own unit. */
function toldSheet({ box, creases }: SheetRegion, millimetres: number | null) {
  const sides = box.map(([low, high]) => Number(((high - low) * (millimetres ?? 1)).toPrecision(4)));
  return { size: `${sides.join(' x ')}${millimetres === null ? '' : ' mm'}`, creases };
}

/** Pictures are decoded by what is loaded when one comes. */
const decoded: DecodePicture = async (bytes) => {
  const { decodePicture } = await import('./decode-picture.ts');
  const found = decodePicture(bytes);
  return found.kind === 'decoded' ? found.raster : null;
};

async function readMapping(path: string): Promise<LineMapping> {
  try {
    return parseJson(textOf(await readBytes(path))) as LineMapping;
  } catch (error) {
    if (error instanceof Refusal)
      throw new Unusable((say) => say.mappingUnusable(path, sentenceOf(error.finding)));
    throw error;
  }
}

async function readBytes(path: string): Promise<Uint8Array> {
  try {
    if (path !== '-') return await readFile(path);
    const pieces: Uint8Array[] = [];
    for await (const piece of process.stdin) pieces.push(piece as Uint8Array);
    return Buffer.concat(pieces);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? null;
    throw new Unusable((say) => say.notOpened(path, code));
  }
}
