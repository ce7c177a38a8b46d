/** The lamp, and what it sees of the paper: what lies behind that is in the shade of the model itself. */
import {
  DepthTexture,
  FloatType,
  type Mesh,
  NearestFilter,
  OrthographicCamera,
  Scene,
  type ShaderMaterial,
  type WebGLRenderer,
  WebGLRenderTarget,
} from 'three';
import { depthMaterial } from './materials.ts';
import type { StageUniforms } from './uniforms.ts';

const LAMP_PIXELS = 1024;
/** How far off the lamp stands, sheet units. */
const AWAY = 3;

export class Lamp {
  private readonly camera = new OrthographicCamera(-1, 1, 1, -1, 0.5, 5.5);
  private readonly target = new WebGLRenderTarget(LAMP_PIXELS, LAMP_PIXELS, {
    minFilter: NearestFilter,
    magFilter: NearestFilter,
    depthTexture: new DepthTexture(LAMP_PIXELS, LAMP_PIXELS, FloatType),
  });
  private readonly depth;

  constructor(private readonly uniforms: StageUniforms) {
    this.depth = depthMaterial(uniforms);
    uniforms.lampDepth.value = this.target.depthTexture;
  }

  /** Turns it to a model of the given extent. */
  moveTo(x: number, y: number, extent: number): void {
    const { lampToward, lampMatrix } = this.uniforms;
    const { camera } = this;
    camera.position.set(x, y, 0).addScaledVector(lampToward.value, AWAY);
    aimAt(camera, x, y, extent * 0.72 + 0.12);
    lampMatrix.value.multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse);
  }

  update(renderer: WebGLRenderer, paper: Mesh): void {
    drawDepth(renderer, paper, this.depth, this.camera, this.target);
    renderer.setRenderTarget(null);
  }

  dispose(): void {
    this.target.dispose();
  }
}

/** Makes a camera look from where it stands at a place of the table and so far round it. */
export function aimAt(camera: OrthographicCamera, x: number, y: number, reach: number): void {
  camera.left = -reach;
  camera.right = reach;
  camera.top = reach;
  camera.bottom = -reach;
  camera.updateProjectionMatrix();
  camera.lookAt(x, y, 0);
  camera.updateMatrixWorld();
}

/** Draws the paper alone with a material that tells how far off it is. */
export function drawDepth(
  renderer: WebGLRenderer,
  paper: Mesh,
  material: ShaderMaterial,
  camera: OrthographicCamera,
  target: WebGLRenderTarget,
): void {
  const { material: usual, parent } = paper;
  parent?.updateMatrixWorld(true);
  paper.material = material;
  const scene = new Scene();
  scene.matrixWorldAutoUpdate = false;
  scene.children.push(paper);
  renderer.setClearColor(0, 1);
  renderer.setRenderTarget(target);
  renderer.clear();
  renderer.render(scene, camera);
  renderer.setClearColor(0, 0);
  paper.parent = parent;
  paper.material = usual;
}
