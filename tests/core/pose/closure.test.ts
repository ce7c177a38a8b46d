import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { ClosureSystem, closureOfPose } from '../../../src/core/pose/closure.ts';
import { countFreedoms } from '../../../src/core/pose/freedoms.ts';
import { foldingCreases } from '../../../src/core/pose/moving.ts';
import { placePanels, vertexPositions, widestGap } from '../../../src/core/pose/place.ts';
import { stretchOfPose } from '../../../src/core/pose/stretch.ts';
import { closureLoops } from '../../../src/core/sheet/loops.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { halfEdgeOrigin } from '../../../src/core/sheet/walk.ts';
import { loopResidual, numericalRank } from '../../oracles/closure.ts';
import { degreesOf, fold } from '../../support/fold.ts';
import { miuraSheet, PatternMaker, radians, squareTwistSheet, vertexSheet } from '../../support/patterns.ts';

/** A square frame: outer side 3, hole of side 1, a crease from each hole corner and more across each bar. */
function frame(): Sheet {
  const maker = new PatternMaker();
  const square = (low: number, high: number) =>
    [
      [low, low],
      [high, low],
      [high, high],
      [low, high],
    ].map(([x, y]) => maker.point(x!, y!));
  const outer = square(0, 3);
  const inner = square(1, 2);
  const extra = [0.3, 1.4, 2.6, 1.7].map((t, k) => {
    const onOuter = [
      [t, 0],
      [3, t],
      [t, 3],
      [0, t],
    ][k]!;
    return maker.point(onOuter[0]!, onOuter[1]!);
  });
  const ring = [outer[0]!, extra[0]!, outer[1]!, extra[1]!, outer[2]!, extra[2]!, outer[3]!, extra[3]!];
  for (const [k, v] of ring.entries()) maker.line(v, ring[(k + 1) % 8]!, 'edge');
  for (const [k, v] of inner.entries()) maker.line(v, inner[(k + 1) % 4]!, 'edge');
  for (let k = 0; k < 4; k++) maker.crease(inner[k]!, outer[k]!, 0);
  maker.crease(inner[0]!, extra[0]!, 0);
  maker.crease(inner[1]!, extra[1]!, 0);
  maker.crease(inner[2]!, extra[2]!, 0);
  maker.crease(inner[3]!, extra[3]!, 0);
  return maker.sheet();
}

function randomPose(sheet: Sheet, size: number, random: () => number): Float64Array {
  const folding = foldingCreases(sheet);
  return Float64Array.from(folding, (folds) => (folds ? size * (random() - 0.5) : 0));
}

describe('closure', () => {
  const sheets: Record<string, Sheet> = {
    vertex: vertexSheet([60, 75, 120, 105], [1, 1, 1, 1]),
    miura: miuraSheet(3, 3),
    frame: frame(),
  };

  for (const [name, sheet] of Object.entries(sheets))
    it(`${name}: residuals are those of plain 4 x 4 matrix products, seed 5`, () => {
      const random = seededRandom(5);
      const loops = closureLoops(sheet);
      for (let trial = 0; trial < 10; trial++) {
        const pose = randomPose(sheet, 1, random);
        closureOfPose(sheet, pose).loops.forEach((loop, l) => {
          const plain = loopResidual(sheet, loops[l]!.halfEdges, pose);
          expect(loop.rotation).toBeCloseTo(plain.rotation, 10);
          if (loop.vertex < 0) expect(loop.gap).toBeCloseTo(plain.gap, 10);
        });
      }
    });

  it('a frame that only turns back to where it was still gapes: the hole needs its shift closed too', () => {
    const sheet = frame();
    const loops = closureLoops(sheet).filter((loop) => loop.kind === 'hole');
    expect(loops).toHaveLength(1);
    // four parallel creases of opposite sign: rotations cancel, positions do not
    const parallel = new PatternMaker();
    const corners = [
      [0, 0],
      [3, 0],
      [3, 3],
      [0, 3],
    ].map(([x, y]) => parallel.point(x!, y!));
    const hole = [
      [1, 1],
      [2, 1],
      [2, 2],
      [1, 2],
    ].map(([x, y]) => parallel.point(x!, y!));
    const ends = [
      [1, 0],
      [2, 0],
      [2, 3],
      [1, 3],
    ].map(([x, y]) => parallel.point(x!, y!));
    const ring = [corners[0]!, ends[0]!, ends[1]!, corners[1]!, corners[2]!, ends[2]!, ends[3]!, corners[3]!];
    for (const [k, v] of ring.entries()) parallel.line(v, ring[(k + 1) % 8]!, 'edge');
    for (const [k, v] of hole.entries()) parallel.line(v, hole[(k + 1) % 4]!, 'edge');
    const creases = hole.map((v, k) => parallel.crease(v, ends[k]!, 0));
    const bars = parallel.sheet();
    const pose = new Float64Array(bars.creaseKind.length);
    // lower bar: up 0.4 then down 0.4; upper bar: up 0.2 then down 0.2
    for (const [k, angle] of [0.4, -0.4, -0.2, 0.2].entries()) pose[creases[k]!] = angle;
    const { loops: closures } = closureOfPose(bars, pose);
    const gap = widestGap(bars, placePanels(bars, pose, 0)).gap;
    expect(closures[0]!.rotation).toBeLessThan(1e-12);
    expect(closures[0]!.gap).toBeGreaterThan(0.01);
    expect(gap).toBeGreaterThan(0.01);
  });

  it('derivatives agree with central differences of the matrix products, seed 6', () => {
    const random = seededRandom(6);
    for (const sheet of [sheets.vertex!, sheets.frame!]) {
      const track = fold(
        sheet,
        Object.fromEntries(
          [...foldingCreases(sheet)].flatMap((m, e) => (m ? [[e, 40 * (random() - 0.5)]] : [])),
        ),
        { drawn: true, free: true },
      );
      const system = new ClosureSystem(sheet, foldingCreases(sheet));
      system.evaluate(track.end);
      const step = 1e-5;
      const derivatives: [number, number, number][] = [];
      system.forEachDerivative((row, unknown, value) => derivatives.push([row, unknown, value]));
      const total = new Map<string, number>();
      for (const [row, unknown, value] of derivatives) {
        const key = `${row},${unknown}`;
        total.set(key, (total.get(key) ?? 0) + value);
      }
      for (const [key, value] of total) {
        const [row, unknown] = key.split(',').map(Number) as [number, number];
        const at = (shift: number) => {
          const pose = track.end.slice();
          pose[system.creaseOf[unknown]!]! += shift;
          const other = new ClosureSystem(sheet, foldingCreases(sheet));
          other.evaluate(pose);
          return other.residual[row]!;
        };
        expect((at(step) - at(-step)) / (2 * step)).toBeCloseTo(value, 6);
      }
    }
  });
});

