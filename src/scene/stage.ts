/**
 * The model on its table, behind a plain handle: hand it poses, colours and marks, ask it what lies under the
 * pointer. Poses go straight to a texture; nothing here passes through React.
 */

import { BufferGeometry, GreaterDepth, Group, LessEqualDepth, Mesh, type WebGLRenderer } from 'three';
import type { Leaves } from '../core/layer/leaves.ts';
import type { Stacks } from '../core/layer/stacks.ts';
import type { EyePlace } from '../core/lesson/eye.ts';
import { ON_LINE } from '../core/numeric/tolerance.ts';
import { gap, minus, type Space, scaled } from '../core/numeric/vector.ts';
import { Aim, type Rest } from './aim.ts';
import { type DrawnLeaves, drawCaps } from './drawn-leaves.ts';
import { extentOf } from './frame.ts';
import { Inside, type InsideLook } from './inside.ts';
import { Lamp } from './lamp.ts';
import { type ModelLook, setColour, takeLook } from './look.ts';
import { capMaterial, creaseMaterial, paperMaterial } from './materials.ts';
import { type Pick, type PickedModel, pickModel } from './pick.ts';
import { type PictureWish, Portrait } from './portrait.ts';
import { type ModelMarks, PoseBuffers, type ShownPose } from './pose-buffers.ts';
import { drawnThickness, setSpacing } from './spacing.ts';
import { TableShadow } from './table-shadow.ts';
import { stageUniforms } from './uniforms.ts';

/** Sheets whose panels stay in the buffers: bent paper has one for each step. */
const SHEETS_KEPT = 25;

