/**
 * The model on its table, behind a plain handle: hand it poses, colours and marks, ask it what lies under the
 * pointer. Poses go straight to a texture; nothing here passes through React.
 */
import {
  BufferGeometry,
  type Camera,
  DataTexture,
  FloatType,
  GreaterDepth,
  Group,
  LessEqualDepth,
  Matrix4,
  Mesh,
  NearestFilter,
  Quaternion,
  RGBAFormat,
  Vector2,
  Vector3,
  type WebGLRenderer,
  WebGLRenderTarget,
} from 'three';
import { drawnLeaves, drawnPlace } from '../core/drawn/drawn-pose.ts';
import type { Aside } from '../core/layer/aside.ts';
import { type Leaves, leavesOfPanels } from '../core/layer/leaves.ts';
import type { Space } from '../core/layer/planes.ts';
import type { Stacks } from '../core/layer/stacks.ts';
import type { EyePlace } from '../core/lesson/eye.ts';
import type { Placement } from '../core/pose/place.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { CameraRig } from './camera-rig.ts';
import { type Caps, type DrawnLeaves, dispose, drawCaps, drawLeaves } from './drawn-leaves.ts';
import { capMaterial, creaseMaterial, paperMaterial, shared } from './materials.ts';
import { type Pick, type PickedModel, pickModel } from './pick.ts';
import { TableShadow } from './table-shadow.ts';

const PANELS_PER_ROW = 256;

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

/** Colours as #rrggbb; inks in the order of `lineKinds`. */
export interface ModelLook {
  readonly up: string;
  readonly down: string;
  readonly inkUp: readonly string[];
  readonly inkDown: readonly string[];
  /** Inks on paper that is seen through, which lie on the table rather. */
  readonly inkGlass: readonly string[];
  /** Of the table. */
  readonly ground: string;
  readonly accent: string;
  readonly dark: boolean;
  readonly sheetSize: number;
  /** Of the paper, mm. */
  readonly thickness: number;
}

export interface ModelMarks {
  readonly panels: readonly number[];
  readonly creases: readonly number[];
  readonly hoverPanels: readonly number[];
  readonly hoverCrease: number | null;
}

/** What of the model is seen through, lifted off, pulled apart or cut away. */
export interface InsideLook {
  /** 0: layers lie a thickness of paper apart; 1: pulled apart as far as they go. */
  readonly fan: number;
  /** Panels that are seen through or lifted off. */
  readonly veiled: ReadonlyMap<number, Veil>;
  /** The plane of the slice, in the model's frame; the half toward the eye is taken away, unless both halves stay. */
  readonly cut: {
    readonly normal: Space;
    readonly offset: number;
    readonly caps: Caps;
    readonly bothStay: boolean;
  } | null;
  /** Dotted edges where a layer hides another. */
  readonly dotted: boolean;
}

export interface Veil {
  /** 1 solid, 0 not there. */
  readonly opacity: number;
  /** Lifted along its own normal so far, sheet units. */
  readonly lift: number;
}

export const nothingInside: InsideLook = { fan: 0, veiled: new Map(), cut: null, dotted: false };

/**
 * Layers are drawn at least so far apart, pixels: a raster that rounds corners to a sixteenth of a pixel tells them
 * apart, an eye does not see it.
 */
const LEAST_SPACING = 0.22;
/** What is drawn thicker than it is, so that layers can be told apart, makes a stack no higher than this, sheet units. */
const STACK_HEIGHT = 0.2;
/** The deepest stack, pulled apart, stands so high at most, and two layers so far apart, sheet units. */
const FAN_HEIGHT = 0.34;
const FAN_STEP = 0.075;
/** Paper that would be stretched between layers pulled apart is shown faintly. */
const SEAM_OPACITY = 0.26;
/** Seconds in which what is pulled apart or lifted covers most of its way. */
const EASE_SECONDS = 0.16;

const noMarks: ModelMarks = { panels: [], creases: [], hoverPanels: [], hoverCrease: null };

/** Half widths of lines in pixels, in the order of `lineKinds`. */
const penWidth = [0.8, 0.8, 0.8, 0.5, 1.25, 1.0];

