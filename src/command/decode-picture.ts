/** Pictures decoded without a browser: PNG and JPEG, told by their first bytes. */
import jpeg from 'jpeg-js';
import { PNG } from 'pngjs';
import type { Raster } from '../core/storage/picture/raster.ts';

type PictureKind = 'png' | 'jpeg' | 'webp' | 'gif';

/** Most megapixels, and megabytes of memory, that a picture may ask for. */
const MOST_MEGAPIXELS = 100;
const MOST_MEGABYTES = 1024;

/** What kind of picture the bytes begin as (PNG 5.2, JPEG B.1.1.3, RIFF container, GIF87a and GIF89a); null for none. */
export function pictureKind(bytes: Uint8Array): PictureKind | null {
  const text = String.fromCharCode(...bytes.subarray(0, 12));
  if (text.startsWith('\x89PNG\r\n\x1a\n')) return 'png';
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return 'jpeg';
  if (text.startsWith('RIFF') && text.slice(8) === 'WEBP') return 'webp';
  return /^GIF8[79]a/.test(text) ? 'gif' : null;
}

type Decoded =
  | { readonly kind: 'decoded'; readonly raster: Raster }
  /** `unknown`: a kind that is decoded in a browser only, or none at all; `broken`: it says `said` of itself */
  | { readonly kind: 'unknown'; readonly of: PictureKind | null }
  | { readonly kind: 'broken'; readonly of: PictureKind; readonly said: string };

/** Decodes a PNG or JPEG file; what is seen through is laid on white. Never throws. */
export function decodePicture(bytes: Uint8Array): Decoded {
  const kind = pictureKind(bytes);
  if (kind !== 'png' && kind !== 'jpeg') return { kind: 'unknown', of: kind };
  try {
    return { kind: 'decoded', raster: kind === 'png' ? pngRaster(bytes) : jpegRaster(bytes) };
  } catch (error) {
    return { kind: 'broken', of: kind, said: error instanceof Error ? error.message : String(error) };
  }
}

function pngRaster(bytes: Uint8Array): Raster {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  // width and height stand in the first chunk
  if (view.getUint32(16) * view.getUint32(20) > MOST_MEGAPIXELS * 1e6)
    throw new Error(`more than ${MOST_MEGAPIXELS} megapixels`);
  const { width, height, data } = PNG.sync.read(Buffer.from(bytes));
  const laid = new Uint8ClampedArray(data);
  for (let at = 0; at < laid.length; at += 4) {
    const share = laid[at + 3]! / 255;
    for (let k = 0; k < 3; k++) laid[at + k] = 255 - share * (255 - laid[at + k]!);
    laid[at + 3] = 255;
  }
  return { width, height, data: laid };
}

function jpegRaster(bytes: Uint8Array): Raster {
  const { width, height, data } = jpeg.decode(bytes, {
    ...{ useTArray: true, formatAsRGBA: true },
    ...{ maxResolutionInMP: MOST_MEGAPIXELS, maxMemoryUsageInMB: MOST_MEGABYTES },
  });
  return { width, height, data: new Uint8ClampedArray(data) };
}
