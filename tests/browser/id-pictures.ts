/**
 * Pictures of the page's own stage in which every panel has a colour that names it. The stage stays as it is, with its
 * poses, its levels and its eye; the paper's shader alone is told to give another colour, and all that is no paper is left
 * out. The canvas carries its stage for tests.
 */
import type { Page } from '@playwright/test';
import type { EyePlace } from '../../src/core/lesson/eye.ts';
import type { Placement } from '../../src/core/pose/place.ts';
import type { ModelStage } from '../../src/scene/stage.ts';
import type { Pinhole, RasterTriangle } from '../oracles/raster.ts';

type Canvas = HTMLCanvasElement & { stage: ModelStage };

/** One picture, with what the stage says of it. */
export interface IdPicture {
  readonly pinhole: Pinhole;
  readonly triangles: readonly RasterTriangle[];
  readonly width: number;
  readonly height: number;
  /** Of every so many pixels, across and down, the uppermost row first: the panel; NOTHING, or MIXED. */
  readonly panel: readonly (readonly number[])[];
}

export interface IdMoment {
  readonly placement: Placement;
  readonly pictures: readonly IdPicture[];
}

/** No paper is to be seen there. */
export const NOTHING = -1;
/** The seam between two layers, or colours mixed at an edge: it is no panel's. */
export const MIXED = -2;

/** From now on the paper is drawn in colours that name its panels. */
export async function nameByColour(page: Page): Promise<void> {
  await page.getByTestId('model-canvas').evaluate((canvas) => {
    const { group, shadow } = (canvas as Canvas).stage;
    const replaced = (text: string, part: string, by: string) => {
      if (text.split(part).length !== 2) throw new Error(`the shader has not one "${part}"`);
      return text.replace(part, by);
    };
    const [paper, ...others] = group.children as unknown as {
      visible: boolean;
      material: { vertexShader: string; fragmentShader: string; needsUpdate: boolean };
    }[];
    for (const one of [...others, shadow.table]) one.visible = false;
    const { material } = paper!;
    material.vertexShader = replaced(
      material.vertexShader,
      'void main() {',
      'varying float vPanel;\nvoid main() {\nvPanel = panel;',
    );
    // a second number made from the first shows where an edge has mixed two colours
    const name = 'float n = floor(vPanel + 1.5);\nvec2 named = vec2(n, mod(n * n, 251.0));';
    material.fragmentShader = replaced(
      replaced(material.fragmentShader, 'void main() {', 'varying float vPanel;\nvoid main() {'),
      'gl_FragColor = vec4(toScreen(seen), vMarks.z);',
      `${name}\ngl_FragColor = vec4((vSeam > 0.5 ? vec2(255.0) : named) / 255.0, 1.0, 1.0);`,
    );
    material.needsUpdate = true;
  });
}

/**
 * What the stage shows now, from the given places of the eye.
 * @param every so many pixels are read, across and down
 * @param as `stiff`: no panel is bent aside
 */
export const takeIdPictures = (
  page: Page,
  eyes: readonly EyePlace[],
  every: number,
  as: 'drawn' | 'stiff' = 'drawn',
): Promise<IdMoment> =>
  page.getByTestId('model-canvas').evaluate(
    (canvas, { eyes, every, as, NOTHING, MIXED }) => {
      const { stage } = canvas as Canvas;
      const { renderer } = stage as unknown as { renderer: Parameters<ModelStage['draw']>[0] };
      const { width, height } = stage.extent;
      type Place = readonly [number, number, number];
      const trianglesNow = () => {
        const { leaves, mesh } = stage.drawnLeaves!;
        return leaves.leaves.flatMap(({ panel }, leaf) => {
          const corner = (k: number): Place => stage.placeOf(leaf, mesh.flat[2 * k]!, mesh.flat[2 * k + 1]!);
          const found: { id: number; corners: [Place, Place, Place] }[] = [];
          for (let t = mesh.firstTriangle[leaf]!; t < mesh.firstTriangle[leaf + 1]!; t++) {
            const [a, b, c] = mesh.triangles.subarray(3 * t, 3 * t + 3);
            found.push({ id: panel, corners: [corner(a!), corner(b!), corner(c!)] });
          }
          return found;
        });
      };
      const pinholeNow = () => {
        const like: Place = stage.placeOf(0, 0.5, 0.5);
        const [corner, right, low] = [
          stage.fromScreen(0, 0, like),
          stage.fromScreen(width, 0, like),
          stage.fromScreen(0, height, like),
        ];
        const part = (to: Place, by: number): Place => [
          (to[0] - corner[0]) / by,
          (to[1] - corner[1]) / by,
          (to[2] - corner[2]) / by,
        ];
        return { eye: stage.eye, corner, across: part(right, width), down: part(low, height) };
      };
      const panelOf = (data: Uint8Array, at: number) => {
        const [n, check] = [data[at]!, data[at + 1]!];
        if (data[at + 3] === 0) return NOTHING;
        return n > 0 && n < 255 && check === (n * n) % 251 && data[at + 2] === 255 ? n - 1 : MIXED;
      };
      const take = (eye: EyePlace) => {
        stage.flyTo(eye, false);
        stage.draw(renderer, stage.group.parent as never, 0);
        const gl = renderer.getContext();
        const [across, up] = [gl.drawingBufferWidth, gl.drawingBufferHeight];
        if (across !== width || up !== height)
          throw new Error('a pixel of the screen is no pixel of the canvas');
        const data = new Uint8Array(4 * width * height);
        gl.readPixels(0, 0, width, height, gl.RGBA, gl.UNSIGNED_BYTE, data);
        const panel = Array.from({ length: Math.floor(height / every) }, (_, row) =>
          Array.from({ length: Math.floor(width / every) }, (__, column) =>
            panelOf(data, 4 * ((height - 1 - row * every) * width + column * every)),
          ),
        );
        return { pinhole: pinholeNow(), triangles: trianglesNow(), width, height, panel };
      };
      if (as === 'stiff') stage.showPose({ ...stage.shown!, aside: null });
      const { rotation, translation } = stage.shown!.placement;
      return {
        placement: { rotation: [...rotation], translation: [...translation] } as never as Placement,
        pictures: eyes.map(take),
      };
    },
    { eyes, every, as, NOTHING, MIXED },
  );