export class ModelStage {
  readonly group = new Group();
  readonly paper = new Mesh(new BufferGeometry(), paperMaterial('solid'));
  private readonly glass = new Mesh(this.paper.geometry, paperMaterial('glass'));
  private readonly hidden = new Mesh(new BufferGeometry(), creaseMaterial('hidden'));
  private readonly veil = new Mesh(this.paper.geometry, paperMaterial('veil'));
  readonly lines = new Mesh(this.hidden.geometry, creaseMaterial('open'));
  private readonly caps = new Mesh(new BufferGeometry(), capMaterial());
  readonly shadow = new TableShadow();
  readonly rig = new CameraRig();
  /** Asks for a new picture; set by the scene. */
  invalidate: () => void = () => {};
  /** Called after each picture, so that what lies over the canvas can follow. */
  onDrawn: () => void = () => {};
  /** Measures anew the room that the model may fill; set by the scene. */
  remeasure: () => void = () => {};
  /** Keeps the view still while a corner is dragged; set by the scene. */
  hold: (held: boolean) => void = () => {};
  /** The sheets' panels as they move; and the leaves of the pose at rest. */
  private moving = new Map<Sheet, DrawnLeaves>();
  /** The same, cut finer, for poses in which some are bent aside. */
  private bending = new Map<Sheet, DrawnLeaves>();
  private resting: DrawnLeaves | null = null;
  private inside = nothingInside;
  private fan = 0;
  private veils = new Map<number, { opacity: number; lift: number }>();
  private paperThickness = 5e-4;
  private easing = false;
  private pose: ShownPose | null = null;
  private texture = placementTexture(1);
  private marks = noMarks;
  private turned = 0;
  private turnGoal = 0;
  private rest: { position: Vector3; quaternion: Quaternion } | null = null;
  private renderer: WebGLRenderer | null = null;
  private size = new Vector2(1, 1);
  private stale = true;
  /** Pictures drawn so far, for tests that ask whether drawing rests. */
  pictures = 0;

  constructor() {
    [this.paper, this.glass, this.hidden, this.veil, this.lines, this.caps].forEach((mesh, order) => {
      mesh.frustumCulled = false;
      mesh.renderOrder = order + 1;
      this.group.add(mesh);
    });
    for (const mesh of [this.hidden, this.veil, this.caps]) mesh.visible = false;
    this.group.matrixAutoUpdate = false;
    shared.placementOf.value = this.texture;
  }

  /**
   * Shows a pose. The first one, and any after `fit`, is framed at once; later ones are followed softly.
   * @param stacks its layers, where they are known: while the slider moves they are not
   */
  showPose(pose: ShownPose, stacks: Stacks | null = null): void {
    if (this.pose?.sheet !== pose.sheet) this.veils.clear();
    const before = this.resting;
    // where nothing lies on anything the panels as they move serve as well
    const layered = stacks?.over.some((cells) => cells.some((panels) => panels.length > 1));
    this.resting =
      stacks && layered
        ? drawLeaves(pose.sheet, drawnLeaves(pose.sheet, pose.placement, pose, stacks), pose.aside !== null)
        : null;
    if (before) dispose(before);
    this.pose = pose;
    this.takeGeometry(this.drawnNow);
    this.drawPens(pose, this.drawnNow);
    this.upload(pose);
    this.space();
    this.place();
  }

  /** The leaves as they are drawn. */
  get leaves(): Leaves | null {
    return this.drawnLeaves?.leaves ?? null;
  }

  get drawnLeaves(): DrawnLeaves | null {
    return this.pose && this.drawnNow;
  }

  /** Shows the inside as wished; what changes eases, unless told otherwise. */
  setInside(look: InsideLook, ease: boolean): void {
    if (look.cut !== this.inside.cut) {
      this.caps.geometry.dispose();
      if (look.cut) this.caps.geometry = drawCaps(look.cut.caps);
      this.stale = true;
    }
    this.inside = look;
    if (ease) this.easing = true;
    else this.easeInside(1);
    this.invalidate();
  }

  get shown(): ShownPose | null {
    return this.pose;
  }

