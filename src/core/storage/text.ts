import type { BinaryKind } from '../finding/values/file.ts';
import { unreadable } from './refusal.ts';

interface Decoder {
  decode(bytes: Uint8Array): string;
}

/** Browsers, workers and Node have them; the core's types do not know any of those. */
const { TextDecoder, TextEncoder } = globalThis as unknown as {
  TextEncoder: new () => { encode(text: string): Uint8Array<ArrayBuffer> };
  TextDecoder: new (label: string, options?: { fatal: boolean }) => Decoder;
};

/** Starts of well-known binary files, as text of one byte a letter. */
const knownBinary: readonly (readonly [string, BinaryKind])[] = [
  ['\x89PNG', 'png'],
  ['\xff\xd8\xff', 'jpeg'],
  ['GIF8', 'gif'],
  ['%PDF', 'pdf'],
  ['PK\x03\x04', 'zip'],
  ['\x1f\x8b', 'gzip'],
  ['AC10', 'dwg'],
  ['AutoCAD Binary DXF', 'binary-dxf'],
  ['glTF', 'glb'],
];

/**
 * The text of a file: UTF-8, or UTF-16 where a byte order mark or zero bytes say so, or else one byte a letter
 * (older DXF). Throws a Refusal for empty and binary files that names what they look like.
 */
export function textOf(bytes: Uint8Array): string {
  if (bytes.length === 0) throw unreadable({ how: 'empty' });
  const head = Array.from(bytes.subarray(0, 24), (byte) => String.fromCharCode(byte)).join('');
  const known = knownBinary.find(([start]) => head.startsWith(start));
  if (known) throw unreadable({ how: 'binary-known', what: known[1] });
  const wide = wideEncoding(bytes);
  if (wide) return withoutMark(new TextDecoder(wide).decode(bytes));
  if (bytes.subarray(0, 65536).includes(0)) throw unreadable({ how: 'binary' });
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
