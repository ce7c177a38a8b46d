/** Small pictures of poses on no ground, drawn beside the stage: what it shows is not touched. */
import {
  BufferGeometry,
  Group,
  Mesh,
  PerspectiveCamera,
  Vector3,
  type WebGLRenderer,
  WebGLRenderTarget,
} from 'three';
import type { Seen } from '../core/lesson/seen.ts';
import { towards } from './camera-rig.ts';
import { type Box, extentOf, onTable, turnOf } from './frame.ts';
import { Lamp } from './lamp.ts';
import { type ModelLook, otherSideUp, takeLook } from './look.ts';
import { creaseMaterial, paperMaterial } from './materials.ts';
import { noVeils, PoseBuffers, type ShownPose } from './pose-buffers.ts';
import { drawnThickness, setSpacing } from './spacing.ts';
import { stageUniforms } from './uniforms.ts';

/** Opening of the camera, degrees. */
const OPENING = 18;
/** Lines are drawn with so much of the width that they have on the stage. */
const FINENESS = 0.62;
/** Pictures come in the order of steps, and neighbours share their sheet. */
const SHEETS_KEPT = 4;

export interface PictureWish {
  readonly width: number;
  readonly height: number;
  /** How the model lies before its reader. */
  readonly seen: Seen;
  /** The paper began with its other side up. */
  readonly otherSideUp: boolean;
}

export class Portrait {
  private readonly uniforms = stageUniforms();
  private readonly buffers = new PoseBuffers(this.uniforms, SHEETS_KEPT);
  private readonly group = new Group();
  private readonly paper = new Mesh(new BufferGeometry(), paperMaterial(this.uniforms, 'solid'));
  private readonly lines = new Mesh(new BufferGeometry(), creaseMaterial(this.uniforms, 'open'));
  private readonly lamp = new Lamp(this.uniforms);

  constructor() {
    this.group.matrixAutoUpdate = false;
    [this.paper, this.lines].forEach((mesh, order) => {
      mesh.frustumCulled = false;
      mesh.renderOrder = order + 1;
      this.group.add(mesh);
    });
  }

  /** @returns the picture as a data URL; null where the graphics card let go of it */
  async take(
    renderer: WebGLRenderer,
    pose: ShownPose,
    look: ModelLook,
    wish: PictureWish,
  ): Promise<string | null> {
    const { width, height } = wish;
    takeLook(this.uniforms, wish.otherSideUp ? otherSideUp(look) : look);
    this.show(pose);
    const camera = this.aim(look, wish);
    this.lamp.update(renderer, this.paper);
    const target = new WebGLRenderTarget(width, height, { samples: 4 });
    renderer.setRenderTarget(target);
    renderer.setClearColor(0, 0);
    renderer.clear();
    renderer.render(this.group, camera);
    renderer.setRenderTarget(null);
    const pixels = new Uint8Array(width * height * 4);
    try {
      await renderer.readRenderTargetPixelsAsync(target, 0, 0, width, height, pixels);
    } catch {
      // the graphics card let go of the picture while it was read
      return null;
    } finally {
      target.dispose();
    }
    return toDataUrl(pixels, width, height);
  }

  dispose(): void {
    this.buffers.dispose();
    this.lamp.dispose();
  }

  /** The graphics context is gone, and all buffers with it. */
  forget(): void {
    this.buffers.forget();
  }

  private show(pose: ShownPose): void {
    this.buffers.take(pose, null);
    const { paper, lines } = this.buffers.drawn;
    this.paper.geometry = paper;
    this.lines.geometry = lines;
    this.buffers.sendPens();
    this.buffers.send(noVeils);
  }

  /** The camera stands as far off as the model is large, and layers as far apart as it sees from there. */
  private aim({ thickness, sheetSize }: ModelLook, { width, height, seen }: PictureWish): PerspectiveCamera {
    this.uniforms.pixelsPerUnit.value = (height / (2 * Math.tan((OPENING * Math.PI) / 360))) * FINENESS;
    setSpacing(this.uniforms, thickness / sheetSize, 0);
    const { low, high } = this.place(seen);
    const away = cameraFor({ low, high }, width / height).position.distanceTo(
      low.add(high).multiplyScalar(0.5),
    );
    const { deepest } = this.buffers;
    setSpacing(this.uniforms, drawnThickness(this.uniforms, away, thickness / sheetSize, deepest), 0);
    return cameraFor(this.place(seen), width / height);
  }

  private place(seen: Seen): Box {
    const { matrix, box } = onTable(this.buffers.framed(this.uniforms.spacing.value), turnOf(seen));
    this.group.matrix.copy(matrix);
    this.group.matrixWorldNeedsUpdate = true;
    this.lamp.moveTo((box.low.x + box.high.x) / 2, (box.low.y + box.high.y) / 2, extentOf(box));
    return box;
  }
}

/** A camera for a model that fills the given box. */
function cameraFor({ low, high }: Box, aspect: number): PerspectiveCamera {
  const camera = new PerspectiveCamera(OPENING, aspect, 0.3, 30);
  camera.up.set(0, 0, 1);
  const middle = new Vector3((low.x + high.x) / 2, (low.y + high.y) / 2, (high.z - low.z) / 2);
  const radius = Math.max(0.1, high.distanceTo(low) / 2);
  const distance = (radius * 0.92) / Math.sin((OPENING * Math.PI) / 360) / Math.min(1, aspect);
  camera.position.copy(middle).addScaledVector(towards(0.5, 0.95), distance);
  camera.lookAt(middle);
  camera.updateMatrixWorld();
  return camera;
}

function toDataUrl(pixels: Uint8Array, width: number, height: number): string {
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const context = canvas.getContext('2d')!;
  const image = context.createImageData(width, height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const from = 4 * ((height - 1 - y) * width + x);
      const to = 4 * (y * width + x);
      const alpha = pixels[from + 3]!;
      for (let k = 0; k < 3; k++)
        image.data[to + k] = alpha > 0 ? Math.min(255, (pixels[from + k]! * 255) / alpha) : 0;
      image.data[to + 3] = alpha;
    }
  context.putImageData(image, 0, 0);
  return canvas.toDataURL();
}
