/** Leaves of paper in the buffers of the graphics card. */
import {
  BufferAttribute,
  BufferGeometry,
  DynamicDrawUsage,
  InstancedBufferAttribute,
  InstancedBufferGeometry,
} from 'three';
import { type Aside, asideAt, BENT_FINENESS } from '../core/layer/aside.ts';
import type { Leaves } from '../core/layer/leaves.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { type LeafMesh, leafMesh } from './leaf-mesh.ts';

export interface DrawnLeaves {
  readonly leaves: Leaves;
  readonly mesh: LeafMesh;
  readonly paper: BufferGeometry;
  readonly lines: InstancedBufferGeometry;
  /** How far each corner of the paper, and each strip of a line, is bent aside; see `bendLeaves`. */
  readonly shift: BentAttributes;
  /** Per strip: kind of line, half width in pixels, marked (0 none, 1 hover, 2 chosen). */
  readonly pen: InstancedBufferAttribute;
}

interface BentAttributes {
  /** What they were reckoned from. */
  from: Aside | null;
  /** Shift of a corner; of a seam's corner the shifts of both its ends. */
  readonly corner: BufferAttribute;
  readonly seamStart: BufferAttribute;
  readonly seamEnd: BufferAttribute;
  /** Shifts of both ends of a strip, and how they change inward, each sheet unit. */
  readonly stripStart: BufferAttribute;
  readonly stripEnd: BufferAttribute;
  readonly stripInward: BufferAttribute;
}

/** @param bent they will be bent aside, see `bendLeaves` */
export function drawLeaves(sheet: Sheet, leaves: Leaves, bent: boolean): DrawnLeaves {
  const mesh = leafMesh(sheet, leaves, bent ? BENT_FINENESS : 0);
  const paper = new BufferGeometry();
  paper.setAttribute('flatAt', new BufferAttribute(mesh.flat, 2));
  paper.setAttribute('panel', new BufferAttribute(mesh.panel, 1));
  paper.setAttribute('beyond', new BufferAttribute(mesh.beyond, 1));
  paper.setAttribute('rise', new BufferAttribute(mesh.rise, 1));
  paper.setAttribute('seam', new BufferAttribute(mesh.seam, 1));
  paper.setAttribute('riseBeyond', new BufferAttribute(mesh.riseBeyond, 1));
  paper.setAttribute('seamEnds', new BufferAttribute(mesh.seamEnds, 4));
  // Never read by the shaders; three counts corners by it.
  paper.setAttribute('position', new BufferAttribute(new Float32Array(mesh.panel.length * 3), 3));
  paper.setIndex(new BufferAttribute(mesh.triangles, 1));
  const { strips } = mesh;
  const lines = stripGeometry([0, 0, 1, 0, 1, 1, 0, 1], strips.crease.length);
  lines.setAttribute('ends', new InstancedBufferAttribute(strips.ends, 4));
  lines.setAttribute('span', new InstancedBufferAttribute(strips.span, 2));
  lines.setAttribute('inward', new InstancedBufferAttribute(strips.inward, 2));
  lines.setAttribute('panel', new InstancedBufferAttribute(strips.panel, 1));
  lines.setAttribute('beyond', new InstancedBufferAttribute(strips.beyond, 1));
  lines.setAttribute('rise', new InstancedBufferAttribute(strips.rise, 1));
  const pen = new InstancedBufferAttribute(new Float32Array(3 * strips.crease.length), 3);
  pen.setUsage(DynamicDrawUsage);
  lines.setAttribute('pen', pen);
  const shifts = (count: number) => new BufferAttribute(new Float32Array(3 * count), 3);
  const perStrip = () => new InstancedBufferAttribute(new Float32Array(3 * strips.crease.length), 3);
  const corners = mesh.panel.length;
  const shift: BentAttributes = {
    from: null,
    ...{ corner: shifts(corners), seamStart: shifts(corners), seamEnd: shifts(corners) },
    ...{ stripStart: perStrip(), stripEnd: perStrip(), stripInward: perStrip() },
  };
  paper.setAttribute('aside', shift.corner);
  paper.setAttribute('asideStart', shift.seamStart);
  paper.setAttribute('asideEnd', shift.seamEnd);
  lines.setAttribute('asideStart', shift.stripStart);
  lines.setAttribute('asideEnd', shift.stripEnd);
  lines.setAttribute('asideInward', shift.stripInward);
  return { leaves, mesh, paper, lines, shift, pen };
}

