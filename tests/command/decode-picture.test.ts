/** Files made by pngjs and jpeg-js; the marks of other kinds from their specifications. */
import jpeg from 'jpeg-js';
import { PNG } from 'pngjs';
import { expect, test } from 'vitest';
import { decodePicture, pictureKind } from '../../src/command/decode-picture.ts';

test('a PNG file comes back, what is seen through laid on white', () => {
  const png = new PNG({ width: 2, height: 1 });
  png.data = Buffer.from([10, 20, 30, 255, 0, 0, 0, 0]);
  const decoded = decodePicture(new Uint8Array(PNG.sync.write(png)));
  if (decoded.kind !== 'decoded') throw new Error(decoded.kind);
  expect([...decoded.raster.data]).toEqual([10, 20, 30, 255, 255, 255, 255, 255]);
});

test('a JPEG file comes back nearly', () => {
  const data = new Uint8Array(4 * 64).fill(200);
  const { data: packed } = jpeg.encode({ width: 8, height: 8, data }, 90);
  const decoded = decodePicture(new Uint8Array(packed));
  if (decoded.kind !== 'decoded') throw new Error(decoded.kind);
  expect([decoded.raster.width, decoded.raster.height]).toEqual([8, 8]);
  expect(Math.abs(decoded.raster.data[0]! - 200)).toBeLessThan(4);
});

test('WebP and GIF are told by name, a cut-off file as broken', () => {
  const bytes = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  expect(decodePicture(bytes('RIFF\x10\x00\x00\x00WEBPVP8 '))).toEqual({ kind: 'unknown', of: 'webp' });
  expect(decodePicture(bytes('GIF89a'))).toEqual({ kind: 'unknown', of: 'gif' });
  expect(pictureKind(bytes('<svg/>'))).toBeNull();
  expect(decodePicture(bytes('\x89PNG\r\n\x1a\nabc')).kind).toBe('broken');
});
