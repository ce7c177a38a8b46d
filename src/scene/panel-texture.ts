/** Where each panel stands and how it looks, in a small texture that the shaders read: a new pose costs one upload. */
import { DataTexture, FloatType, NearestFilter, RGBAFormat } from 'three';
import type { Placement } from '../core/pose/place.ts';
import type { StageUniforms } from './uniforms.ts';

const PANELS_PER_ROW = 256;

/** Writes what of a panel changes beside its place: level, lit (0..1), bend in degrees, opacity, lift; from `at` on. */
type WriteLook = (panel: number, data: Float32Array, at: number) => void;

export class PanelTexture {
  private texture = emptyTexture(1);

  constructor(private readonly uniforms: StageUniforms) {
    uniforms.placementOf.value = this.texture;
  }

  /** Sends all panels. */
  take({ rotation, translation }: Placement, writeLook: WriteLook): void {
    const count = translation.length / 3;
    const data = this.roomFor(count);
    for (let p = 0; p < count; p++) {
      const at = 12 * p;
      for (let k = 0; k < 4; k++) data[at + k] = rotation[4 * p + k]!;
      for (let k = 0; k < 3; k++) data[at + 4 + k] = translation[3 * p + k]!;
      writeLook(p, data, at + 7);
    }
    this.texture.needsUpdate = true;
  }

  dispose(): void {
    this.texture.dispose();
  }

  private roomFor(panels: number): Float32Array {
    const rows = Math.ceil(panels / PANELS_PER_ROW);
    if (this.texture.image.height < rows) {
      this.texture.dispose();
      this.texture = emptyTexture(rows);
      this.uniforms.placementOf.value = this.texture;
    }
    return this.texture.image.data as Float32Array;
  }
}

function emptyTexture(rows: number): DataTexture {
  const width = PANELS_PER_ROW * 3;
  const texture = new DataTexture(new Float32Array(4 * width * rows), width, rows, RGBAFormat, FloatType);
  texture.magFilter = NearestFilter;
  texture.minFilter = NearestFilter;
  texture.needsUpdate = true;
  return texture;
}
