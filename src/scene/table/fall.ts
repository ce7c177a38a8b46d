/**
 * A rigid body falls a little way onto a flat table and comes to rest (cannon-es). Only corners touch a flat table,
 * so the body's shape is its corners; its mass and inertia are given, so that paper weighs where paper is.
 */
import { Body, ContactMaterial, ConvexPolyhedron, Material, Plane, Vec3, World } from 'cannon-es';
import type { Space } from '../../core/numeric/vector.ts';

export interface Solid {
  /** Corners round the centre of mass, along the principal axes. */
  readonly corners: readonly Space[];
  /** Principal moments of inertia for a mass of 1. */
  readonly inertia: Space;
}

export interface Moment {
  readonly position: Space;
  readonly quaternion: readonly [number, number, number, number];
}

/** How high it is dropped from, and what it weighs under, in lengths of the sheet and seconds. */
const DROP = 0.05;
const GRAVITY = 9;
const STEP = 1 / 240;
const MOST_SECONDS = 6;
const QUIET_SECONDS = 0.3;

/** @param start turn of the body when it is let go; a hair of tilt is added, for nothing stands on a needle */
export function fall(solid: Solid, start: Moment['quaternion']): Moment[] {
  const world = new World({ gravity: new Vec3(0, 0, -GRAVITY) });
  const paper = new Material('paper');
  const table = new Material('table');
  world.addContactMaterial(
    new ContactMaterial(paper, table, {
      friction: 0.6,
      restitution: 0.05,
      contactEquationStiffness: 4e6,
      contactEquationRelaxation: 4,
    }),
  );
  world.solver = Object.assign(world.solver, { iterations: 40, tolerance: 1e-7 });
  const ground = new Body({ mass: 0, material: table });
  ground.addShape(new Plane());
  world.addBody(ground);
  const body = new Body({ mass: 1, material: paper, linearDamping: 0.08, angularDamping: 0.25 });
  const shape = new ConvexPolyhedron({ vertices: solid.corners.map((p) => new Vec3(...p)), faces: [] });
  body.addShape(shape);
  body.inertia.set(...solid.inertia);
  body.invInertia.set(1 / solid.inertia[0], 1 / solid.inertia[1], 1 / solid.inertia[2]);
  // Shapes set the inertia from their box whenever they change; ours is the true one and stays.
  body.updateMassProperties = () => {};
  const tilt = new Body().quaternion;
  tilt.setFromAxisAngle(new Vec3(0.8, 0.6, 0), 0.004);
  body.quaternion.set(...start);
  body.quaternion = tilt.mult(body.quaternion);
  const low = Math.min(...solid.corners.map((p) => body.quaternion.vmult(new Vec3(...p)).z));
  body.position.set(0, 0, DROP - low);
  body.updateInertiaWorld(true);
  body.aabbNeedsUpdate = true;
  world.addBody(body);

  const moments: Moment[] = [];
  let quiet = 0;
  for (let k = 0; k * STEP < MOST_SECONDS && quiet < QUIET_SECONDS; k++) {
    world.step(STEP);
    if (k % 4 === 0) moments.push(momentOf(body));
    const still = body.velocity.length() < 0.006 && body.angularVelocity.length() < 0.02;
    quiet = still && k > 60 ? quiet + STEP : 0;
  }
  moments.push(momentOf(body));
  return moments;
}

function momentOf({ position: p, quaternion: q }: Body): Moment {
  return { position: [p.x, p.y, p.z], quaternion: [q.x, q.y, q.z, q.w] };
}
