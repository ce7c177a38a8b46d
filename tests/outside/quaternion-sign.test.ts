/**
 * The sign of the quaternion product round a vertex. Derived from continuity, no published source known: along a
 * motion from flat the fold turns multiply to +1 (to -1 with the half turns of the sectors), so that a closed pose
 * with the other sign is paper gone through itself.
 */
import { describe, expect, it } from 'vitest';
import { closureLoops } from '../../src/core/sheet/loops.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { halfEdgeEnd, halfEdgeOrigin } from '../../src/core/sheet/walk.ts';
import { foldToFinish } from '../support/fold.ts';
import { foldLesson, sampleLesson } from '../support/lessons.ts';
import { miuraSheet, radians, squareTwistSheet } from '../support/patterns.ts';
import values from './values/quaternion_sign.json';

type Quaternion = [number, number, number, number];

function times([ax, ay, az, aw]: Quaternion, [bx, by, bz, bw]: Quaternion): Quaternion {
  return [
    aw * bx + ax * bw + ay * bz - az * by,
    aw * by - ax * bz + ay * bw + az * bx,
    aw * bz + ax * by - ay * bx + az * bw,
    aw * bw - ax * bx - ay * by - az * bz,
  ];
}

/** Product of fold turns and sector turns, in degrees, as in the closure product R_x(rho) R_z(alpha). */
function closureProduct(angles: readonly number[], sectors: readonly number[]): Quaternion {
  let q: Quaternion = [0, 0, 0, 1];
  angles.forEach((angle, k) => {
    const fold = (angle * radians) / 2;
    const sector = (sectors[k]! * radians) / 2;
    q = times(q, [Math.sin(fold), 0, 0, Math.cos(fold)]);
    q = times(q, [0, 0, Math.sin(sector), Math.cos(sector)]);
  });
  return q;
}

describe('quaternion sign', () => {
  it('flat-folded vertices: -1 exactly when mountains less valleys leave 2 on division by 4', () => {
    for (const [sectors, difference, sign, strings] of values.vertex as [
      number[],
      number,
      number,
      number,
      number,
    ][]) {
      const n = sectors.length;
      let count = 0;
      for (let mask = 0; mask < 2 ** n; mask++) {
        const angles = sectors.map((_, k) => ((mask >> k) & 1 ? -180 : 180));
        const mountains = angles.filter((angle) => angle < 0).length;
        if (2 * mountains - n !== difference) continue;
        count++;
        expect(closureProduct(angles, sectors)[3]).toBeCloseTo(sign, 9);
      }
      expect(count).toBe(strings);
    }
  });

  it('box-corner states: sign as tabled', () => {
    for (const row of values.gusset as number[][])
      expect(closureProduct(row.slice(0, 5), [90, 90, 45, 45, 90])[3]).toBeCloseTo(row[5]!, 9);
  });

  it('stays the same along every motion', () => {
    const motions: { sheet: Sheet; poses: readonly { angle: Float64Array }[] }[] = [
      foldToFinish(miuraSheet(3, 3)),
      foldToFinish(squareTwistSheet(45, 'MMMV')),
      ...['pencil-case', 'cuffed-tray', 'planter-sleeve', 'ticket-wallet'].flatMap((name) => {
        const { sheet, stages } = sampleLesson(name);
        return foldLesson(sheet, stages);
      }),
    ];
    for (const { sheet, poses } of motions) {
      const vertices = closureLoops(sheet).filter((loop) => loop.kind === 'vertex');
      for (const { angle } of poses)
        for (const { halfEdges } of vertices) {
          let q: Quaternion = [0, 0, 0, 1];
          for (const h of halfEdges) {
            const [a, b] = [halfEdgeOrigin(sheet, h), halfEdgeEnd(sheet, h)];
            const [dx, dy] = [sheet.vertexX[b]! - sheet.vertexX[a]!, sheet.vertexY[b]! - sheet.vertexY[a]!];
            const s = Math.sin(angle[h >> 1]! / 2) / Math.hypot(dx, dy);
            q = times(q, [dx * s, dy * s, 0, Math.cos(angle[h >> 1]! / 2)]);
          }
          expect(q[3]).toBeCloseTo(1, 9);
        }
    }
  });
});