  setLook(look: ModelLook): void {
    shared.upColour.value.setRGB(...channels(look.up));
    shared.downColour.value.setRGB(...channels(look.down));
    shared.accent.value.setRGB(...channels(look.accent));
    shared.hatchColour.value.setRGB(...channels(look.dark ? '#d9822b' : '#b4470f'));
    look.inkUp.forEach((ink, kind) => {
      shared.inkUp.value[kind]!.setRGB(...channels(ink));
    });
    look.inkDown.forEach((ink, kind) => {
      shared.inkDown.value[kind]!.setRGB(...channels(ink));
    });
    look.inkGlass.forEach((ink, kind) => {
      shared.inkGlass.value[kind]!.setRGB(...channels(ink));
    });
    shared.ground.value.setRGB(...channels(look.ground));
    shared.sheetSize.value = look.sheetSize;
    this.paperThickness = look.thickness / look.sheetSize;
    this.caps.material.uniforms.rimColour!.value.setRGB(...channels(look.dark ? '#0d0b09' : '#2a2622'));
    this.space();
    shared.roomLight.value = look.dark ? 0.7 : 0.74;
    this.shadow.setDark(look.dark);
    this.invalidate();
  }

  setMarks(marks: ModelMarks): void {
    this.marks = marks;
    if (!this.pose) return;
    this.drawPens(this.pose, this.drawnNow);
    this.upload(this.pose);
    this.invalidate();
  }

  private drawPens({ sheet, ownCreases: own }: ShownPose, drawn: DrawnLeaves): void {
    const { marks } = this;
    const chosen = new Set(marks.creases);
    const pen = drawn.pen.array as Float32Array;
    drawn.mesh.strips.crease.forEach((crease, strip) => {
      pen[3 * strip] = sheet.creaseKind[crease]!;
      pen[3 * strip + 1] = crease < own ? penWidth[sheet.creaseKind[crease]!]! : -1;
      pen[3 * strip + 2] = chosen.has(crease) ? 2 : crease === marks.hoverCrease ? 1 : 0;
    });
    drawn.pen.needsUpdate = true;
  }

  /** Turns the model over in the hand: only what the eye sees changes, the pose does not. */
  turnOver(over: boolean, ease: boolean): void {
    this.turnGoal = over ? Math.PI : 0;
    if (!ease) this.turned = this.turnGoal;
    this.place();
  }

  /** Turns the model round on the table, radians, counter-clockwise seen from above. */
  turnTable(angle: number, ease: boolean): void {
    this.rig.turnTable(angle, ease);
    this.invalidate();
  }

  /** Takes the eye to a place. */
  flyTo(place: EyePlace, ease: boolean): void {
    this.rig.flyTo(place, ease);
    this.invalidate();
  }

  /** Where the model lies after it was set on the table; null puts it back where its still panel is. */
  setRest(rest: { position: readonly number[]; quaternion: readonly number[] } | null): void {
    this.rest = rest && {
      position: new Vector3().fromArray(rest.position as number[]),
      quaternion: new Quaternion().fromArray(rest.quaternion as number[]),
    };
    this.place();
  }

  /** What lies at a place of the canvas (pixels from its top left corner). */
  pick(x: number, y: number, reachPixels: number): Pick | null {
    if (!this.pose) return null;
    const camera = this.rig.camera;
    const inverse = this.group.matrix.clone().invert();
    const eye = camera.position.clone();
    const toward = new Vector3((x / this.size.x) * 2 - 1, 1 - (y / this.size.y) * 2, 0.5).unproject(camera);
    toward.sub(eye).normalize();
    eye.applyMatrix4(inverse);
    toward.transformDirection(inverse);
    const reach = (reachPixels * 2 * Math.tan((camera.fov * Math.PI) / 360)) / this.size.y;
    const look = (solid: (panel: number) => boolean) =>
      pickModel(this.pickedModel(solid), eye.toArray(), toward.toArray(), reach);
    const opacity = (panel: number) => this.veils.get(panel)?.opacity ?? 1;
    return look((panel) => opacity(panel) > 0.5) ?? look((panel) => opacity(panel) > 0.05);
  }

  /** Size of the canvas, pixels. */
  get extent(): { width: number; height: number } {
    return { width: this.size.x, height: this.size.y };
  }

  /** The place of the eye in the model's frame. */
  get eye(): Space {
    return this.rig.camera.position.clone().applyMatrix4(this.group.matrix.clone().invert()).toArray();
  }

  /** The panel nearest to the eye that hides a place, those given left out; null when nothing hides it. */
  hider(place: Space, but: ReadonlySet<number>): number | null {
    const eye = new Vector3(...this.eye);
    const toward = new Vector3(...place).sub(eye);
    const distance = toward.length();
    const model = this.pickedModel((panel) => !but.has(panel));
    const pick = pickModel(model, eye.toArray(), toward.divideScalar(distance).toArray(), 0);
    return pick && pick.distance < distance - 1e-6 ? pick.panel : null;
  }

