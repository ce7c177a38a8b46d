/** Pictures in a browser's worker: whatever the browser decodes. */
import type { Raster } from '../core/storage/picture/raster.ts';

/** Larger pictures are decoded smaller, pixels. */
const MOST_PIXELS = 24_000_000;

/** Null for what cannot be decoded. */
export async function decodePicture(bytes: Uint8Array): Promise<Raster | null> {
  try {
    const whole = await createImageBitmap(new Blob([bytes as Uint8Array<ArrayBuffer>]));
    const share = Math.min(1, Math.sqrt(MOST_PIXELS / (whole.width * whole.height)));
    const [width, height] = [Math.round(whole.width * share), Math.round(whole.height * share)];
    const pen = new OffscreenCanvas(width, height).getContext('2d');
    if (!pen) return null;
    // what is clear in it lies on white paper
    pen.fillStyle = '#ffffff';
    pen.fillRect(0, 0, width, height);
    pen.drawImage(whole, 0, 0, width, height);
    whole.close();
    return { width, height, data: pen.getImageData(0, 0, width, height).data };
  } catch {
    return null;
  }
}
