import { DataTexture, Matrix4, type Mesh, type ShaderMaterial } from 'three';
import { describe, expect, it } from 'vitest';
import { leavesOfPanels } from '../../src/core/layer/leaves.ts';
import { asSeen, type Seen } from '../../src/core/lesson/seen.ts';
import { placePanels, vertexPositions } from '../../src/core/pose/place.ts';
import { buildSheet } from '../../src/core/sheet/build.ts';
import type { Segment } from '../../src/core/sheet/segment.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { panelContaining } from '../../src/core/sheet/walk.ts';
import { boxAfter, onTable, turnOf } from '../../src/scene/frame.ts';
import type { ModelLook } from '../../src/scene/look.ts';
import { ModelStage } from '../../src/scene/stage.ts';

/** A strip, 3 x 1, with one valley across, 1 from its left end. */
function strip(): Sheet {
  const line = (x1: number, y1: number, x2: number, y2: number, kind: Segment['kind']): Segment => {
    return { x1, y1, x2, y2, kind };
  };
  const rim = [line(0, 0, 3, 0, 'edge'), line(3, 0, 3, 1, 'edge'), line(3, 1, 0, 1, 'edge')];
  return buildSheet([...rim, line(0, 1, 0, 0, 'edge'), line(1, 0, 1, 1, 'valley')]).sheet!;
}

/** The strip with its left end standing up by so many radians. */
function folded(angle: number) {
  const sheet = strip();
  const angles = Float64Array.from(sheet.creaseKind, () => angle);
  return { sheet, placement: placePanels(sheet, angles, panelContaining(sheet, 0.7, 0.1)) };
}

function shown(angle: number) {
  const { sheet, placement } = folded(angle);
  const none = new Float32Array(sheet.panelRings.length);
  return { sheet, placement, levels: none, aside: null, ownCreases: sheet.creaseKind.length, bends: none };
}

const look = (up: string, sheetSize: number): ModelLook => ({
  up,
  down: '#ffffff',
  inkUp: Array(6).fill('#101010'),
  inkDown: Array(6).fill('#202020'),
  inkGlass: Array(6).fill('#303030'),
  accent: '#404040',
  ground: '#ebe6dd',
  dark: false,
  sheetSize,
  thickness: 0.1,
});

const uniformsOf = (stage: ModelStage) =>
  stage.group.children.map((mesh) => ((mesh as Mesh).material as ShaderMaterial).uniforms);

const colourOf = (uniforms: ShaderMaterial['uniforms']) => uniforms.upColour!.value.toArray();

const placesOf = (uniforms: ShaderMaterial['uniforms']) => {
  const texture: unknown = uniforms.placementOf!.value;
  return texture instanceof DataTexture ? [...(texture.image.data as Float32Array)].slice(0, 24) : [];
};

// common practice, no source: two of a thing side by side
describe('two stages on one page', () => {
  it('each keeps its own colours, poses, spacing and light', () => {
    const [first, second] = [new ModelStage(), new ModelStage()];
    first.setLook(look('#ff0000', 100));
    // asked before there is anything to show
    first.turnOver(false, false);
    expect(first.leaves).toBeNull();
    first.resize(500, 400);
    first.showPose(shown(0.4));
    const before = uniformsOf(first).map((one) => [colourOf(one), placesOf(one), one.pixelsPerUnit!.value]);
    const spacing = first.uniforms.spacing.value;
    const lamp = first.uniforms.lampMatrix.value.toArray();
    second.setLook(look('#0000ff', 300));
    second.resize(900, 80);
    second.showPose(shown(-1.3));
    expect(uniformsOf(first)).toHaveLength(6);
    expect(uniformsOf(first).map((one) => [colourOf(one), placesOf(one), one.pixelsPerUnit!.value])).toEqual(
      before,
    );
    expect([first.uniforms.spacing.value, first.uniforms.lampMatrix.value.toArray()]).toEqual([
      spacing,
      lamp,
    ]);
    for (const one of uniformsOf(first)) expect(colourOf(one)).toEqual([1, 0, 0]);
    for (const one of uniformsOf(second)) expect(colourOf(one)).toEqual([0, 0, 1]);
    expect(placesOf(uniformsOf(second)[0]!)).not.toEqual(placesOf(uniformsOf(first)[0]!));
    expect(second.uniforms.lampDepth.value).not.toBe(first.uniforms.lampDepth.value);
    for (const stage of [first, second]) stage.dispose();
  });
});

// the half turn and the quarter turn by hand; else core's own turning of all panels, which speaks no matrix
describe('a picture shows the model as its reader sees it', () => {
  const framed = (angle: number) => {
    const { sheet, placement } = folded(angle);
    const { leaves } = leavesOfPanels(sheet, new Float32Array(sheet.panelRings.length));
    return { sheet, placement, leaves, off: () => 0 };
  };
  const size = (angle: number, seen: Seen) => {
    const { low, high } = boxAfter(framed(angle), turnOf(seen));
    return high.sub(low).toArray();
  };

  it('a quarter turn makes the lying strip stand, a half turn lays it down again', () => {
    const [wide, deep] = [1, 1 / 3];
    for (const [round, x, y] of [
      [0, wide, deep],
      [Math.PI / 2, deep, wide],
      [Math.PI, wide, deep],
    ] as const) {
      const [across, up, high] = size(0, { over: false, round });
      expect(across).toBeCloseTo(x, 9);
      expect(up).toBeCloseTo(y, 9);
      expect(high).toBeCloseTo(0, 9);
    }
  });

  it('turned over, what stood up from the table hangs down, and is set on the table again', () => {
    const paper = framed(Math.PI / 2);
    const [plain, over] = [false, true].map((one) => boxAfter(paper, turnOf({ over: one, round: 0 })));
    expect(plain!.high.z).toBeCloseTo(1 / 3, 9);
    expect(plain!.low.z).toBeCloseTo(0, 9);
    expect(over!.low.z).toBeCloseTo(-1 / 3, 9);
    expect(over!.high.z).toBeCloseTo(0, 9);
    expect(onTable(paper, turnOf({ over: true, round: 0 })).box.low.z).toBe(0);
    expect(onTable(paper, new Matrix4()).box.high.z).toBeCloseTo(1 / 3, 9);
  });

  it.each([
    { over: false, round: 0.7 },
    { over: true, round: 0 },
    { over: true, round: -1.9 },
  ])('turned over: $over, round by $round: the box is that of the corners', (seen) => {
    const paper = framed(1.1);
    const corners = vertexPositions(paper.sheet, asSeen(paper.placement, seen));
    const { low, high } = boxAfter(paper, turnOf(seen));
    for (const axis of [0, 1, 2]) {
      const own = corners.filter((_, k) => k % 3 === axis);
      expect(low.toArray()[axis]).toBeCloseTo(Math.min(...own), 6);
      expect(high.toArray()[axis]).toBeCloseTo(Math.max(...own), 6);
    }
  });
});
