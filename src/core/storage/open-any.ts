/** Files of any kind, those too whose readers are large and loaded only when such a file comes. */
import {
  checkSize,
  type DrawingChoices,
  type DrawnFile,
  type Opened,
  type ReadFile,
  readFile,
  refusedBy,
  takeDrawing,
  titleOf,
} from './open.ts';
import type { PdfPage } from './pdf/file.ts';
import type { DecodePicture } from './picture/file.ts';
import { unreadable } from './refusal.ts';

/** A file as it was read; of a PDF file with lines on several pages all of these. */
type ReadAny = ReadFile | PagedFile;

export interface PagedFile {
  readonly kind: 'pages';
  readonly pages: readonly PdfPage[];
  readonly title: string;
}

interface AnyChoices extends DrawingChoices {
  /** Which page of a PDF file is meant, from 1. */
  readonly page?: number | undefined;
  readonly decode?: DecodePicture;
}

/** As `openFile`, for every kind of file. */
export async function openAnyFile(
  name: string,
  bytes: Uint8Array,
  choices: AnyChoices = {},
): Promise<Opened | PagedFile> {
  const read = await readAnyFile(name, bytes, choices.decode);
  const taken = read.kind === 'pages' && choices.page !== undefined ? takePage(read, choices.page) : read;
  return taken.kind === 'drawn' ? takeDrawing(taken, choices) : taken;
}

/** Reads a file of any kind. Never throws. */
export async function readAnyFile(
  name: string,
  bytes: Uint8Array,
  decode: DecodePicture = async () => null,
): Promise<ReadAny> {
  try {
    if (isPicture(bytes)) {
      checkSize(bytes);
      const { drawingOfPicture } = await import('./picture/file.ts');
      return { kind: 'drawn', title: titleOf(name), ...(await drawingOfPicture(bytes, decode)) };
    }
    if (!startsWith(bytes, '%PDF')) return readFile(name, bytes);
    checkSize(bytes);
    const { pagesOfPdf } = await import('./pdf/file.ts');
    const pages = await pagesOfPdf(bytes);
    const title = titleOf(name);
    return pages.length === 1
      ? { kind: 'drawn', drawing: pages[0]!.drawing, title }
      : { kind: 'pages', pages, title };
  } catch (error) {
    return refusedBy(name, error);
  }
}

/** A page of those that were found. */
export function takePage(
  { pages, title }: PagedFile,
  page: number,
): DrawnFile | Extract<ReadFile, { kind: 'refused' }> {
  const found = pages.find((one) => one.page === page);
  if (found) return { kind: 'drawn', drawing: found.drawing, title };
  return refusedBy(title, unreadable({ how: 'page', page, pages: pages.map((one) => one.page) }));
}

/** PNG, JPEG and WebP by their first bytes. */
function isPicture(bytes: Uint8Array): boolean {
  const start = String.fromCharCode(...bytes.subarray(0, 12));
  return (
    start.startsWith('\x89PNG') ||
    start.startsWith('\xff\xd8\xff') ||
    (start.startsWith('RIFF') && start.endsWith('WEBP'))
  );
}

/** Some programs write a few letters before the mark of the format. */
const startsWith = (bytes: Uint8Array, mark: string) =>
  String.fromCharCode(...bytes.subarray(0, 1024)).includes(mark);
