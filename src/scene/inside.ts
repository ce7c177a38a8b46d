/** What of the model is seen through, lifted off, pulled apart or cut away, and how it eases there. */
import type { Space } from '../core/numeric/vector.ts';
import type { Caps } from './drawn-leaves.ts';
import type { Veil } from './pose-buffers.ts';
import type { StageUniforms } from './uniforms.ts';

export interface InsideLook {
  /** 0: layers lie a thickness of paper apart; 1: pulled apart as far as they go. */
  readonly fan: number;
  /** Panels that are seen through or lifted off. */
  readonly veiled: ReadonlyMap<number, Veil>;
  /** The plane of the slice, in the model's frame; the half toward the eye is taken away, unless both halves stay. */
  readonly cut: {
    readonly normal: Space;
    readonly offset: number;
    readonly caps: Caps;
    readonly bothStay: boolean;
  } | null;
  /** Dotted edges where a layer hides another. */
  readonly dotted: boolean;
}

/** The deepest stack, pulled apart, stands so high at most, and two layers so far apart, sheet units. */
const FAN_HEIGHT = 0.34;
const FAN_STEP = 0.075;
/** Paper that would be stretched between layers pulled apart is shown faintly. */
const SEAM_OPACITY = 0.26;
/** Seconds in which what is pulled apart or lifted covers most of its way. */
const EASE_SECONDS = 0.16;
/** What is nearer than this to what is wished is there. */
const THERE = 2e-3;

const solid: Veil = { opacity: 1, lift: 0 };

export class Inside {
  look: InsideLook = { fan: 0, veiled: new Map(), cut: null, dotted: false };
  /** Something is still on its way to what is wished. */
  easing = false;
  readonly veils = new Map<number, Veil>();
  private fan = 0;

  constructor(private readonly uniforms: StageUniforms) {}

  /** Brings what is wished nearer, as far as the time goes. @param atRest of paper on the move layers keep together */
  ease(seconds: number, atRest: boolean): void {
    this.bring(1 - Math.exp(-Math.min(seconds, 0.3) / EASE_SECONDS), atRest);
  }

  /** All is as wished at once. */
  arrive(atRest: boolean): void {
    this.bring(1, atRest);
  }

  get isSeenThrough(): boolean {
    return this.fan > 0.01 || [...this.veils.values()].some(({ opacity }) => opacity < 0.999);
  }

  /** Is paper wished to be glass? */
  get isGlassy(): boolean {
    return [...this.look.veiled.values()].some(({ opacity }) => opacity > 0 && opacity < 1);
  }

  /** How far the fan pulls two layers apart. @param deepest most layers to one side */
  apart(deepest: number): number {
    return this.fan * Math.min(FAN_STEP, FAN_HEIGHT / deepest);
  }

  showSeams(): void {
    this.uniforms.seamOpacity.value = 1 - (1 - SEAM_OPACITY) * Math.min(1, this.fan * 8);
  }

  /** The half of the model toward the eye is the one that is cut away. @returns whether it is another than before */
  turnCut(eye: Space): boolean {
    const { cut } = this.look;
    const plane = this.uniforms.cutPlane.value;
    const before = plane.clone();
    if (!cut || cut.bothStay) plane.set(0, 0, 0, 1);
    else {
      const [a, b, c] = cut.normal;
      const side = a * eye[0] + b * eye[1] + c * eye[2] > cut.offset ? 1 : -1;
      plane.set(side * a, side * b, side * c, side * cut.offset);
    }
    return !plane.equals(before);
  }

  /** Is a place of the model still there? What the slice took away is not. */
  isThere = ([x, y, z]: Space): boolean => {
    const { value: cut } = this.uniforms.cutPlane;
    return cut.x * x + cut.y * y + cut.z * z <= cut.w;
  };

  private bring(part: number, atRest: boolean): void {
    const toward = (from: number, to: number) =>
      Math.abs(to - from) < THERE ? to : from + (to - from) * part;
    const { fan, veiled } = this.look;
    const goal = atRest ? fan : 0;
    this.fan = toward(this.fan, goal);
    this.easing = this.fan !== goal;
    for (const panel of new Set([...this.veils.keys(), ...veiled.keys()])) {
      const now = this.veils.get(panel) ?? solid;
      const wished = veiled.get(panel) ?? solid;
      const next = { opacity: toward(now.opacity, wished.opacity), lift: toward(now.lift, wished.lift) };
      if (next.opacity !== wished.opacity || next.lift !== wished.lift) this.easing = true;
      if (next.opacity === 1 && next.lift === 0) this.veils.delete(panel);
      else this.veils.set(panel, next);
    }
  }
}
