/** Pictures of a pattern as drawings. Decoding them is the matter of whoever calls: a browser and a command line do it each its way. */
import { finding } from '../../finding/finding.ts';
import type { Drawing } from '../drawing/drawing.ts';
import { type Refusal, unreadable } from '../refusal.ts';
import type { Raster } from './raster.ts';
import { type PictureRefusal, type PictureReport, readPicture } from './read-picture.ts';

/** Pixels of a picture file; null where it cannot be decoded. */
export type DecodePicture = (bytes: Uint8Array) => Promise<Raster | null>;

/** What was read from a picture, and the picture. */
export interface PictureRead {
  readonly raster: Raster;
  readonly report: PictureReport;
}

/** Throws a Refusal for a picture that no pattern can be read from. */
export async function drawingOfPicture(
  bytes: Uint8Array,
  decode: DecodePicture,
): Promise<{ drawing: Drawing; picture: PictureRead }> {
  const raster = await decode(bytes);
  if (!raster) throw unreadable({ how: 'picture-undecoded' });
  const reading = readPicture(raster);
  if (reading.kind === 'refused') throw refusalOf(reading.why);
  const { drawing, report } = reading;
  const doubtful = report.lines.filter(({ doubts }) => doubts.length > 0).length;
  const values = { lines: report.lines.length, doubtful, unexplained: report.unexplained.length };
  const told = finding('picture-read', 'warning', values, { value: doubtful + values.unexplained });
  return { drawing: { ...drawing, findings: [...drawing.findings, told] }, picture: { raster, report } };
}

function refusalOf(why: PictureRefusal): Refusal {
  switch (why.how) {
    case 'crowded':
      return unreadable({ ...why, how: 'picture-crowded' });
    case 'blurred':
      return unreadable({ ...why, how: 'picture-blurred' });
    case 'coarse':
      return unreadable({ ...why, how: 'picture-coarse' });
    default:
      return unreadable({ how: 'picture-no-lines' });
  }
}
