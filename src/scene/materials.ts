/** Shader programs of the scene, put together from the files in shaders/. */
import { Color, DoubleSide, NormalBlending, ShaderMaterial, type Texture, Vector2 } from 'three';
import blurFrag from '../../shaders/blur.frag.glsl?raw';
import capFrag from '../../shaders/cap.frag.glsl?raw';
import capVert from '../../shaders/cap.vert.glsl?raw';
import creaseFrag from '../../shaders/crease.frag.glsl?raw';
import creaseVert from '../../shaders/crease.vert.glsl?raw';
import depthFrag from '../../shaders/depth.frag.glsl?raw';
import depthVert from '../../shaders/depth.vert.glsl?raw';
import light from '../../shaders/light.glsl?raw';
import paperFrag from '../../shaders/paper.frag.glsl?raw';
import paperVert from '../../shaders/paper.vert.glsl?raw';
import placement from '../../shaders/placement.glsl?raw';
import screenVert from '../../shaders/screen.vert.glsl?raw';
import tableFrag from '../../shaders/table.frag.glsl?raw';
import tableVert from '../../shaders/table.vert.glsl?raw';
import type { StageUniforms } from './uniforms.ts';

/**
 * The two-sided paper. `glass` draws what is seen through: faint, and always in one order, so that a small turn of the
 * eye changes nothing but places; `veil` gives the same paper's depth alone, so that lines behind it can be told.
 */
export function paperMaterial(stage: StageUniforms, kind: 'solid' | 'glass' | 'veil'): ShaderMaterial {
  const solid = kind === 'solid';
  return new ShaderMaterial({
    vertexShader: placement + paperVert,
    fragmentShader: light + paperFrag,
    side: DoubleSide,
    transparent: !solid,
    depthWrite: kind !== 'glass',
    colorWrite: kind !== 'veil',
    defines: solid ? {} : kind === 'glass' ? { GLASS: '' } : { GLASS: '', VEIL: '' },
    uniforms: { ...stage },
  });
}

/** Width of the strip of the table's colour beside a line on glass, pixels. */
const GLASS_RIM = '1.8';

/** Crease lines and raw edges; `hidden` dots those that lie behind something. */
export function creaseMaterial(stage: StageUniforms, kind: 'open' | 'hidden'): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader: placement + creaseVert,
    fragmentShader: light + creaseFrag,
    side: DoubleSide,
    transparent: true,
    depthWrite: false,
    blending: NormalBlending,
    defines: { GLASS_RIM, ...(kind === 'hidden' && { HIDDEN: '' }) },
    uniforms: { ...stage },
  });
}

/** Paper where the slice cuts it. */
export function capMaterial(stage: StageUniforms): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader: placement + capVert,
    fragmentShader: capFrag,
    side: DoubleSide,
    transparent: true,
    depthWrite: false,
    uniforms: { ...stage, capWidth: { value: 2.8 }, rimColour: { value: new Color(0, 0, 0) } },
  });
}

/** Depth from the lamp, and height over the table. */
export function depthMaterial(stage: StageUniforms): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader: placement + depthVert,
    fragmentShader: depthFrag,
    side: DoubleSide,
    uniforms: { ...stage },
  });
}

export function blurMaterial(): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader: screenVert,
    fragmentShader: blurFrag,
    depthTest: false,
    depthWrite: false,
    uniforms: { source: { value: null as Texture | null }, stride: { value: new Vector2() } },
  });
}

/** The table shows nothing but the shadow that lies on it. */
export function tableMaterial(): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader: tableVert,
    fragmentShader: tableFrag,
    transparent: true,
    depthWrite: false,
    premultipliedAlpha: true,
    uniforms: {
      shadow: { value: null as Texture | null },
      shadeColour: { value: new Color(0.13, 0.1, 0.07) },
      strength: { value: 0.42 },
    },
  });
}
