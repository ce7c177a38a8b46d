/** Reads files. What has to be asked about a drawing is asked of the drawing as it was read; no file is read twice. */
import type { Finding } from '../core/finding/finding.ts';
import { lessonOfSheet } from '../core/lesson/lesson-of-sheet.ts';
import { type LessonNames, nameless } from '../core/lesson/plain-sides.ts';
import { buildSheet } from '../core/sheet/build.ts';
import type { Segment } from '../core/sheet/segment.ts';
import { trueUp } from '../core/sheet/true-up.ts';
import {
  applyMapping,
  assumedAngles,
  type Drawing,
  type LineMapping,
} from '../core/storage/drawing/mapping.ts';
import { type DrawnFile, type Opened, takeDrawing } from '../core/storage/open.ts';
import { type PagedFile, readAnyFile, takePage } from '../core/storage/open-any.ts';
import type { PictureRead } from '../core/storage/picture/file.ts';
import { decodePicture } from './decode-picture.ts';
import type { AskedDrawing, DrawnLines, FileAnswer, FileRequest, Sample } from './file-protocol.ts';
import { readyOrRefused, sizeOf } from './ready.ts';

type Said<A = FileAnswer> = A extends FileAnswer ? Omit<A, 'job'> : never;
type DrawingOfSheet = Extract<Opened, { kind: 'drawing' }>;

export class FileJobs {
  /** What was read last, as long as something may be asked of it. */
  private names: LessonNames = nameless;
  private paged: PagedFile | null = null;
  private file: DrawnFile | null = null;
  private sheet: Pick<DrawingOfSheet, 'drawing' | 'title' | 'findings'> | null = null;

  constructor(private readonly send: (answer: FileAnswer) => void) {}

  /** Takes one request; its answers go out by `send`. */
  async take(request: FileRequest): Promise<void> {
    const { job } = request;
    this.send({ job, ...(await this.answer(request)) } as FileAnswer);
  }

  private answer(request: FileRequest): Said | Promise<Said> {
    switch (request.kind) {
      case 'open':
        return this.open(request);
      case 'take-sheet':
        return this.file ? this.drawn(this.file, request) : nothing;
      case 'take-page': {
        if (!this.paged) return nothing;
        const page = takePage(this.paged, request.page);
        return page.kind === 'drawn' ? this.drawn(page, { job: request.job }) : page;
      }
      case 'map':
        return this.mapped(request);
    }
  }

  private async open({ job, name, bytes, names }: Extract<FileRequest, { kind: 'open' }>): Promise<Said> {
    this.paged = null;
    this.names = names;
    this.file = null;
    this.sheet = null;
    this.send({ kind: 'stage', job, stage: 'reading' });
    const read = await readAnyFile(name, bytes, decodePicture);
    switch (read.kind) {
      case 'refused':
        return read;
      case 'lesson': {
        const { lesson, pictures } = read;
        this.send({ kind: 'stage', job, stage: 'joining' });
        const answer = readyOrRefused(lesson, read.findings, false);
        return answer.kind === 'ready' && pictures
          ? { ...answer, ready: { ...answer.ready, pictures } }
          : answer;
      }
      case 'sheet': {
        const { sheet, title, millimetres, findings } = read;
        this.send({ kind: 'stage', job, stage: 'joining' });
        const lesson = lessonOfSheet(sheet, { title, names: this.names, ...sizeOf(sheet, millimetres) });
        return readyOrRefused(lesson, findings, true);
      }
      case 'pages': {
        this.paged = read;
        const samples = read.pages.map(({ page, drawing }) => sampleOf(page, drawing.strokes));
        return { kind: 'asks-which', asked: { of: 'page', title: this.titleOf(read), samples } };
      }
      case 'drawn':
        return this.drawn(read, { job });
    }
  }

