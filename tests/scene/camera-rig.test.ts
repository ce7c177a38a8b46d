import { Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import { eyeOf } from '../../src/core/lesson/eye.ts';
import { CameraRig } from '../../src/scene/camera-rig.ts';

/** Where a point of the table is seen, x right and y up. */
function seen(rig: CameraRig, x: number, y: number): [number, number] {
  rig.camera.updateMatrixWorld();
  const at = new Vector3(x, y, 0).project(rig.camera);
  return [at.x, at.y];
}

function fromAbove(): CameraRig {
  const rig = new CameraRig();
  rig.resize(500, 500);
  rig.frame(new Vector3(-1, -1, 0), new Vector3(1, 1, 0));
  rig.flyTo(eyeOf('top'), false);
  return rig;
}

describe('turning the model round on the table', () => {
  it('a quarter turn counter-clockwise takes what lay on the right to the top; back again undoes it', () => {
    const rig = fromAbove();
    const [right] = seen(rig, 0.5, 0);
    expect(right).toBeGreaterThan(0.1);
    rig.turnTable(Math.PI / 2, false);
    const [x, y] = seen(rig, 0.5, 0);
    expect(x).toBeCloseTo(0, 3);
    expect(y).toBeCloseTo(right, 2);
    rig.turnTable(0, false);
    expect(seen(rig, 0.5, 0)[0]).toBeCloseTo(right, 6);
  });

  it('views are counted from the turned front, and a turn that eases arrives', () => {
    const rig = fromAbove();
    rig.turnTable(Math.PI, true);
    for (let k = 0; k < 20; k++) rig.advance(0.1);
    rig.flyTo(eyeOf('front'), false);
    // the front of the table, y below 0, is at the back now
    const [near, far] = [new Vector3(0, -1, 0), new Vector3(0, 1, 0)].map((point) =>
      rig.camera.position.distanceTo(point),
    );
    expect(near).toBeGreaterThan(far!);
  });
});
