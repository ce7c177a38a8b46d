/** What the shader programs of one stage are told. Each stage has its own, so that two on a page do not disturb each other. */
import { Color, Matrix4, type Texture, Vector3, Vector4 } from 'three';

export type StageUniforms = ReturnType<typeof stageUniforms>;

const black = () => new Color(0, 0, 0);

/** One object for each uniform: all programs of a stage hold the same, so that a change reaches all of them. */
export function stageUniforms() {
  return {
    placementOf: { value: null as Texture | null },
    spacing: { value: 5e-4 },
    lineLift: { value: 1.5e-4 },
    seamOpacity: { value: 1 },
    cutPlane: { value: new Vector4(0, 0, 0, 1) },
    lampToward: { value: new Vector3(-0.42, -0.5, 0.82).normalize() },
    lampMatrix: { value: new Matrix4() },
    lampDepth: { value: null as Texture | null },
    roomLight: { value: 0.62 },
    accent: { value: black() },
    upColour: { value: black() },
    downColour: { value: black() },
    hatchColour: { value: black() },
    sheetSize: { value: 200 },
    inkUp: { value: Array.from({ length: 6 }, black) },
    inkDown: { value: Array.from({ length: 6 }, black) },
    inkGlass: { value: Array.from({ length: 6 }, black) },
    ground: { value: black() },
    pixelsPerUnit: { value: 1000 },
    dashScale: { value: 1 },
  };
}
