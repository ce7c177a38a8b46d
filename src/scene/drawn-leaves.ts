/** Leaves of paper in the buffers of the graphics card. */
import {
  BufferAttribute,
  BufferGeometry,
  DynamicDrawUsage,
  InstancedBufferAttribute,
  InstancedBufferGeometry,
} from 'three';
import { BENT_FINENESS } from '../core/layer/aside.ts';
import type { Leaves } from '../core/layer/leaves.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { LeafBend } from './leaf-bend.ts';
import { type LeafMesh, leafMesh } from './leaf-mesh.ts';

export interface DrawnLeaves {
  readonly leaves: Leaves;
  readonly mesh: LeafMesh;
  readonly paper: BufferGeometry;
  readonly lines: InstancedBufferGeometry;
  /** How far each corner of the paper, and each strip of a line, is bent aside. */
  readonly bend: LeafBend;
  /** Per strip: kind of line, half width in pixels, marked (0 none, 1 hover, 2 chosen). */
  readonly pen: InstancedBufferAttribute;
}

/** @param bent they will be bent aside, see `LeafBend` */
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
  const bend = new LeafBend(mesh);
  for (const { name, attribute } of bend.ofPaper) paper.setAttribute(name, attribute);
  for (const { name, attribute } of bend.ofLines) lines.setAttribute(name, attribute);
  return { leaves, mesh, paper, lines, bend, pen };
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
