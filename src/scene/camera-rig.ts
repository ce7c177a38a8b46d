/** The eye: seven named views, a frame that follows the model softly, and the teacher's own turning of it. */
import { PerspectiveCamera, Vector3 } from 'three';
import { type EyePlace, eyeOf } from '../core/lesson/eye.ts';

const VIEW_SECONDS = 0.55;
/** Room left round the model. */
const MARGIN = 1.16;

/** Where little height is left a model may reach past it a little: few are as tall as the ball round them. */
const LEAST_SHARE = 0.54;

/** Bounds of the distance, as multiples of what just frames the model. */
const NEAREST = 0.25;
const FURTHEST = 3;

/** The eye has been moved when it stands further than this from where it was, sheet units. */
const STIRRED = 1e-4;

/** What the rig needs of the orbit controls. */
interface Controls {
  target: Vector3;
  minDistance: number;
  maxDistance: number;
  update: () => void;
}

export class CameraRig {
  readonly camera = new PerspectiveCamera(26, 1, 0.3, 14);
  private controls: Controls | null = null;
  private readonly goal = new Vector3(0.5, 0.5, 0);
  private readonly target = new Vector3(0.5, 0.5, 0);
  private radius = 0.7;
  private goalRadius = 0.7;
  private framed = false;
  private eye: EyePlace = eyeOf('three-quarter');
  private flight: { from: EyePlace; to: EyePlace; seconds: number } | null = null;
  /** How far the table is turned under the eye, radians: a bearing is counted from the turned front. */
  private spin = { from: 0, to: 0, now: 0, seconds: 0 };
  private aspect = 1;
  /** Share of the picture's height that the model may fill. */
  private share = 1;
  /** The eye was moved by hand, and stays there until another step is entered or a view is asked for. */
  private byHand = false;
  /** A hand is on the model. */
  private held = false;
  /** A tool is open: nothing may move under the pointer. */
  toolOpen = false;
  /** Does the eye glide? Where motion is to be reduced it is there at once. */
  glides: () => boolean = () => true;

  constructor() {
    this.camera.up.set(0, 0, 1);
    this.apply();
  }

  attach(controls: Controls): void {
    this.controls = controls;
    this.apply();
  }

  resize(width: number, height: number, above = 0, below = 0): void {
    this.share = Math.max(LEAST_SHARE, 1 - (above + below) / Math.max(1, height));
    this.camera.setViewOffset(width, height, 0, (below - above) / 2, width, height);
    this.aspect = Math.max(0.2, width / Math.max(1, height));
    this.camera.aspect = this.aspect;
    this.camera.updateProjectionMatrix();
    this.apply();
  }

  /** The box that the model fills now, in the world. */
  frame(low: Vector3, high: Vector3): void {
    this.goal.addVectors(low, high).multiplyScalar(0.5);
    this.goalRadius = Math.max(0.12, high.distanceTo(low) / 2);
    if (!this.framed) {
      this.framed = true;
      this.target.copy(this.goal);
      this.radius = this.goalRadius;
      this.apply();
    }
  }

  /** The next frame is taken at once, as for a new model. */
  reframe(): void {
    this.framed = false;
    this.byHand = false;
    this.eye = eyeOf('three-quarter');
    this.flight = null;
  }

  get place(): EyePlace {
    return this.flight?.to ?? this.eye;
  }

  /** From the eye to what it looks at. */
  get distance(): number {
    return this.camera.position.distanceTo(this.target);
  }

  flyTo(to: EyePlace, ease: boolean): void {
    this.byHand = false;
    const from = this.eye;
    const around = Math.round((from.bearing - to.bearing) / (2 * Math.PI)) * 2 * Math.PI;
    const near = { ...to, bearing: to.bearing + around };
    this.flight = ease ? { from, to: near, seconds: 0 } : null;
    if (!ease) {
      this.eye = near;
      this.target.copy(this.goal);
      this.radius = this.goalRadius;
      this.apply();
    }
  }

  /** Turns the table under the eye, radians, counter-clockwise seen from above; bearings turn with it. */
  turnTable(angle: number, ease: boolean): void {
    this.spin = { from: this.spin.now, to: angle, now: ease ? this.spin.now : angle, seconds: 0 };
    if (!ease) this.apply();
  }

