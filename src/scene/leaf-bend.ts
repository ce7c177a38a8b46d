/**
 * How far leaves are bent aside, in the buffers of the graphics card. Where a point lies in the triangles of its panel
 * does not change with the pose: it is looked up once, and a frame only adds up the shifts of three corners for each.
 */
import { BufferAttribute, InstancedBufferAttribute } from 'three';
import { type Aside, type BentMesh, type Spot, sharesOf, spotAt } from '../core/layer/aside.ts';
import type { LeafMesh, LeafStrips } from './leaf-mesh.ts';

/** An attribute, and where in the mesh of its panel each entry is read off. */
interface Reading {
  readonly name: string;
  readonly attribute: BufferAttribute;
  /** Per entry; -1 where there is nothing to be read off. */
  readonly panel: ArrayLike<number>;
  readonly spotOf: (mesh: BentMesh, entry: number) => Spot;
}

/** Entries of a panel in one attribute: which, the three corners that each is shifted with, and the shares of these. */
interface PanelSpots {
  readonly entries: Int32Array;
  readonly corners: Int32Array;
  readonly shares: Float64Array;
}

export class LeafBend {
  /** Attributes of the paper: shift of a corner; of a seam's corner the shifts of both its ends. */
  readonly ofPaper: readonly Reading[];
  /** Of the lines: shifts of both ends of a strip, and how they change inward, each sheet unit. */
  readonly ofLines: readonly Reading[];
  private readonly spots = new WeakMap<BentMesh, readonly PanelSpots[]>();
  private taken: Aside | null = null;

  constructor(mesh: LeafMesh) {
    this.ofPaper = readingsOfPaper(mesh);
    this.ofLines = readingsOfLines(mesh.strips);
  }

  /** Bends leaves as told; does nothing where they are so already. */
  take(aside: Aside | null): void {
    if (this.taken === aside) return;
    this.taken = aside;
    const readings = [...this.ofPaper, ...this.ofLines];
    for (const { attribute } of readings) {
      attribute.array.fill(0);
      attribute.needsUpdate = true;
    }
    for (const [panel, { mesh, shift }] of aside ?? []) {
      const spots = this.spots.get(mesh) ?? readings.map((reading) => spotsOf(reading, panel, mesh));
      this.spots.set(mesh, spots);
      spots.forEach((own, k) => {
        readOff(readings[k]!.attribute.array, own, shift);
      });
    }
  }
}

function readingsOfPaper({ flat, panel, seam, seamEnds }: LeafMesh): Reading[] {
  const onSeam = panel.map((own, k) => (seam[k] === 0 ? -1 : own));
  const ofCorners = (name: string, own: ArrayLike<number>, spotOf: Reading['spotOf']): Reading => {
    return {
      name,
      attribute: new BufferAttribute(new Float32Array(3 * panel.length), 3),
      panel: own,
      spotOf,
    };
  };
  return [
    ofCorners('aside', panel, (mesh, k) => spotAt(mesh, flat[2 * k]!, flat[2 * k + 1]!)),
    ofCorners('asideStart', onSeam, (mesh, k) => spotAt(mesh, seamEnds[4 * k]!, seamEnds[4 * k + 1]!)),
    ofCorners('asideEnd', onSeam, (mesh, k) => spotAt(mesh, seamEnds[4 * k + 2]!, seamEnds[4 * k + 3]!)),
  ];
}

/** So far inward the change of a shift is read off, sheet units: within the triangle at the edge. */
const INWARD = 1e-4;

function readingsOfLines({ ends, span, inward, panel }: LeafStrips): Reading[] {
  const along = (k: number, share: number, deep: number): [number, number] => {
    const at = (axis: number) =>
      ends[4 * k + axis]! +
      share * (ends[4 * k + 2 + axis]! - ends[4 * k + axis]!) +
      deep * inward[2 * k + axis]!;
    return [at(0), at(1)];
  };
  const [from, to] = [(k: number) => span[2 * k]!, (k: number) => span[2 * k + 1]!];
  const perStrip = (name: string, spotOf: Reading['spotOf']): Reading => {
    const attribute = new InstancedBufferAttribute(new Float32Array(3 * panel.length), 3);
    return { name, attribute, panel, spotOf };
  };
  return [
    perStrip('asideStart', (mesh, k) => spotAt(mesh, ...along(k, from(k), 0))),
    perStrip('asideEnd', (mesh, k) => spotAt(mesh, ...along(k, to(k), 0))),
    perStrip('asideInward', (mesh, k) => {
      const middle = (from(k) + to(k)) / 2;
      const { corners, shares } = spotAt(mesh, ...along(k, middle, INWARD));
      const edge = sharesOf(mesh.flat, ...corners, ...along(k, middle, 0));
      const change = (which: 0 | 1 | 2) => (shares[which] - edge[which]) / INWARD;
      return { corners, shares: [change(0), change(1), change(2)] };
    }),
  ];
}

function spotsOf({ panel, spotOf }: Reading, own: number, mesh: BentMesh): PanelSpots {
  const entries: number[] = [];
  for (let k = 0; k < panel.length; k++) if (panel[k] === own) entries.push(k);
  const spots = entries.map((k) => spotOf(mesh, k));
  return {
    entries: Int32Array.from(entries),
    corners: Int32Array.from(spots.flatMap(({ corners }) => corners)),
    shares: Float64Array.from(spots.flatMap(({ shares }) => shares)),
  };
}

/** Adds up the shifts of the corners. */
function readOff(
  out: { [at: number]: number },
  { entries, corners, shares }: PanelSpots,
  shift: Float64Array,
): void {
  for (let k = 0; k < entries.length; k++)
    for (let axis = 0; axis < 3; axis++)
      out[3 * entries[k]! + axis] =
        shares[3 * k]! * shift[3 * corners[3 * k]! + axis]! +
        shares[3 * k + 1]! * shift[3 * corners[3 * k + 1]! + axis]! +
        shares[3 * k + 2]! * shift[3 * corners[3 * k + 2]! + axis]!;
}