export class ModelStage {
  readonly uniforms = stageUniforms();
  readonly group = new Group();
  private readonly paper = new Mesh(new BufferGeometry(), paperMaterial(this.uniforms, 'solid'));
  private readonly glass = new Mesh(this.paper.geometry, paperMaterial(this.uniforms, 'glass'));
  private readonly hidden = new Mesh(new BufferGeometry(), creaseMaterial(this.uniforms, 'hidden'));
  private readonly veil = new Mesh(this.paper.geometry, paperMaterial(this.uniforms, 'veil'));
  private readonly lines = new Mesh(this.hidden.geometry, creaseMaterial(this.uniforms, 'open'));
  private readonly caps = new Mesh(new BufferGeometry(), capMaterial(this.uniforms));
  readonly shadow = new TableShadow(this.uniforms);
  private readonly lamp = new Lamp(this.uniforms);
  private readonly aim = new Aim();
  private readonly buffers = new PoseBuffers(this.uniforms, SHEETS_KEPT);
  private readonly inside = new Inside(this.uniforms);
  private readonly portrait = new Portrait();
  /** Asks for a new picture; set by the scene. */
  invalidate: () => void = () => {};
  /** Called after each picture, so that what lies over the canvas can follow. */
  onDrawn: () => void = () => {};
  /** Measures anew the room that the model may fill; set by the scene. */
  remeasure: () => void = () => {};
  /** Keeps the view still while a corner is dragged; set by the scene. */
  hold: (held: boolean) => void = () => {};
  private look: ModelLook | null = null;
  private renderer: WebGLRenderer | null = null;
  /** What the lamp sees is to be drawn anew. */
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
  }

  get rig() {
    return this.aim.rig;
  }

  /**
   * Shows a pose. The first one, and any after `reframe`, is framed at once; later ones are followed softly.
   * @param stacks its layers, where they are known: while the slider moves they are not
   */
  showPose(pose: ShownPose, stacks: Stacks | null = null): void {
    if (this.buffers.pose?.sheet !== pose.sheet) this.inside.veils.clear();
    this.buffers.take(pose, stacks);
    this.sendAll();
    this.space();
    this.place();
  }

  get shown(): ShownPose | null {
    return this.buffers.pose;
  }

  /** The leaves as they are drawn. */
  get leaves(): Leaves | null {
    return this.drawnLeaves?.leaves ?? null;
  }

  get drawnLeaves(): DrawnLeaves | null {
    return this.buffers.pose && this.buffers.drawn;
  }

  /** Shows the inside as wished; what changes eases, unless told otherwise. */
  setInside(look: InsideLook, ease: boolean): void {
    const { inside, caps } = this;
    if (look.cut !== inside.look.cut) {
      caps.geometry.dispose();
      if (look.cut) caps.geometry = drawCaps(look.cut.caps);
      this.stale = true;
    }
    inside.look = look;
    if (ease) inside.easing = true;
    else {
      inside.arrive(this.buffers.atRest);
      this.showInside();
    }
    this.invalidate();
  }

  setLook(look: ModelLook): void {
    this.look = look;
    takeLook(this.uniforms, look);
    setColour(this.caps.material.uniforms.rimColour!.value, look.dark ? '#0d0b09' : '#2a2622');
    this.shadow.setDark(look.dark);
    this.space();
    this.invalidate();
  }

  setMarks(marks: ModelMarks): void {
    this.buffers.marks = marks;
    if (!this.buffers.pose) return;
    this.buffers.sendPens();
    this.send();
  }

  /** Turns the model over in the hand: only what the eye sees changes, the pose does not. */
  turnOver(over: boolean, ease: boolean): void {
    this.aim.turnOver(over, ease);
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
  setRest(rest: Rest | null): void {
    this.aim.setRest(rest);
    this.place();
  }

  /** What lies at a place of the canvas (pixels from its top left corner). */
  pick(x: number, y: number, reachPixels: number): Pick | null {
    if (!this.buffers.pose) return null;
    const { eye } = this;
    const way = this.aim.wayThrough(x, y);
    const reach = reachPixels / this.aim.pixelsPerUnit(this.extent.height);
    const opacity = (panel: number) => this.inside.veils.get(panel)?.opacity ?? 1;
    const above = (least: number) =>
      pickModel(
        this.pickedModel((panel) => opacity(panel) > least),
        eye,
        way,
        reach,
      );
    return above(0.5) ?? above(0.05);
  }

  /** Size of the canvas, pixels. */
  get extent(): { width: number; height: number } {
    return this.aim.extent;
  }

  /** The place of the eye in the model's frame. */
  get eye(): Space {
    return this.aim.eye;
  }

  /** The panel nearest to the eye that hides a place, those given left out; null when nothing hides it. */
  hider(place: Space, but: ReadonlySet<number>): number | null {
    const { eye } = this;
    const toward = minus(place, eye);
    const distance = gap(place, eye);
    const model = this.pickedModel((panel) => !but.has(panel));
    const pick = pickModel(model, eye, scaled(toward, 1 / distance), 0);
    return pick && pick.distance < distance - ON_LINE ? pick.panel : null;
  }

  /** Where a flat point of a leaf is drawn, in the model's frame. */
  placeOf(leaf: number, x: number, y: number): Space {
    return this.buffers.placeOf(leaf, [x, y], this.offOf(leaf));
  }

  toScreen(place: Space): { x: number; y: number; depth: number } {
    return this.aim.toScreen(place);
  }

  fromScreen(x: number, y: number, like: Space): [number, number, number] {
    return this.aim.fromScreen(x, y, like);
  }

  /** Size of the canvas, and the heights above and below that the model is kept out of, pixels. */
  resize(width: number, height: number, above = 0, below = 0): void {
    this.aim.resize(width, height, above, below);
    this.uniforms.pixelsPerUnit.value = this.aim.pixelsPerUnit(height);
    this.invalidate();
  }

  /** Draws one picture. @returns whether something still moves */
  draw(renderer: WebGLRenderer, scene: Parameters<WebGLRenderer['render']>[0], seconds: number): boolean {
    this.renderer = renderer;
    const moves = [this.rig.advance(seconds), this.aim.turnOn(seconds)];
    if (moves[1]) this.place();
    if (this.inside.easing) {
      this.inside.ease(seconds, this.buffers.atRest);
      this.showInside();
    }
    if (this.inside.turnCut(this.eye)) this.stale = true;
    this.space();
    if (this.buffers.pose && this.stale) {
      this.lamp.update(renderer, this.paper);
      this.shadow.update(renderer, this.paper);
      this.stale = false;
    }
    renderer.setRenderTarget(null);
    renderer.render(scene, this.rig.camera);
    this.pictures++;
    this.onDrawn();
    return moves.includes(true) || this.inside.easing;
  }

  /** A small picture of a pose on no ground, as a data URL; null before the first picture was drawn. */
  async picture(pose: ShownPose, wish: PictureWish): Promise<string | null> {
    const { renderer, look } = this;
    return renderer && look && this.buffers.pose ? this.portrait.take(renderer, pose, look, wish) : null;
  }

  dispose(): void {
    this.buffers.dispose();
    this.caps.geometry.dispose();
    this.lamp.dispose();
    this.shadow.dispose();
    this.portrait.dispose();
  }

  /** The graphics context is gone, and all buffers with it: they are forgotten, since nobody can give them back. */
  forget(): void {
    this.buffers.forget();
    this.portrait.forget();
    const { cut } = this.inside.look;
    if (cut) this.caps.geometry = drawCaps(cut.caps);
    if (this.buffers.pose) this.sendAll();
  }

  /** After the graphics context came back everything is sent again. */
  restore(): void {
    this.forget();
    this.stale = true;
    this.invalidate();
  }

  private pickedModel(solid: (panel: number) => boolean): PickedModel {
    const { sheet, placement, aside } = this.buffers.pose!;
    const { leaves, mesh } = this.buffers.drawn;
    const off = (leaf: number) => this.offOf(leaf);
    return {
      ...{ sheet, leaves: leaves.leaves, mesh, placement, aside, off, solid },
      there: this.inside.isThere,
    };
  }

  /** How far a leaf is held off its panel's plane, along the panel's normal. */
  private offOf(leaf: number): number {
    const own = this.buffers.drawn.leaves.leaves[leaf]!;
    const lift = this.inside.veils.get(own.panel)?.lift ?? 0;
    return this.buffers.heightOf(own) * this.uniforms.spacing.value + lift;
  }

  /** Shows the inside as far as it has come. */
  private showInside(): void {
    const { look, isSeenThrough, isGlassy } = this.inside;
    this.veil.visible = isSeenThrough;
    this.hidden.visible = look.dotted && isSeenThrough;
    this.hidden.material.depthFunc = isGlassy ? LessEqualDepth : GreaterDepth;
    this.caps.visible = look.cut !== null;
    this.space();
    if (!this.buffers.pose) return;
    this.send();
    this.place();
  }

  /** Sets how far layers stand apart. */
  private space(): void {
    const paper = this.look ? this.look.thickness / this.look.sheetSize : 0;
    const { deepest } = this.buffers;
    const thickness = drawnThickness(this.uniforms, this.rig.distance, paper, deepest);
    setSpacing(this.uniforms, thickness, this.inside.apart(deepest));
    this.inside.showSeams();
  }

  private sendAll(): void {
    const { paper, lines } = this.buffers.drawn;
    for (const mesh of [this.paper, this.glass, this.veil]) mesh.geometry = paper;
    for (const mesh of [this.lines, this.hidden]) mesh.geometry = lines;
    this.buffers.sendPens();
    this.send();
  }

  private send(): void {
    this.buffers.send(this.inside.veils);
    this.stale = true;
    this.invalidate();
  }

  private place(): void {
    if (!this.buffers.pose) return;
    const box = this.aim.place(this.buffers.framed(this.uniforms.spacing.value));
    this.group.matrix.copy(this.aim.matrix);
    this.group.matrixWorldNeedsUpdate = true;
    const [x, y] = [(box.low.x + box.high.x) / 2, (box.low.y + box.high.y) / 2];
    this.lamp.moveTo(x, y, extentOf(box));
    this.shadow.moveTo(x, y, extentOf(box));
    this.stale = true;
    this.invalidate();
  }
}