describe('freedoms', () => {
  it('equal the null space of a numerically differentiated closure (singular values of ml-matrix), seed 8', () => {
    const random = seededRandom(8);
    const cases = [
      miuraSheet(3, 2),
      miuraSheet(4, 4),
      squareTwistSheet(45, 'MMVV'),
      frame(),
      vertexSheet([50, 70, 60, 80, 100], [0, 0, 0, 0, 0]),
    ];
    for (const sheet of cases) {
      const folding = foldingCreases(sheet);
      const wish = Object.fromEntries(
        [...folding].flatMap((moves, e) => {
          const finished = sheet.creaseAngle[e]! || 0;
          return moves ? [[e, finished !== 0 ? (finished / radians) * 0.3 : 50 * (random() - 0.5)]] : [];
        }),
      );
      const { end } = fold(sheet, wish, { drawn: true });
      const size = folding.reduce((sum, moves) => sum + moves, 0);
      expect(countFreedoms(sheet, end)).toBe(size - numericalRank(sheet, end));
    }
  });
});

describe('placing panels', () => {
  it('the still panel stays, and each neighbour turns by the fold angle about their crease', () => {
    const sheet = miuraSheet(3, 3);
    const driven = sheet.creaseKind.findIndex((kind) => kind < 2);
    const { end } = fold(sheet, { [driven]: 50 * Math.sign(sheet.creaseAngle[driven]!) });
    for (let still = 0; still < sheet.panelRings.length; still++) {
      const placement = placePanels(sheet, end, still);
      expect([...placement.rotation.subarray(4 * still, 4 * still + 4)]).toEqual([0, 0, 0, 1]);
      expect(stretchOfPose(sheet, placement)).toBeLessThan(1e-12);
      expect(widestGap(sheet, placement).gap).toBeLessThan(1e-12);
      for (const value of vertexPositions(sheet, placement)) expect(Number.isFinite(value)).toBe(true);
    }
  });

  it('a valley brings the sides that face up together: folded to 90 degrees the flap stands up', () => {
    const maker = new PatternMaker();
    const v = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
      [2, 0],
      [2, 1],
    ].map(([x, y]) => maker.point(x!, y!));
    const line = maker.crease(v[1]!, v[2]!, 180);
    for (const [a, b] of [
      [0, 1],
      [1, 4],
      [4, 5],
      [5, 2],
      [2, 3],
      [3, 0],
    ])
      maker.line(v[a!]!, v[b!]!, 'edge');
    const sheet = maker.sheet();
    const { end } = fold(sheet, { [line]: 90 });
    expect(degreesOf(end, 1)[0]).toBeCloseTo(90, 12);
    const still = sheet.halfEdgePanel.findIndex(
      (panel, h) => panel >= 0 && halfEdgeOrigin(sheet, h) === v[0]!,
    );
    const at = vertexPositions(sheet, placePanels(sheet, end, sheet.halfEdgePanel[still]!));
    expect(at[3 * v[4]! + 2]).toBeCloseTo(0.5, 12);
  });
});