  /** Where a flat point of a leaf is drawn, in the model's frame. */
  placeOf(leaf: number, x: number, y: number): Space {
    const { panel } = this.drawnNow.leaves.leaves[leaf]!;
    const { placement, aside } = this.pose!;
    return drawnPlace(placement, aside, panel, [x, y], this.offOf(leaf));
  }

  private pickedModel(solid: (panel: number) => boolean): PickedModel {
    const { sheet, placement, aside } = this.pose!;
    const { leaves, mesh } = this.drawnNow;
    const { value: cut } = shared.cutPlane;
    return {
      sheet,
      leaves: leaves.leaves,
      mesh,
      placement,
      aside,
      off: (leaf) => this.offOf(leaf),
      solid,
      there: ([x, y, z]) => cut.x * x + cut.y * y + cut.z * z <= cut.w,
    };
  }

  /** How far a leaf is held off its panel's plane, along the panel's normal. */
  private offOf(leaf: number): number {
    const { panel, rise } = this.drawnNow.leaves.leaves[leaf]!;
    const level = this.resting ? 0 : this.pose!.levels[panel]!;
    return (rise + level) * shared.spacing.value + (this.veils.get(panel)?.lift ?? 0);
  }

  /** Pixels from the canvas's top left corner of a place in the model's frame, and its distance from the eye. */
  toScreen(place: readonly [number, number, number]): { x: number; y: number; depth: number } {
    const world = new Vector3(...place).applyMatrix4(this.group.matrix);
    const depth = world.distanceTo(this.rig.camera.position);
    world.project(this.rig.camera);
    return { x: ((world.x + 1) / 2) * this.size.x, y: ((1 - world.y) / 2) * this.size.y, depth };
  }

  /** The place in the model's frame under a pixel, at the depth (along the view) of another place. */
  fromScreen(x: number, y: number, like: readonly [number, number, number]): [number, number, number] {
    const camera = this.rig.camera;
    const depth = new Vector3(...like).applyMatrix4(this.group.matrix).project(camera).z;
    const at = new Vector3((x / this.size.x) * 2 - 1, 1 - (y / this.size.y) * 2, depth).unproject(camera);
    return at.applyMatrix4(this.group.matrix.clone().invert()).toArray();
  }

  /** Size of the canvas, and the heights above and below that the model is kept out of, pixels. */
  resize(width: number, height: number, above = 0, below = 0): void {
    this.size.set(Math.max(1, width), Math.max(1, height));
    this.rig.resize(width, height, above, below);
    shared.pixelsPerUnit.value = height / (2 * Math.tan((this.rig.camera.fov * Math.PI) / 360));
    this.invalidate();
  }

  /** Draws one picture. @returns whether something still moves */
  draw(renderer: WebGLRenderer, scene: Parameters<WebGLRenderer['render']>[0], seconds: number): boolean {
    this.renderer = renderer;
    let moving = this.rig.advance(seconds);
    if (this.turned !== this.turnGoal) {
      const left = this.turnGoal - this.turned;
      this.turned =
        Math.abs(left) < 0.004 ? this.turnGoal : this.turned + left * (1 - Math.exp(-seconds * 7));
      this.place();
      moving = true;
    }
    if (this.easing) {
      this.easing = this.easeInside(1 - Math.exp(-Math.min(seconds, 0.3) / EASE_SECONDS));
      moving = moving || this.easing;
    }
    this.turnCut();
    this.space();
    if (this.pose && this.stale) {
      this.shadow.update(renderer, this.paper);
      this.stale = false;
    }
    renderer.setRenderTarget(null);
    renderer.render(scene, this.rig.camera);
    this.pictures++;
    this.onDrawn();
    return moving;
  }

