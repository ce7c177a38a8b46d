/** The lamp's view of the paper, and the soft shadow that the paper throws on the table. */
import {
  DepthTexture,
  FloatType,
  LinearFilter,
  Mesh,
  NearestFilter,
  OrthographicCamera,
  PlaneGeometry,
  Scene,
  type WebGLRenderer,
  WebGLRenderTarget,
} from 'three';
import { blurMaterial, depthMaterial, shared, tableMaterial } from './materials.ts';

const LAMP_PIXELS = 1024;
const TABLE_PIXELS = 256;

export class TableShadow {
  readonly table = new Mesh(new PlaneGeometry(1, 1), tableMaterial());
  private readonly lampCamera = new OrthographicCamera(-1, 1, 1, -1, 0.1, 8);
  private readonly underCamera = new OrthographicCamera(-1, 1, 1, -1, 0.01, 6);
  private readonly lampTarget = new WebGLRenderTarget(LAMP_PIXELS, LAMP_PIXELS, {
    minFilter: NearestFilter,
    magFilter: NearestFilter,
    depthTexture: new DepthTexture(LAMP_PIXELS, LAMP_PIXELS, FloatType),
  });
  private readonly near = tableTarget();
  private readonly spare = tableTarget();
  private readonly depth = depthMaterial();
  private readonly blur = blurMaterial();
  private readonly screen = new Mesh(new PlaneGeometry(2, 2), this.blur);
  private readonly screenScene = new Scene();
  private readonly flatCamera = new OrthographicCamera(-1, 1, 1, -1, 0, 1);
  private reach = 1;

  constructor() {
    this.screen.frustumCulled = false;
    this.screenScene.add(this.screen);
    this.table.renderOrder = -1;
    this.table.material.uniforms.shadow!.value = this.near.texture;
    this.underCamera.up.set(0, 1, 0);
    shared.lampDepth.value = this.lampTarget.depthTexture;
  }

  setDark(dark: boolean): void {
    this.table.material.uniforms.strength!.value = dark ? 0.8 : 0.42;
    this.table.material.uniforms.shadeColour!.value.setRGB(
      ...(dark ? ([0, 0, 0] as const) : ([0.15, 0.11, 0.07] as const)),
    );
  }

  /** Centres the lit part of the table under a model of the given extent. */
  moveTo(x: number, y: number, extent: number): void {
    this.reach = extent * 0.5 + 0.55;
    this.table.position.set(x, y, -0.004);
    this.table.scale.setScalar(2 * this.reach);
    const { lampCamera, underCamera } = this;
    underCamera.left = -this.reach;
    underCamera.right = this.reach;
    underCamera.top = this.reach;
    underCamera.bottom = -this.reach;
    underCamera.updateProjectionMatrix();
    // From above, so that the picture is not mirrored; the lowest paper wins by the material's own height.
    underCamera.position.set(x, y, 4);
    underCamera.lookAt(x, y, 0);
    underCamera.updateMatrixWorld();
    const wide = extent * 0.72 + 0.12;
    lampCamera.left = -wide;
    lampCamera.right = wide;
    lampCamera.top = wide;
    lampCamera.bottom = -wide;
    lampCamera.near = 0.5;
    lampCamera.far = 5.5;
    lampCamera.updateProjectionMatrix();
    lampCamera.position.set(x, y, 0).addScaledVector(shared.lampToward.value, 3);
    lampCamera.lookAt(x, y, 0);
    lampCamera.updateMatrixWorld();
    shared.lampMatrix.value.multiplyMatrices(lampCamera.projectionMatrix, lampCamera.matrixWorldInverse);
  }

  update(renderer: WebGLRenderer, paper: Mesh): void {
    const usual = paper.material;
    const matrix = paper.matrixWorld;
    paper.parent?.updateMatrixWorld(true);
    paper.material = this.depth;
    const scene = new Scene();
    scene.matrixWorldAutoUpdate = false;
    const parent = paper.parent;
    scene.children.push(paper);
    renderer.setClearColor(0, 1);
    renderer.setRenderTarget(this.lampTarget);
    renderer.clear();
    renderer.render(scene, this.lampCamera);
    renderer.setRenderTarget(this.near);
    renderer.clear();
    renderer.render(scene, this.underCamera);
    scene.children.length = 0;
    paper.parent = parent;
    paper.material = usual;
    paper.matrixWorld = matrix;
    for (const spread of [1.1, 1.8]) {
      this.pass(renderer, this.near, this.spare, spread / TABLE_PIXELS, 0);
      this.pass(renderer, this.spare, this.near, 0, spread / TABLE_PIXELS);
    }
    renderer.setRenderTarget(null);
    renderer.setClearColor(0, 0);
  }

  dispose(): void {
    for (const target of [this.lampTarget, this.near, this.spare]) target.dispose();
  }

  private pass(
    renderer: WebGLRenderer,
    from: WebGLRenderTarget,
    to: WebGLRenderTarget,
    x: number,
    y: number,
  ) {
    this.blur.uniforms.source!.value = from.texture;
    this.blur.uniforms.stride!.value.set(x, y);
    renderer.setRenderTarget(to);
    renderer.render(this.screenScene, this.flatCamera);
  }
}

function tableTarget(): WebGLRenderTarget {
  return new WebGLRenderTarget(TABLE_PIXELS, TABLE_PIXELS, {
    minFilter: LinearFilter,
    magFilter: LinearFilter,
    depthBuffer: true,
  });
}
