/**
 * The sheet as free rigid bodies joined by hinges in a general-purpose engine (cannon-es): a witness for poses and a
 * baseline for speed. Nothing of it is used by the tool.
 */
import { Body, type GSSolver, HingeConstraint, Quaternion, Vec3, World } from 'cannon-es';
import { halfEdgeLine, placePanels } from '../../src/core/pose/place.ts';
import { kindJoinsPanels } from '../../src/core/sheet/kind.ts';
import { NONE, type Sheet } from '../../src/core/sheet/sheet.ts';
import { panelRing } from '../../src/core/sheet/walk.ts';

export class HingedBodies {
  readonly world = new World({ gravity: new Vec3(0, 0, 0) });
  private readonly bodies: Body[] = [];
  private readonly centres: [number, number][] = [];
  private readonly hinges: { crease: number; a: number; b: number; hinge: HingeConstraint }[] = [];
  private readonly sheet: Sheet;

  /** Bodies start at the given pose; panel 0 stays still. Sheet units, masses near 1. */
  constructor(sheet: Sheet, angle: Float64Array, iterations: number) {
    this.sheet = sheet;
    (this.world.solver as GSSolver).iterations = iterations;
    (this.world.solver as GSSolver).tolerance = 0;
    const scale = Math.sqrt(sheet.panelRings.length); // panels of size about 1
    this.scale = scale;
    const { rotation, translation } = placePanels(sheet, angle, 0);
    for (let p = 0; p < sheet.panelRings.length; p++) {
      const ring = panelRing(sheet, sheet.panelRings[p]![0]!);
      let x = 0;
      let y = 0;
      for (const h of ring) {
        const line = halfEdgeLine(sheet, h);
        x += line.x / ring.length;
        y += line.y / ring.length;
      }
      this.centres.push([x, y]);
      const q = new Quaternion(
        ...(rotation.subarray(4 * p, 4 * p + 4) as unknown as [number, number, number, number]),
      );
      const centre = q.vmult(new Vec3(x, y, 0));
      const t = translation.subarray(3 * p, 3 * p + 3);
      const body = new Body({ mass: p === 0 ? 0 : 1, linearDamping: 0.2, angularDamping: 0.2 });
      body.position.set((centre.x + t[0]!) * scale, (centre.y + t[1]!) * scale, (centre.z + t[2]!) * scale);
      body.quaternion.copy(q);
      body.inertia.set(0.1, 0.1, 0.1);
      body.invInertia.set(10, 10, 10);
      if (p === 0) body.invInertia.set(0, 0, 0);
      body.updateInertiaWorld(true);
      this.world.addBody(body);
      this.bodies.push(body);
    }
    for (let e = 0; e < sheet.creaseKind.length; e++) {
      const b = sheet.halfEdgePanel[2 * e]!;
      const a = sheet.halfEdgePanel[2 * e + 1]!;
      if (a === NONE || b === NONE || !kindJoinsPanels(sheet.creaseKind[e]!)) continue;
      const { dx, dy } = halfEdgeLine(sheet, 2 * e);
      const axis = new Vec3(dx, dy, 0);
      const hinge = new HingeConstraint(this.bodies[a]!, this.bodies[b]!, {
        pivotA: this.local(a, this.middle(e)),
        pivotB: this.local(b, this.middle(e)),
        axisA: axis,
        axisB: axis,
        collideConnected: false,
        maxForce: 1e6,
      });
      this.world.addConstraint(hinge);
      this.hinges.push({ crease: e, a, b, hinge });
    }
  }

  private readonly scale: number;

  private middle(e: number): [number, number] {
    const a = this.sheet.creaseFrom[e]!;
    const b = this.sheet.creaseTo[e]!;
    return [
      (this.sheet.vertexX[a]! + this.sheet.vertexX[b]!) / 2,
      (this.sheet.vertexY[a]! + this.sheet.vertexY[b]!) / 2,
    ];
  }

  private local(panel: number, [x, y]: readonly [number, number]): Vec3 {
    const [cx, cy] = this.centres[panel]!;
    return new Vec3((x - cx) * this.scale, (y - cy) * this.scale, 0);
  }

  /** Fold angle that the two bodies of a hinge have, radians. */
  private angleOf({ crease, a, b }: { crease: number; a: number; b: number }): number {
    const relative = this.bodies[a]!.quaternion.inverse().mult(this.bodies[b]!.quaternion);
    const { dx, dy } = halfEdgeLine(this.sheet, 2 * crease);
    return 2 * Math.atan2(relative.x * dx + relative.y * dy, relative.w);
  }

  /** Turns the driven hinges toward their angles (radians) for a number of steps. */
  drive(targets: ReadonlyMap<number, number>, steps: number): void {
    for (let k = 0; k < steps; k++) {
      for (const joint of this.hinges) {
        const target = targets.get(joint.crease);
        if (target === undefined) continue;
        joint.hinge.enableMotor();
        // the engine's motor turns the first body against the second
        joint.hinge.setMotorSpeed(-(target - this.angleOf(joint)) * 2);
        joint.hinge.setMotorMaxForce(50);
      }
      this.world.step(1 / 60);
    }
  }

  angles(): Float64Array {
    const result = new Float64Array(this.sheet.creaseKind.length);
    for (const joint of this.hinges) result[joint.crease] = this.angleOf(joint);
    return result;
  }

  /** Widest gap at any end of any hinge, as a fraction of a panel. */
  gap(): number {
    let widest = 0;
    for (const { crease, a, b } of this.hinges)
      for (const v of [this.sheet.creaseFrom[crease]!, this.sheet.creaseTo[crease]!]) {
        const point: [number, number] = [this.sheet.vertexX[v]!, this.sheet.vertexY[v]!];
        const there = [a, b].map((p) => this.bodies[p]!.pointToWorldFrame(this.local(p, point)));
        widest = Math.max(widest, there[0]!.distanceTo(there[1]!));
      }
    return widest;
  }
}
