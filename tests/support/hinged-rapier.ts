/** The sheet as bodies and revolute joints in a second general-purpose engine (rapier), as a baseline for speed. */
import RAPIER from '@dimforge/rapier3d-compat';
import { halfEdgeLine, placePanels } from '../../src/core/pose/place.ts';
import { kindJoinsPanels } from '../../src/core/sheet/kind.ts';
import { NONE, type Sheet } from '../../src/core/sheet/sheet.ts';

export class HingedRapier {
  private readonly world: RAPIER.World;
  private readonly bodies: RAPIER.RigidBody[] = [];
  private readonly joints: { crease: number; joint: RAPIER.RevoluteImpulseJoint }[] = [];
  private readonly sheet: Sheet;
  private readonly scale: number;

  static async create(sheet: Sheet, angle: Float64Array, iterations: number): Promise<HingedRapier> {
    await RAPIER.init();
    return new HingedRapier(sheet, angle, iterations);
  }

  private constructor(sheet: Sheet, angle: Float64Array, iterations: number) {
    this.sheet = sheet;
    this.scale = Math.sqrt(sheet.panelRings.length);
    this.world = new RAPIER.World({ x: 0, y: 0, z: 0 });
    this.world.integrationParameters.numSolverIterations = iterations;
    const { rotation, translation } = placePanels(sheet, angle, 0);
    for (let p = 0; p < sheet.panelRings.length; p++) {
      const [x, y, z, w] = rotation.subarray(4 * p, 4 * p + 4) as unknown as [number, number, number, number];
      const t = translation.subarray(3 * p, 3 * p + 3);
      const kind = p === 0 ? RAPIER.RigidBodyDesc.fixed() : RAPIER.RigidBodyDesc.dynamic();
      const body = this.world.createRigidBody(
        kind
          .setTranslation(t[0]! * this.scale, t[1]! * this.scale, t[2]! * this.scale)
          .setRotation({ x, y, z, w })
          .setAdditionalMassProperties(
            1,
            { x: 0, y: 0, z: 0 },
            { x: 0.1, y: 0.1, z: 0.1 },
            { x: 0, y: 0, z: 0, w: 1 },
          ),
      );
      this.bodies.push(body);
    }
    for (let e = 0; e < sheet.creaseKind.length; e++) {
      const b = sheet.halfEdgePanel[2 * e]!;
      const a = sheet.halfEdgePanel[2 * e + 1]!;
      if (a === NONE || b === NONE || !kindJoinsPanels(sheet.creaseKind[e]!)) continue;
      const { x, y, dx, dy } = halfEdgeLine(sheet, 2 * e);
      const anchor = { x: x * this.scale, y: y * this.scale, z: 0 };
      const data = RAPIER.JointData.revolute(anchor, anchor, { x: dx, y: dy, z: 0 });
      const joint = this.world.createImpulseJoint(data, this.bodies[a]!, this.bodies[b]!, true);
      this.joints.push({ crease: e, joint: joint as RAPIER.RevoluteImpulseJoint });
    }
  }

  /** Drives every joint toward its angle (radians) for some steps. */
  drive(target: Float64Array, steps: number): void {
    for (const { crease, joint } of this.joints) joint.configureMotorPosition(target[crease]!, 50, 5);
    for (let k = 0; k < steps; k++) this.world.step();
  }

  /** Widest gap at the start of any hinge, as a fraction of a panel. */
  gap(): number {
    let widest = 0;
    for (const { crease } of this.joints) {
      const { x, y } = halfEdgeLine(this.sheet, 2 * crease);
      const there = [2 * crease, 2 * crease + 1].map((h) => {
        const body = this.bodies[this.sheet.halfEdgePanel[h]!]!;
        return place(body.translation(), body.rotation(), x * this.scale, y * this.scale);
      });
      widest = Math.max(widest, Math.hypot(...there[0]!.map((v, k) => v - there[1]![k]!)));
    }
    return widest;
  }
}

function place(t: RAPIER.Vector, q: RAPIER.Rotation, x: number, y: number): number[] {
  const tx = -2 * q.z * y;
  const ty = 2 * q.z * x;
  const tz = 2 * (q.x * y - q.y * x);
  return [
    x + q.w * tx + q.y * tz - q.z * ty + t.x,
    y + q.w * ty + q.z * tx - q.x * tz + t.y,
    q.w * tz + q.x * ty - q.y * tx + t.z,
  ];
}