  /** Turns and zooms by a little, as the keyboard does. */
  nudge(bearing: number, fall: number, zoom: number): void {
    this.flight = null;
    this.byHand = true;
    this.eye = {
      bearing: this.eye.bearing + bearing,
      fall: Math.min(Math.PI - 0.01, Math.max(0.01, this.eye.fall + fall)),
      zoom: Math.min(FURTHEST, Math.max(NEAREST, this.eye.zoom * zoom)),
    };
    this.apply();
  }

  /** A hand takes hold of the eye, or of the model. */
  take(): void {
    this.held = true;
  }

  /** The hand lets the model go. */
  release(): void {
    this.held = false;
  }

  /** Another step was entered: where a hand had taken the eye no longer counts. */
  enterStep(): void {
    this.byHand = false;
  }

  /** Reads back where the teacher's hand has taken the eye; a press without a move takes it nowhere. */
  readBack(): void {
    this.held = false;
    if (!this.controls || !this.wasMoved(this.controls)) return;
    this.flight = null;
    this.byHand = true;
    const away = this.camera.position.clone().sub(this.controls.target);
    const distance = away.length();
    this.target.copy(this.controls.target);
    this.eye = {
      bearing: Math.atan2(away.x, -away.y) + this.spin.now,
      fall: Math.acos(Math.min(1, Math.max(-1, away.z / distance))),
      zoom: distance / this.distanceFor(this.radius),
    };
  }

  private wasMoved(controls: Controls): boolean {
    const { bearing, fall, zoom } = this.eye;
    const place = towards(bearing - this.spin.now, fall).multiplyScalar(this.distanceFor(this.radius) * zoom);
    const now = this.camera.position.clone().sub(this.target);
    return now.distanceTo(place) > STIRRED || controls.target.distanceTo(this.target) > STIRRED;
  }

  /** Follows the model softly, unless a hand or a tool has hold of it. @returns whether the eye moved */
  private follow(seconds: number): boolean {
    if (this.held || this.byHand || this.toolOpen) return false;
    const off = this.goal.distanceTo(this.target) + Math.abs(this.goalRadius - this.radius);
    if (off <= 1e-3) return false;
    const part = this.glides() ? 1 - Math.exp(-Math.min(seconds, 0.15) * 6) : 1;
    this.target.lerp(this.goal, part);
    this.radius += (this.goalRadius - this.radius) * part;
    return true;
  }

  /** @returns whether the eye still moves */
  advance(seconds: number): boolean {
    let moving = false;
    if (this.flight) {
      this.flight.seconds += Math.min(seconds, 0.15);
      const t = Math.min(1, this.flight.seconds / VIEW_SECONDS);
      const s = t * t * (3 - 2 * t);
      const { from, to } = this.flight;
      this.eye = {
        bearing: from.bearing + (to.bearing - from.bearing) * s,
        fall: from.fall + (to.fall - from.fall) * s,
        zoom: from.zoom + (to.zoom - from.zoom) * s,
      };
      if (t >= 1) this.flight = null;
      moving = true;
    }
    if (this.spin.now !== this.spin.to) {
      this.spin.seconds += Math.min(seconds, 0.15);
      const t = Math.min(1, this.spin.seconds / VIEW_SECONDS);
      const { from, to } = this.spin;
      this.spin.now = t < 1 ? from + (to - from) * t * t * (3 - 2 * t) : to;
      moving = true;
    }
    if (this.follow(seconds)) moving = true;
    if (moving) this.apply();
    return moving;
  }

  private distanceFor(radius: number): number {
    const half = Math.tan((this.camera.fov * Math.PI) / 360);
    const narrow = Math.atan(half * Math.min(this.share, this.aspect));
    return (radius * MARGIN) / Math.sin(narrow);
  }

  private apply(): void {
    const { bearing, fall, zoom } = this.eye;
    this.camera.position
      .copy(this.target)
      .addScaledVector(towards(bearing - this.spin.now, fall), this.distanceFor(this.radius) * zoom);
    this.camera.lookAt(this.target);
    this.camera.updateMatrixWorld();
    if (this.controls) {
      // Closer than a quarter of what frames the model there is nothing but paper to see.
      this.controls.minDistance = this.distanceFor(this.radius) * NEAREST;
      this.controls.maxDistance = this.distanceFor(this.radius) * FURTHEST;
      this.controls.target.copy(this.target);
      this.controls.update();
    }
  }
}

/** The way from what is looked at to the eye, of length 1. */
export function towards(bearing: number, fall: number): Vector3 {
  return new Vector3(Math.sin(fall) * Math.sin(bearing), -Math.sin(fall) * Math.cos(bearing), Math.cos(fall));
}
