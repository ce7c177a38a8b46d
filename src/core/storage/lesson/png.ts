/** Is a PNG picture whole? By its chunks and their check sums; what they hold is left to who draws it. PNG, third edition. */
import type { PictureTrouble } from '../../finding/values/file.ts';

const broken: PictureTrouble = { how: 'broken' };

const SIGNATURE = [137, 80, 78, 71, 13, 10, 26, 10];
/** Pixels of the longer side: beyond it a small file could take all memory when it is drawn. */
const SIDE_LIMIT = 2000;
/** Length, name and check sum round the content of a chunk. */
const FRAME = 12;

/** What is wrong with the bytes of a PNG file; null where it is whole. */
export function pngTrouble(bytes: Uint8Array): PictureTrouble | null {
  if (!SIGNATURE.every((byte, k) => bytes[k] === byte)) return { how: 'no-png' };
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let at = SIGNATURE.length, first = true; at + FRAME <= bytes.length; first = false) {
    const length = view.getUint32(at);
    const end = at + FRAME + length;
    if (end > bytes.length) break;
    const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    if (checkSum(bytes.subarray(at + 4, end - 4)) !== view.getUint32(end - 4)) break;
    if (first !== (name === 'IHDR') || (first && length !== 13)) break;
    if (first && Math.max(view.getUint32(at + 8), view.getUint32(at + 12)) > SIDE_LIMIT)
      return { how: 'pixels', most: SIDE_LIMIT };
    if (name === 'IEND') return end === bytes.length ? null : broken;
    at = end;
  }
  return broken;
}

/** CRC-32 as PNG has it (polynomial 0xedb88320, bits reversed). */
export function checkSum(bytes: Uint8Array): number {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return (sum ^ 0xffffffff) >>> 0;
}
