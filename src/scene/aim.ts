/** How the model is turned and looked at: turned over in the hand, set down, and the way between the eye and the paper. */
import { Matrix4, Quaternion, Vector2, Vector3 } from 'three';
import type { Space } from '../core/numeric/vector.ts';
import { CameraRig } from './camera-rig.ts';
import { type Box, boxAfter, type Framed, onTable, turnAboutMiddle } from './frame.ts';

/** A turn nearer to its end than this, radians, is over. */
const TURNED = 0.004;
/** Share of the way left that a turn covers in a second, as a power of e. */
const TURN_SPEED = 7;

/** Where the model lies after it was set on the table. */
export interface Rest {
  readonly position: readonly number[];
  readonly quaternion: readonly number[];
}

export class Aim {
  readonly rig = new CameraRig();
  /** From the model's frame to the world. */
  readonly matrix = new Matrix4();
  private readonly size = new Vector2(1, 1);
  private turned = 0;
  private turnGoal = 0;
  private rest: { position: Vector3; quaternion: Quaternion } | null = null;

  turnOver(over: boolean, ease: boolean): void {
    this.turnGoal = over ? Math.PI : 0;
    if (!ease) this.turned = this.turnGoal;
  }

  setRest(rest: Rest | null): void {
    this.rest = rest && {
      position: new Vector3().fromArray(rest.position as number[]),
      quaternion: new Quaternion().fromArray(rest.quaternion as number[]),
    };
  }

  /** Puts the model where it belongs: turned as wished, its lowest point on the table. @returns the box round it */
  place(framed: Framed): Box {
    const { rest } = this;
    if (rest) {
      this.matrix.compose(rest.position, rest.quaternion, new Vector3(1, 1, 1));
      const box = boxAfter(framed, this.matrix);
      this.rig.frame(box.low, box.high);
      return box;
    }
    const turn =
      this.turned === 0 ? new Matrix4() : turnAboutMiddle(framed, new Matrix4().makeRotationY(this.turned));
    const { matrix, box } = onTable(framed, turn);
    this.matrix.copy(matrix);
    this.rig.frame(box.low, box.high);
    return box;
  }

  /** Turns the model on. @returns whether it moved */
  turnOn(seconds: number): boolean {
    const left = this.turnGoal - this.turned;
    if (left === 0) return false;
    this.turned =
      Math.abs(left) < TURNED ? this.turnGoal : this.turned + left * (1 - Math.exp(-seconds * TURN_SPEED));
    return true;
  }

  resize(width: number, height: number, above: number, below: number): void {
    this.size.set(Math.max(1, width), Math.max(1, height));
    this.rig.resize(width, height, above, below);
  }

  /** Size of the canvas, pixels. */
  get extent(): { width: number; height: number } {
    return { width: this.size.x, height: this.size.y };
  }

  /** Pixels that a sheet unit takes at distance 1, in a picture so high. */
  pixelsPerUnit(height: number): number {
    return height / (2 * Math.tan((this.rig.camera.fov * Math.PI) / 360));
  }

  /** The place of the eye in the model's frame. */
  get eye(): Space {
    return this.rig.camera.position.clone().applyMatrix4(this.inverse).toArray();
  }

  /** The way that the eye looks through a pixel, of length 1, in the model's frame. */
  wayThrough(x: number, y: number): Space {
    const { camera } = this.rig;
    const toward = this.unproject(x, y, 0.5).sub(camera.position).normalize();
    return toward.transformDirection(this.inverse).toArray();
  }

  /** Pixels from the canvas's top left corner of a place in the model's frame, and its distance from the eye. */
  toScreen(place: Space): { x: number; y: number; depth: number } {
    const world = new Vector3(...place).applyMatrix4(this.matrix);
    const depth = world.distanceTo(this.rig.camera.position);
    world.project(this.rig.camera);
    return { x: ((world.x + 1) / 2) * this.size.x, y: ((1 - world.y) / 2) * this.size.y, depth };
  }

  /** The place in the model's frame under a pixel, at the depth (along the view) of another place. */
  fromScreen(x: number, y: number, like: Space): [number, number, number] {
    const depth = new Vector3(...like).applyMatrix4(this.matrix).project(this.rig.camera).z;
    return this.unproject(x, y, depth).applyMatrix4(this.inverse).toArray();
  }

  private get inverse(): Matrix4 {
    return this.matrix.clone().invert();
  }

  private unproject(x: number, y: number, depth: number): Vector3 {
    const at = new Vector3((x / this.size.x) * 2 - 1, 1 - (y / this.size.y) * 2, depth);
    return at.unproject(this.rig.camera);
  }
}
