/** The colours of paper, lines and light. */
import type { Color } from 'three';
import type { StageUniforms } from './uniforms.ts';

/** Colours as #rrggbb; inks in the order of `lineKinds`. */
export interface ModelLook {
  readonly up: string;
  readonly down: string;
  readonly inkUp: readonly string[];
  readonly inkDown: readonly string[];
  /** Inks on paper that is seen through, which lie on the table rather. */
  readonly inkGlass: readonly string[];
  /** Of the table. */
  readonly ground: string;
  readonly accent: string;
  readonly dark: boolean;
  readonly sheetSize: number;
  /** Of the paper, mm. */
  readonly thickness: number;
}

/** The same with the colours of the two sides exchanged. */
export function otherSideUp(look: ModelLook): ModelLook {
  const { up, down, inkUp, inkDown } = look;
  return { ...look, up: down, down: up, inkUp: inkDown, inkDown: inkUp };
}

export function takeLook(uniforms: StageUniforms, look: ModelLook): void {
  setColour(uniforms.upColour.value, look.up);
  setColour(uniforms.downColour.value, look.down);
  setColour(uniforms.ground.value, look.ground);
  setColour(uniforms.accent.value, look.accent);
  setColour(uniforms.hatchColour.value, look.dark ? '#d9822b' : '#b4470f');
  for (const side of ['inkUp', 'inkDown', 'inkGlass'] as const)
    look[side].forEach((ink, kind) => {
      setColour(uniforms[side].value[kind]!, ink);
    });
  uniforms.sheetSize.value = look.sheetSize;
  uniforms.roomLight.value = look.dark ? 0.7 : 0.74;
}

/** As the numbers stand: the shaders do their own conversion. */
export function setColour(colour: Color, hex: string): void {
  const value = Number.parseInt(hex.slice(1), 16);
  colour.setRGB((value >> 16) / 255, ((value >> 8) & 255) / 255, (value & 255) / 255);
}