  /** Brings what is pulled apart, lifted or seen through nearer to what is wished. @returns whether more is to come */
  private easeInside(part: number): boolean {
    const { inside } = this;
    // While paper moves its layers keep together.
    const goal = this.resting ? inside.fan : 0;
    const toward = (from: number, to: number) =>
      Math.abs(to - from) < 2e-3 ? to : from + (to - from) * part;
    let more = false;
    const fan = toward(this.fan, goal);
    more = fan !== goal;
    this.fan = fan;
    for (const panel of new Set([...this.veils.keys(), ...inside.veiled.keys()])) {
      const now = this.veils.get(panel) ?? { opacity: 1, lift: 0 };
      const wished = inside.veiled.get(panel) ?? { opacity: 1, lift: 0 };
      const next = { opacity: toward(now.opacity, wished.opacity), lift: toward(now.lift, wished.lift) };
      if (next.opacity !== wished.opacity || next.lift !== wished.lift) more = true;
      if (next.opacity === 1 && next.lift === 0) this.veils.delete(panel);
      else this.veils.set(panel, next);
    }
    const seenThrough = this.fan > 0.01 || [...this.veils.values()].some(({ opacity }) => opacity < 0.999);
    this.veil.visible = seenThrough;
    const glassy = [...inside.veiled.values()].some(({ opacity }) => opacity > 0 && opacity < 1);
    this.hidden.visible = inside.dotted && seenThrough;
    this.hidden.material.depthFunc = glassy ? LessEqualDepth : GreaterDepth;
    this.caps.visible = inside.cut !== null;
    this.space();
    if (this.pose) {
      this.upload(this.pose);
      this.place();
    }
    return more;
  }

  /** Sets how far layers stand apart. */
  private space(): void {
    const deepest = this.deepestStack;
    const thickness = this.thicknessAt(this.rig.distance);
    const apart = this.fan * Math.min(FAN_STEP, FAN_HEIGHT / deepest);
    shared.spacing.value = thickness + apart;
    shared.lineLift.value = 0.3 * thickness;
    shared.seamOpacity.value = 1 - (1 - SEAM_OPACITY) * Math.min(1, this.fan * 8);
  }

  /** Most layers to one side of the innermost. */
  private get deepestStack(): number {
    if (this.resting)
      return this.resting.leaves.leaves.reduce((most, { rise }) => Math.max(most, Math.abs(rise)), 1);
    return this.pose?.levels.reduce((most, level) => Math.max(most, Math.abs(level)), 1) ?? 1;
  }

  /** How thick paper is drawn, so far from the eye: as thick as it is, and no thinner than a raster can tell. */
  private thicknessAt(distance: number): number {
    const told = (LEAST_SPACING * distance) / shared.pixelsPerUnit.value;
    return Math.max(this.paperThickness, Math.min(told, STACK_HEIGHT / this.deepestStack));
  }

  /** The half of the model toward the eye is the one that is cut away. */
  private turnCut(): void {
    const { cut } = this.inside;
    const [x, y, z, w] = shared.cutPlane.value.toArray();
    if (!cut || cut.bothStay) shared.cutPlane.value.set(0, 0, 0, 1);
    else {
      const [a, b, c] = cut.normal;
      const eye = this.eye;
      const side = a * eye[0] + b * eye[1] + c * eye[2] > cut.offset ? 1 : -1;
      shared.cutPlane.value.set(side * a, side * b, side * c, side * cut.offset);
    }
    const now = shared.cutPlane.value;
    if (now.x !== x || now.y !== y || now.z !== z || now.w !== w) this.stale = true;
  }

  /** A small picture of a pose on no ground, as a data URL; null before the first picture was drawn. */
  async picture(pose: ShownPose, width: number, height: number, otherSideUp = false): Promise<string | null> {
    const { renderer, pose: kept, marks } = this;
    if (!renderer || !kept) return null;
    const target = new WebGLRenderTarget(width, height, { samples: 4 });
    const matrix = this.group.matrix.clone();
    const pixelsPerUnit = shared.pixelsPerUnit.value;
    const { resting, veils, fan } = this;
    const cut = shared.cutPlane.value.clone();
    const shownMeshes = [this.hidden, this.veil, this.caps].filter(({ visible }) => visible);
    try {
      if (otherSideUp) swapSides();
      this.marks = noMarks;
      this.resting = null;
      this.veils = new Map();
      this.fan = 0;
      this.space();
      shared.seamOpacity.value = 1;
      shared.cutPlane.value.set(0, 0, 0, 1);
      for (const mesh of shownMeshes) mesh.visible = false;
      this.pose = pose;
      this.showQuietly(pose);
      this.space();
      const box = this.boxOf(pose, new Matrix4());
      this.group.matrix.makeTranslation(0, 0, -box.low.z);
      this.group.matrixWorldNeedsUpdate = true;
      this.shadow.update(renderer, this.paper);
      const camera = this.rig.portrait(box.low, box.high, width / height);
      shared.pixelsPerUnit.value = (height / (2 * Math.tan((camera.fov * Math.PI) / 360))) * 0.62;
      const away = camera.position.distanceTo(box.low.clone().add(box.high).multiplyScalar(0.5));
      shared.spacing.value = this.thicknessAt(away);
      shared.lineLift.value = 0.3 * shared.spacing.value;
      renderer.setRenderTarget(target);
      renderer.setClearColor(0, 0);
      renderer.clear();
      renderer.render(this.group, camera as Camera);
      renderer.setRenderTarget(null);
    } finally {
      if (otherSideUp) swapSides();
      this.group.matrix.copy(matrix);
      this.group.matrixWorldNeedsUpdate = true;
      shared.pixelsPerUnit.value = pixelsPerUnit;
      this.marks = marks;
      this.resting = resting;
      this.veils = veils;
      this.fan = fan;
      this.space();
      shared.cutPlane.value.copy(cut);
      for (const mesh of shownMeshes) mesh.visible = true;
      this.pose = kept;
      this.showQuietly(kept);
      this.stale = true;
      this.invalidate();
    }
    const pixels = new Uint8Array(width * height * 4);
    try {
      await renderer.readRenderTargetPixelsAsync(target, 0, 0, width, height, pixels);
    } catch {
      // the graphics card let go of the picture while it was read
      return null;
    } finally {
      target.dispose();
    }
    return toDataUrl(pixels, width, height);
  }

