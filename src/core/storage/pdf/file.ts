/**
 * PDF files, opened by a library that is loaded when one is wanted. It runs in the same thread, gets the file alone, and
 * fetches nothing: fonts and pictures are left out, and scripts of a file are never run.
 */
import type { Drawing } from '../drawing/drawing.ts';
import { Refusal, refusal, unreadable } from '../refusal.ts';
import type { DrawnPage } from './operators.ts';
import { readPage } from './read-page.ts';

/** A page on which lines were found, numbered from 1. */
export interface PdfPage {
  readonly page: number;
  readonly drawing: Drawing;
}

/** More pages are not looked through. */
const MOST_PAGES = 100;

/** The pages of a file that hold lines. Throws a Refusal where there is none, or the file cannot be read. */
export async function pagesOfPdf(bytes: Uint8Array): Promise<PdfPage[]> {
  const library = await loadLibrary();
  const task = library.getDocument({
    data: new Uint8Array(bytes),
    ...{
      useSystemFonts: false,
      disableFontFace: true,
      useWorkerFetch: false,
      isOffscreenCanvasSupported: false,
    },
    ...{ isImageDecoderSupported: false, useWasm: false, maxImageSize: 1, verbosity: 0, stopAtErrors: false },
  });
  try {
    const file = await task.promise;
    if (file.numPages > MOST_PAGES)
      throw refusal('file-too-large', { how: 'pages', count: file.numPages, most: MOST_PAGES });
    const layers = await file.getOptionalContentConfig();
    const names = new Map(Object.entries(library.OPS).map(([name, number]) => [number, name]));
    const pages: PdfPage[] = [];
    let empty: Refusal | null = null;
    for (let number = 1; number <= file.numPages; number++) {
      const page = await file.getPage(number);
      const list = await page.getOperatorList({ annotationMode: library.AnnotationMode.DISABLE });
      const drawn: DrawnPage = {
        names,
        operators: list.fnArray,
        arguments: list.argsArray,
        box: page.view as unknown as DrawnPage['box'],
        turned: page.rotate,
        unit: page.userUnit,
        isShown: (layer) => layer === null || layers.isVisible(layer),
      };
      try {
        pages.push({ page: number, drawing: readPage(drawn) });
      } catch (error) {
        if (!(error instanceof Refusal)) throw error;
        // another page may hold the pattern
        empty ??= error;
      }
    }
    if (pages.length === 0) throw empty ?? refusal('sheet-empty', { how: 'no-line-found' });
    return pages;
  } catch (error) {
    throw refusalOf(error);
  } finally {
    await task.destroy();
  }
}

function refusalOf(error: unknown): unknown {
  if (error instanceof Refusal) return error;
  const name = error instanceof Error ? error.name : '';
  if (name === 'PasswordException') return unreadable({ how: 'pdf-locked' });
  return unreadable({ how: 'pdf-broken' });
}

async function loadLibrary() {
  const [library, worker] = await Promise.all([
    import('pdfjs-dist/legacy/build/pdf.mjs'),
    // @ts-expect-error it comes without types
    import('pdfjs-dist/legacy/build/pdf.worker.mjs'),
  ]);
  // so that it starts no worker of its own
  (globalThis as { pdfjsWorker?: unknown }).pdfjsWorker ??= worker;
  return library;
}
