/** A pose in the buffers of the graphics card: its leaves, where its panels stand, and what is marked on them. */
import { drawnLeaves, drawnPlace } from '../core/drawn/drawn-pose.ts';
import type { Aside } from '../core/layer/aside.ts';
import { type Leaf, leavesOfPanels } from '../core/layer/leaves.ts';
import type { Stacks } from '../core/layer/stacks.ts';
import type { Point, Space } from '../core/numeric/vector.ts';
import type { Placement } from '../core/pose/place.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { type DrawnLeaves, dispose, drawLeaves } from './drawn-leaves.ts';
import type { Framed } from './frame.ts';
import { PanelTexture } from './panel-texture.ts';
import type { StageUniforms } from './uniforms.ts';

/** A pose as it is shown. */
export interface ShownPose {
  readonly sheet: Sheet;
  readonly placement: Placement;
  /** Level of each panel along its own normal, and how far grazing panels are bent aside, see core/drawn. */
  readonly levels: Float32Array;
  readonly aside: Aside | null;
  /** Creases from this number on are bend lines, which are not drawn: hatching tells of them. */
  readonly ownCreases: number;
  /** Bend of each panel, degrees. */
  readonly bends: Float32Array;
}

export interface ModelMarks {
  readonly panels: readonly number[];
  readonly creases: readonly number[];
  readonly hoverPanels: readonly number[];
  readonly hoverCrease: number | null;
}

/** How a panel is seen through or lifted off. */
export interface Veil {
  /** 1 solid, 0 not there. */
  readonly opacity: number;
  /** Lifted along its own normal so far, sheet units. */
  readonly lift: number;
}

const noMarks: ModelMarks = { panels: [], creases: [], hoverPanels: [], hoverCrease: null };
export const noVeils: ReadonlyMap<number, Veil> = new Map();

/** Half widths of lines in pixels, in the order of `lineKinds`. */
const penWidth = [0.8, 0.8, 0.8, 0.5, 1.25, 1.0];

export class PoseBuffers {
  pose: ShownPose | null = null;
  marks = noMarks;
  /** Most layers to one side of the innermost. */
  deepest = 1;
  /** The sheets' panels as they move; and the leaves of the pose at rest. */
  private moving = new Map<Sheet, DrawnLeaves>();
  /** The same, cut finer, for poses in which some are bent aside. */
  private bending = new Map<Sheet, DrawnLeaves>();
  private resting: DrawnLeaves | null = null;
  private readonly texture: PanelTexture;

  /** @param sheets so many are kept, for poses that come back to them */
  constructor(
    uniforms: StageUniforms,
    private readonly sheets: number,
  ) {
    this.texture = new PanelTexture(uniforms);
  }

  /** @param stacks layers of the pose, where they are known: while the slider moves they are not */
  take(pose: ShownPose, stacks: Stacks | null): void {
    const before = this.resting;
    // where nothing lies on anything the panels as they move serve as well
    const layered = stacks?.over.some((cells) => cells.some((panels) => panels.length > 1));
    this.resting =
      stacks && layered
        ? drawLeaves(pose.sheet, drawnLeaves(pose.sheet, pose.placement, pose, stacks), pose.aside !== null)
        : null;
    if (before) dispose(before);
    this.pose = pose;
    const { leaves } = this.drawn.leaves;
    this.deepest = leaves.reduce((most, leaf) => Math.max(most, Math.abs(this.heightOf(leaf))), 1);
  }

  /** The leaves of the pose at rest, or the panels as they move. */
  get drawn(): DrawnLeaves {
    return this.resting ?? this.movingOf(this.pose!);
  }

  /** Are the layers those of a pose at rest? While paper moves its layers keep together. */
  get atRest(): boolean {
    return this.resting !== null;
  }

  /** Layers by which a leaf is held off its panel's plane, along the panel's normal. */
  heightOf({ panel, rise }: Leaf): number {
    return rise + this.levelOf(panel);
  }

  /** What is to be framed: a fan takes room, and so does a thick stack of paper. @param spacing of two layers */
  framed(spacing: number): Framed {
    const { leaves } = this.drawn.leaves;
    const off = (leaf: number) => this.heightOf(leaves[leaf]!) * spacing;
    return { placement: this.pose!.placement, leaves, off };
  }

  /** Where a flat point of a leaf is drawn. @param off how far the leaf is held off along its panel's normal */
  placeOf(leaf: number, at: Point, off: number): Space {
    const { placement, aside } = this.pose!;
    return drawnPlace(placement, aside, this.drawn.leaves.leaves[leaf]!.panel, at, off);
  }

  /** Sends the pose, the marks and what is seen through. */
  send(veils: ReadonlyMap<number, Veil>): void {
    const { placement, aside, bends } = this.pose!;
    this.drawn.bend.take(aside);
    const chosen = new Set(this.marks.panels);
    const hovered = new Set(this.marks.hoverPanels);
    this.texture.take(placement, (panel, data, at) => {
      const veil = veils.get(panel);
      data[at] = this.levelOf(panel);
      data[at + 1] = chosen.has(panel) ? 0.3 : hovered.has(panel) ? 0.1 : 0;
      data[at + 2] = bends[panel]!;
      data[at + 3] = veil?.opacity ?? 1;
      data[at + 4] = veil?.lift ?? 0;
    });
  }

  /** Sends kind, width and mark of each line. */
  sendPens(): void {
    const { sheet, ownCreases: own } = this.pose!;
    const { drawn, marks } = this;
    const chosen = new Set(marks.creases);
    const pen = drawn.pen.array as Float32Array;
    drawn.mesh.strips.crease.forEach((crease, strip) => {
      pen[3 * strip] = sheet.creaseKind[crease]!;
      pen[3 * strip + 1] = crease < own ? penWidth[sheet.creaseKind[crease]!]! : -1;
      pen[3 * strip + 2] = chosen.has(crease) ? 2 : crease === marks.hoverCrease ? 1 : 0;
    });
    drawn.pen.needsUpdate = true;
  }

  dispose(): void {
    for (const known of [this.moving, this.bending]) {
      for (const drawn of known.values()) dispose(drawn);
      known.clear();
    }
    if (this.resting) dispose(this.resting);
    this.resting = null;
    this.texture.dispose();
  }

  /** The graphics context is gone, and all buffers with it: they are forgotten, since nobody can give them back. */
  forget(): void {
    this.moving = new Map();
    this.bending = new Map();
    if (this.pose && this.resting)
      this.resting = drawLeaves(this.pose.sheet, this.resting.leaves, this.pose.aside !== null);
  }

  private levelOf(panel: number): number {
    return this.resting ? 0 : this.pose!.levels[panel]!;
  }

  private movingOf({ sheet, aside }: ShownPose): DrawnLeaves {
    const known = aside ? this.bending : this.moving;
    const own = known.get(sheet);
    if (own) return own;
    const leaves = leavesOfPanels(sheet, new Float32Array(sheet.panelRings.length));
    const drawn = drawLeaves(sheet, leaves, aside !== null);
    if (known.size >= this.sheets) {
      const [oldest] = known.keys();
      dispose(known.get(oldest!)!);
      known.delete(oldest!);
    }
    known.set(sheet, drawn);
    return drawn;
  }
}