  dispose(): void {
    for (const known of [this.moving, this.bending]) {
      for (const drawn of known.values()) dispose(drawn);
      known.clear();
    }
    if (this.resting) dispose(this.resting);
    this.resting = null;
    this.caps.geometry.dispose();
    this.texture.dispose();
    this.shadow.dispose();
  }

  /** The graphics context is gone, and all buffers with it: they are forgotten, since nobody can give them back. */
  forget(): void {
    this.moving = new Map();
    this.bending = new Map();
    if (this.pose && this.resting)
      this.resting = drawLeaves(this.pose.sheet, this.resting.leaves, this.pose.aside !== null);
    if (this.inside.cut) this.caps.geometry = drawCaps(this.inside.cut.caps);
    if (this.pose) this.showQuietly(this.pose);
  }

  /** After the graphics context came back everything is sent again. */
  restore(): void {
    this.forget();
    this.texture.needsUpdate = true;
    this.stale = true;
    this.invalidate();
  }

  private showQuietly(pose: ShownPose): void {
    this.takeGeometry(this.drawnNow);
    this.drawPens(pose, this.drawnNow);
    this.upload(pose);
  }

  private takeGeometry({ paper, lines }: DrawnLeaves): void {
    for (const mesh of [this.paper, this.glass, this.veil]) mesh.geometry = paper;
    for (const mesh of [this.lines, this.hidden]) mesh.geometry = lines;
  }

  /** The leaves of the pose at rest, or the panels as they move. */
  private get drawnNow(): DrawnLeaves {
    return this.resting ?? this.movingOf(this.pose!);
  }

  private movingOf({ sheet, aside }: ShownPose): DrawnLeaves {
    const known = aside ? this.bending : this.moving;
    const own = known.get(sheet);
    if (own) return own;
    const leaves = leavesOfPanels(sheet, new Float32Array(sheet.panelRings.length));
    const drawn = drawLeaves(sheet, leaves, aside !== null);
    if (known.size > 24) {
      const [oldest] = known.keys();
      dispose(known.get(oldest!)!);
      known.delete(oldest!);
    }
    known.set(sheet, drawn);
    return drawn;
  }

  private upload(pose: ShownPose): void {
    this.drawnNow.bend.take(pose.aside);
    const count = pose.sheet.panelRings.length;
    const rows = Math.ceil(count / PANELS_PER_ROW);
    if (this.texture.image.height < rows) {
      this.texture.dispose();
      this.texture = placementTexture(rows);
      shared.placementOf.value = this.texture;
    }
    const data = this.texture.image.data as Float32Array;
    const { rotation, translation } = pose.placement;
    const chosen = new Set(this.marks.panels);
    const hovered = new Set(this.marks.hoverPanels);
    for (let p = 0; p < count; p++) {
      const at = 12 * p;
      for (let k = 0; k < 4; k++) data[at + k] = rotation[4 * p + k]!;
      for (let k = 0; k < 3; k++) data[at + 4 + k] = translation[3 * p + k]!;
      data[at + 7] = this.resting ? 0 : pose.levels[p]!;
      data[at + 8] = chosen.has(p) ? 0.3 : hovered.has(p) ? 0.1 : 0;
      data[at + 9] = pose.bends[p]!;
      const veil = this.veils.get(p);
      data[at + 10] = veil?.opacity ?? 1;
      data[at + 11] = veil?.lift ?? 0;
    }
    this.texture.needsUpdate = true;
    this.stale = true;
    this.invalidate();
  }

