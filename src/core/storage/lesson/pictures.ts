/**
 * Small pictures of the steps that a lesson file may carry, so that a shelf can show it before it was folded. They are
 * no part of the lesson: nothing is computed from them, and they are drawn anew once the lesson has been folded.
 */
import { type Finding, finding } from '../../finding/finding.ts';
import type { PictureTrouble } from '../../finding/values/file.ts';
import type { FindingValues } from '../../finding/values.ts';
import { pngTrouble } from './png.ts';

/** One for each step, as `data:image/png;base64,...`; null where there is none. */
export type LessonPictures = readonly (string | null)[];

/** Letters of all pictures of a file together. */
export const PICTURES_LIMIT = 500_000;

const START = 'data:image/png;base64,';

/** Pictures that fit into a file: that of the finished model first, then from the first step on. */
export function picturesThatFit(pictures: LessonPictures): LessonPictures {
  const last = pictures.findLastIndex((one) => one !== null);
  const order = [last, ...pictures.keys()].filter((k, place, all) => k >= 0 && all.indexOf(k) === place);
  const kept = new Set<number>();
  let letters = 0;
  for (const k of order) {
    letters += pictures[k]?.length ?? 0;
    if (letters > PICTURES_LIMIT) break;
    kept.add(k);
  }
  return pictures.map((one, k) => (kept.has(k) ? one : null));
}

/** Reads the pictures of a lesson file; those that cannot be shown are left out, and said once each kind. */
export function readPictures(
  { pictures }: Readonly<Record<string, unknown>>,
  steps: number,
): { pictures: LessonPictures | null; findings: Finding[] } {
  if (pictures === undefined) return { pictures: null, findings: [] };
  if (!Array.isArray(pictures)) return { pictures: null, findings: [leftOut({ how: 'no-list' })] };
  const findings: Finding[] = [];
  const sound = pictures.slice(0, steps).map((one: unknown, k): string | null => {
    if (one === null) return null;
    const trouble = troubleOf(one);
    if (trouble) findings.push(leftOut({ how: 'of-step', step: k, trouble }));
    return trouble ? null : (one as string);
  });
  const fitting = picturesThatFit(sound);
  if (fitting.some((one, k) => one !== sound[k]))
    findings.push(leftOut({ how: 'too-many', most: PICTURES_LIMIT / 1000 }));
  return { pictures: fitting, findings };
}

function troubleOf(picture: unknown): PictureTrouble | null {
  if (typeof picture !== 'string' || !picture.startsWith(START)) return { how: 'no-png' };
  if (picture.length > PICTURES_LIMIT) return { how: 'kilobytes', most: PICTURES_LIMIT / 1000 };
  const bytes = bytesOfBase64(picture.slice(START.length));
  return bytes ? pngTrouble(bytes) : { how: 'broken' };
}

const leftOut = (why: FindingValues['picture-left-out']) => finding('picture-left-out', 'note', why);

/** Browsers, workers and Node have it; the core's types do not know any of them. */
const { atob } = globalThis as unknown as { atob: (text: string) => string };

function bytesOfBase64(text: string): Uint8Array | null {
  try {
    return Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  } catch {
    return null;
  }
}
