import { Refusal } from './refusal.ts';

interface Decoder {
  decode(bytes: Uint8Array): string;
}

/** Browsers, workers and Node have them; the core's types do not know any of those. */
const { TextDecoder, TextEncoder } = globalThis as unknown as {
  TextEncoder: new () => { encode(text: string): Uint8Array<ArrayBuffer> };
  TextDecoder: new (label: string, options?: { fatal: boolean }) => Decoder;
};

/** Starts of well-known binary files, as text of one byte a letter, and what to do instead. */
const knownBinary: readonly (readonly [string, string])[] = [
  ['\x89PNG', 'a picture (PNG)'],
  ['\xff\xd8\xff', 'a picture (JPEG)'],
  ['GIF8', 'a picture (GIF)'],
  ['%PDF', 'a PDF'],
  ['PK\x03\x04', 'a ZIP archive'],
  ['\x1f\x8b', 'a compressed file (gzip)'],
  ['AC10', 'a DWG drawing'],
  ['AutoCAD Binary DXF', 'a binary DXF drawing'],
  ['glTF', 'a GLB model'],
];

/**
 * The text of a file: UTF-8, or UTF-16 where a byte order mark or zero bytes say so, or else one byte a letter
 * (older DXF). Throws a Refusal for empty and binary files that names what they look like.
 */
export function textOf(bytes: Uint8Array): string {
  if (bytes.length === 0)
    throw new Refusal('The file is empty: choose another file or save the drawing again.');
  const head = Array.from(bytes.subarray(0, 24), (byte) => String.fromCharCode(byte)).join('');
  const known = knownBinary.find(([start]) => head.startsWith(start));
  if (known) {
    throw new Refusal(
      `This file is ${known[1]}, which cannot be read: save the drawing as SVG, DXF or FOLD text.`,
    );
  }
  const wide = wideEncoding(bytes);
  if (wide) return withoutMark(new TextDecoder(wide).decode(bytes));
  if (bytes.subarray(0, 65536).includes(0)) {
    throw new Refusal('This file holds binary data and no text: save the drawing as SVG, DXF or FOLD text.');
  }
  try {
    return withoutMark(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return withoutMark(new TextDecoder('windows-1252').decode(bytes));
  }
}

/** A text as the bytes of a file, UTF-8. */
export const bytesOf = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);

function wideEncoding(bytes: Uint8Array): string | null {
  const [a, b, c, d] = bytes;
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  if (a !== 0 && b === 0 && c !== 0 && d === 0) return 'utf-16le';
  return a === 0 && b !== 0 && c === 0 && d !== 0 ? 'utf-16be' : null;
}

function withoutMark(text: string): string {
  return text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
}