  /** Puts the group where it belongs: turned as wished, its lowest point on the table. */
  private place(): void {
    if (!this.pose) return;
    const turn = new Matrix4();
    if (this.rest) {
      turn.compose(this.rest.position, this.rest.quaternion, new Vector3(1, 1, 1));
    } else {
      const { low, high } = this.boxOf(this.pose, new Matrix4());
      const middle = low.clone().add(high).multiplyScalar(0.5);
      turn
        .makeTranslation(middle.x, middle.y, middle.z)
        .multiply(new Matrix4().makeRotationY(this.turned))
        .multiply(new Matrix4().makeTranslation(-middle.x, -middle.y, -middle.z));
    }
    const { low, high } = this.boxOf(this.pose, turn);
    const lift = this.rest ? 0 : -low.z;
    this.group.matrix.makeTranslation(0, 0, lift).multiply(turn);
    this.group.matrixWorldNeedsUpdate = true;
    low.z += lift;
    high.z += lift;
    this.rig.frame(low, high);
    this.shadow.moveTo(
      (low.x + high.x) / 2,
      (low.y + high.y) / 2,
      Math.max(high.x - low.x, high.y - low.y, high.z),
    );
    this.stale = true;
    this.invalidate();
  }

  private boxOf(pose: ShownPose, matrix: Matrix4): { low: Vector3; high: Vector3 } {
    const { leaves } = this.drawnNow.leaves;
    const { rotation, translation } = pose.placement;
    const low = new Vector3(Infinity, Infinity, Infinity);
    const high = new Vector3(-Infinity, -Infinity, -Infinity);
    const at = new Vector3();
    const q = new Quaternion();
    // A fan takes room, and so does a thick stack of paper.
    const spacing = shared.spacing.value;
    for (const { panel: p, rise, rings } of leaves) {
      const level = this.resting ? 0 : pose.levels[p]!;
      q.set(rotation[4 * p]!, rotation[4 * p + 1]!, rotation[4 * p + 2]!, rotation[4 * p + 3]!);
      const ring = rings[0]!;
      for (let k = 0; k < ring.length; k += 2) {
        at.set(ring[k]!, ring[k + 1]!, (rise + level) * spacing).applyQuaternion(q);
        at.x += translation[3 * p]!;
        at.y += translation[3 * p + 1]!;
        at.z += translation[3 * p + 2]!;
        at.applyMatrix4(matrix);
        low.min(at);
        high.max(at);
      }
    }
    return { low, high };
  }
}

/** Three numbers 0..1 of #rrggbb, as they stand (the shaders do their own conversion). */
function channels(colour: string): [number, number, number] {
  const value = Number.parseInt(colour.slice(1), 16);
  return [(value >> 16) / 255, ((value >> 8) & 255) / 255, (value & 255) / 255];
}

function placementTexture(rows: number): DataTexture {
  const width = PANELS_PER_ROW * 3;
  const texture = new DataTexture(new Float32Array(4 * width * rows), width, rows, RGBAFormat, FloatType);
  texture.magFilter = NearestFilter;
  texture.minFilter = NearestFilter;
  texture.needsUpdate = true;
  return texture;
}

function toDataUrl(pixels: Uint8Array, width: number, height: number): string {
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const context = canvas.getContext('2d')!;
  const image = context.createImageData(width, height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const from = 4 * ((height - 1 - y) * width + x);
      const to = 4 * (y * width + x);
      const alpha = pixels[from + 3]!;
      for (let k = 0; k < 3; k++)
        image.data[to + k] = alpha > 0 ? Math.min(255, (pixels[from + k]! * 255) / alpha) : 0;
      image.data[to + 3] = alpha;
    }
  context.putImageData(image, 0, 0);
  return canvas.toDataURL();
}

/** Swaps the looks of the two sides; twice puts them back. */
function swapSides(): void {
  const { upColour, downColour, inkUp, inkDown } = shared;
  [upColour.value, downColour.value] = [downColour.value, upColour.value];
  [inkUp.value, inkDown.value] = [inkDown.value, inkUp.value];
}