/** So far inward the change of a shift is read off, sheet units: within the triangle at the edge. */
const INWARD = 1e-4;

/** Bends leaves as told; does nothing where they are so already. */
export function bendLeaves({ mesh, shift }: DrawnLeaves, aside: Aside | null): void {
  if (shift.from === aside) return;
  shift.from = aside;
  const { corner, seamStart, seamEnd, stripStart, stripEnd, stripInward } = shift;
  const { flat, panel, seamEnds, strips } = mesh;
  for (let k = 0; k < panel.length; k++) {
    const at = (x: number, y: number) => asideAt(aside, panel[k]!, x, y);
    corner.setXYZ(k, ...at(flat[2 * k]!, flat[2 * k + 1]!));
    if (mesh.seam[k] === 0) continue;
    seamStart.setXYZ(k, ...at(seamEnds[4 * k]!, seamEnds[4 * k + 1]!));
    seamEnd.setXYZ(k, ...at(seamEnds[4 * k + 2]!, seamEnds[4 * k + 3]!));
  }
  for (let k = 0; k < strips.crease.length; k++) {
    const [x1, y1, x2, y2] = strips.ends.subarray(4 * k, 4 * k + 4) as unknown as [
      number,
      number,
      number,
      number,
    ];
    const [u, v] = [strips.inward[2 * k]!, strips.inward[2 * k + 1]!];
    const at = (share: number, inward: number) =>
      asideAt(
        aside,
        strips.panel[k]!,
        x1 + share * (x2 - x1) + inward * u,
        y1 + share * (y2 - y1) + inward * v,
      );
    const [from, to] = [strips.span[2 * k]!, strips.span[2 * k + 1]!];
    const [on, within] = [at((from + to) / 2, 0), at((from + to) / 2, INWARD)];
    stripStart.setXYZ(k, ...at(from, 0));
    stripEnd.setXYZ(k, ...at(to, 0));
    stripInward.setXYZ(
      k,
      (within[0] - on[0]) / INWARD,
      (within[1] - on[1]) / INWARD,
      (within[2] - on[2]) / INWARD,
    );
  }
  for (const attribute of [corner, seamStart, seamEnd, stripStart, stripEnd, stripInward])
    attribute.needsUpdate = true;
}

export function dispose({ paper, lines }: DrawnLeaves): void {
  paper.dispose();
  lines.dispose();
}

/** Where the slice cuts leaves: flat ends of each cut (x, y, x, y), how far both are bent aside, its panel and its rise. */
export interface Caps {
  readonly ends: Float32Array;
  /** Three numbers a cut, each. */
  readonly asideStart: Float32Array;
  readonly asideEnd: Float32Array;
  readonly panel: Float32Array;
  readonly rise: Float32Array;
}

export function drawCaps({ ends, asideStart, asideEnd, panel, rise }: Caps): InstancedBufferGeometry {
  const caps = stripGeometry([0, -1, 1, -1, 1, 1, 0, 1], panel.length);
  caps.setAttribute('ends', new InstancedBufferAttribute(ends, 4));
  caps.setAttribute('asideStart', new InstancedBufferAttribute(asideStart, 3));
  caps.setAttribute('asideEnd', new InstancedBufferAttribute(asideEnd, 3));
  caps.setAttribute('panel', new InstancedBufferAttribute(panel, 1));
  caps.setAttribute('rise', new InstancedBufferAttribute(rise, 1));
  return caps;
}

/** A strip of two triangles, drawn so many times. */
function stripGeometry(corners: readonly number[], count: number): InstancedBufferGeometry {
  const strip = new InstancedBufferGeometry();
  strip.setAttribute('corner', new BufferAttribute(Float32Array.from(corners), 2));
  strip.setAttribute('position', new BufferAttribute(new Float32Array(12), 3));
  strip.setIndex([0, 1, 2, 0, 2, 3]);
  strip.instanceCount = count;
  return strip;
}
