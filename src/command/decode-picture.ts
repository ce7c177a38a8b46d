/** Pictures on the command line: PNG and JPEG. */
import type { Raster } from '../core/picture/raster.ts';

/** Null for what cannot be decoded, WebP among it. */
export async function decodePicture(bytes: Uint8Array): Promise<Raster | null> {
  try {
    if (bytes[0] === 0x89) {
      const { PNG } = await import('pngjs');
      const { width, height, data } = PNG.sync.read(Buffer.from(bytes));
      return { width, height, data: new Uint8ClampedArray(data) };
    }
    const { decode } = await import('jpeg-js');
    const { width, height, data } = decode(bytes, { useTArray: true, maxMemoryUsageInMB: 1024 });
    return { width, height, data: new Uint8ClampedArray(data) };
  } catch {
    return null;
  }
}