  /** @param region which sheet of the drawing is meant; left out, it is found */
  private drawn(file: DrawnFile, { job, region }: { job: number; region?: number | 'all' }): Said {
    this.file = file;
    this.send({ kind: 'stage', job, stage: 'sorting' });
    const opened = takeDrawing(file, { region });
    switch (opened.kind) {
      case 'several': {
        const { strokes } = opened.drawing;
        const samples = opened.sheets.map((sheet, k): Sample => {
          const own = sheet.strokes.map((stroke) => strokes[stroke]!);
          return { ...sampleOf(k + 1, own), count: sheet.creases };
        });
        return { kind: 'asks-which', asked: { of: 'sheet', title: this.titleOf(opened), samples } };
      }
      case 'drawing':
        this.sheet = { ...opened, title: this.titleOf(opened) };
        return opened.named
          ? this.mapped({ job, mapping: opened.guess })
          : {
              kind: 'asks-mapping',
              asked: { ...askedOf(opened), ...onPicture(file.picture), title: this.titleOf(opened) },
            };
      case 'refused':
        return opened;
      default:
        throw new Error(`a drawing was opened as ${opened.kind}`);
    }
  }

  /** The drawing that was opened last, under a mapping. */
  private mapped({ job, mapping }: { job: number; mapping: LineMapping }): Said {
    if (!this.sheet) return nothing;
    this.send({ kind: 'stage', job, stage: 'joining' });
    const { drawing, title, findings } = this.sheet;
    const segments = applyMapping(drawing, mapping);
    const picture = this.file?.picture;
    const { sheet, findings: built } = picture ? builtOfPicture(segments, picture) : buildSheet(segments);
    const { names } = this;
    const lesson = sheet && lessonOfSheet(sheet, { title, names, ...sizeOf(sheet, drawing.millimetres) });
    const kept = findings.filter(({ code }) => code !== 'line-kind-guessed' && code !== 'angle-assumed');
    const all: Finding[] = [...kept, ...assumedAngles(drawing, mapping), ...built];
    return readyOrRefused(lesson, all, true);
  }

  private titleOf({ title }: { readonly title: string }): string {
    return title || this.names.untitled;
  }
}

/** A pattern read from a picture is trued up at once: it is never as exact as it was drawn. */
function builtOfPicture(
  segments: readonly Segment[],
  { report }: PictureRead,
): ReturnType<typeof buildSheet> {
  const pixel = 1 / report.pixelsPerSheet;
  const built = buildSheet(segments, { snap: SNAP_PIXELS * pixel });
  if (!built.sheet) return built;
  const trued = trueUp(built.sheet, TRUED_PIXELS * pixel);
  return trued.findings.some(({ severity }) => severity === 'error')
    ? built
    : { ...built, sheet: trued.sheet };
}

/** Ends nearer to each other than this are one corner, and corners are moved by no more than that, pixels. */
const SNAP_PIXELS = 2;
const TRUED_PIXELS = 3;

/** Of a picture, its lines as they lie on it. */
function onPicture(picture: PictureRead | undefined): Pick<AskedDrawing, 'lines' | 'picture'> | null {
  if (!picture) return null;
  const { raster, report } = picture;
  const { width, height } = raster;
  const lines = report.lines.flatMap(({ from, to }) => [from[0], height - from[1], to[0], height - to[1]]);
  return {
    lines: Float64Array.from(lines),
    picture: {
      ...{ width, height, pixels: new Uint8ClampedArray(raster.data) },
      doubtful: Uint8Array.from(report.lines, ({ doubts }) => (doubts.length > 0 ? 1 : 0)),
      unexplained: report.unexplained.map(({ at: [x, y], length }) => ({ x, y: height - y, length })),
    },
  };
}

/** The worker was started anew: what is asked about is gone. */
const nothing: Said = { kind: 'refused', findings: [] };

const askedOf = ({ title, groups, guess, drawing, aside }: DrawingOfSheet): AskedDrawing => ({
  ...{ title, groups, guess },
  lines: linesOf(drawing.strokes),
  groupOf: Int32Array.from(drawing.groupOf),
  aside: linesOf(aside),
});

/** More strokes than this make no clearer a small picture. */
const SAMPLE_STROKES = 600;

function sampleOf(number: number, strokes: Drawing['strokes']): Sample {
  const every = Math.max(1, Math.ceil(strokes.length / SAMPLE_STROKES));
  return { number, lines: linesOf(strokes.filter((_, k) => k % every === 0)), count: strokes.length };
}

const linesOf = (strokes: Drawing['strokes']): DrawnLines =>
  Float64Array.from(strokes.flatMap(({ x1, y1, x2, y2 }) => [x1, y1, x2, y2]));
