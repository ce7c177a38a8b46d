/** The soft shadow that the paper throws on the table. */
import {
  LinearFilter,
  Mesh,
  OrthographicCamera,
  PlaneGeometry,
  Scene,
  type WebGLRenderer,
  WebGLRenderTarget,
} from 'three';
import { aimAt, drawDepth } from './lamp.ts';
import { blurMaterial, depthMaterial, tableMaterial } from './materials.ts';
import type { StageUniforms } from './uniforms.ts';

const TABLE_PIXELS = 256;

export class TableShadow {
  readonly table = new Mesh(new PlaneGeometry(1, 1), tableMaterial());
  private readonly underCamera = new OrthographicCamera(-1, 1, 1, -1, 0.01, 6);
  private readonly near = tableTarget();
  private readonly spare = tableTarget();
  private readonly depth;
  private readonly blur = blurMaterial();
  private readonly screen = new Mesh(new PlaneGeometry(2, 2), this.blur);
  private readonly screenScene = new Scene();
  private readonly flatCamera = new OrthographicCamera(-1, 1, 1, -1, 0, 1);

  constructor(uniforms: StageUniforms) {
    this.depth = depthMaterial(uniforms);
    this.screen.frustumCulled = false;
    this.screenScene.add(this.screen);
    this.table.renderOrder = -1;
    this.table.material.uniforms.shadow!.value = this.near.texture;
    this.underCamera.up.set(0, 1, 0);
  }

  setDark(dark: boolean): void {
    this.table.material.uniforms.strength!.value = dark ? 0.8 : 0.42;
    this.table.material.uniforms.shadeColour!.value.setRGB(
      ...(dark ? ([0, 0, 0] as const) : ([0.15, 0.11, 0.07] as const)),
    );
  }

  /** Centres the shaded part of the table under a model of the given extent. */
  moveTo(x: number, y: number, extent: number): void {
    const reach = extent * 0.5 + 0.55;
    this.table.position.set(x, y, -0.004);
    this.table.scale.setScalar(2 * reach);
    // From above, so that the picture is not mirrored; the lowest paper wins by the material's own height.
    this.underCamera.position.set(x, y, 4);
    aimAt(this.underCamera, x, y, reach);
  }

  update(renderer: WebGLRenderer, paper: Mesh): void {
    drawDepth(renderer, paper, this.depth, this.underCamera, this.near);
    for (const spread of [1.1, 1.8]) {
      this.pass(renderer, this.near, this.spare, spread / TABLE_PIXELS, 0);
      this.pass(renderer, this.spare, this.near, 0, spread / TABLE_PIXELS);
    }
    renderer.setRenderTarget(null);
  }

  dispose(): void {
    for (const target of [this.near, this.spare]) target.dispose();
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
