/**
 * The model on its table, behind a plain handle: hand it poses, colours and marks, ask it what lies under the
 * pointer. Poses go straight to a texture; nothing here passes through React.
 */
import {
  BufferAttribute,
  BufferGeometry,
  type Camera,
  DataTexture,
  DynamicDrawUsage,
  FloatType,
  Group,
  InstancedBufferAttribute,
  InstancedBufferGeometry,
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
import type { Placement } from '../core/pose/place.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { CameraRig } from './camera-rig.ts';
import { creaseMaterial, paperMaterial, shared } from './materials.ts';
import { type PanelMesh, panelMesh } from './panel-mesh.ts';
import { type Pick, pickModel } from './pick.ts';
import { TableShadow } from './table-shadow.ts';
import type { EyePlace } from './views.ts';

const PANELS_PER_ROW = 256;

/** A pose as it is shown. */
export interface ShownPose {
  readonly sheet: Sheet;
  readonly placement: Placement;
  /** Level of each panel along its own normal, see stack.ts. */
  readonly levels: Float32Array;
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
  readonly accent: string;
  readonly dark: boolean;
  readonly sheetSize: number;
}

export interface ModelMarks {
  readonly panels: readonly number[];
  readonly creases: readonly number[];
  readonly hoverPanels: readonly number[];
  readonly hoverCrease: number | null;
}

interface Drawn {
  readonly panels: PanelMesh;
  readonly paper: BufferGeometry;
  readonly lines: InstancedBufferGeometry;
  readonly pen: InstancedBufferAttribute;
}

const noMarks: ModelMarks = { panels: [], creases: [], hoverPanels: [], hoverCrease: null };

/** Half widths of lines in pixels, in the order of `lineKinds`. */
const penWidth = [0.8, 0.8, 0.8, 0.5, 1.25, 1.0];

export class ModelStage {
  readonly group = new Group();
  readonly paper = new Mesh(new BufferGeometry(), paperMaterial());
  readonly lines = new Mesh(new BufferGeometry(), creaseMaterial());
  readonly shadow = new TableShadow();
  readonly rig = new CameraRig();
  /** Asks for a new picture; set by the scene. */
  invalidate: () => void = () => {};
  /** Called after each picture, so that what lies over the canvas can follow. */
  onDrawn: () => void = () => {};
  /** Keeps the view still while a corner is dragged; set by the scene. */
  hold: (held: boolean) => void = () => {};
  private drawn = new Map<Sheet, Drawn>();
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
    this.paper.frustumCulled = false;
    this.lines.frustumCulled = false;
    this.lines.renderOrder = 2;
    this.group.add(this.paper, this.lines);
    this.group.matrixAutoUpdate = false;
    shared.placementOf.value = this.texture;
  }

  /** Shows a pose. The first one, and any after `fit`, is framed at once; later ones are followed softly. */
  showPose(pose: ShownPose): void {
    const drawn = this.drawnOf(pose.sheet);
    if (this.pose?.sheet !== pose.sheet) {
      this.paper.geometry = drawn.paper;
      this.lines.geometry = drawn.lines;
      this.pose = pose;
      this.setMarks(this.marks);
    }
    this.pose = pose;
    this.upload(pose);
    this.place();
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
    shared.sheetSize.value = look.sheetSize;
    shared.roomLight.value = look.dark ? 0.7 : 0.74;
    this.shadow.setDark(look.dark);
    this.invalidate();
  }

  setMarks(marks: ModelMarks): void {
    this.marks = marks;
    if (!this.pose) return;
    this.drawPens(this.pose);
    this.upload(this.pose);
    this.invalidate();
  }

  private drawPens({ sheet, ownCreases: own }: ShownPose): void {
    const { marks } = this;
    const drawn = this.drawnOf(sheet);
    const chosen = new Set(marks.creases);
    const pen = drawn.pen.array as Float32Array;
    drawn.panels.stripCrease.forEach((crease, strip) => {
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
    const { sheet, placement, levels } = this.pose;
    const panels = this.drawnOf(sheet).panels;
    const reach = (reachPixels * 2 * Math.tan((camera.fov * Math.PI) / 360)) / this.size.y;
    return pickModel(sheet, panels, placement, levels, eye.toArray(), toward.toArray(), reach);
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

  /** A small picture of a pose on no ground, as a data URL; null before the first picture was drawn. */
  async picture(pose: ShownPose, width: number, height: number): Promise<string | null> {
    const { renderer, pose: kept, marks } = this;
    if (!renderer || !kept) return null;
    const target = new WebGLRenderTarget(width, height, { samples: 4 });
    const matrix = this.group.matrix.clone();
    const pixelsPerUnit = shared.pixelsPerUnit.value;
    try {
      this.marks = noMarks;
      this.drawPens(pose);
      this.showQuietly(pose);
      const box = this.boxOf(pose, new Matrix4());
      this.group.matrix.makeTranslation(0, 0, -box.low.z);
      this.group.matrixWorldNeedsUpdate = true;
      this.shadow.update(renderer, this.paper);
      const camera = this.rig.portrait(box.low, box.high, width / height);
      shared.pixelsPerUnit.value = (height / (2 * Math.tan((camera.fov * Math.PI) / 360))) * 0.62;
      renderer.setRenderTarget(target);
      renderer.setClearColor(0, 0);
      renderer.clear();
      renderer.render(this.group, camera as Camera);
      renderer.setRenderTarget(null);
    } finally {
      this.group.matrix.copy(matrix);
      this.group.matrixWorldNeedsUpdate = true;
      shared.pixelsPerUnit.value = pixelsPerUnit;
      this.marks = marks;
      this.drawPens(kept);
      this.showQuietly(kept);
      this.pose = kept;
      this.stale = true;
      this.invalidate();
    }
    const pixels = new Uint8Array(width * height * 4);
    await renderer.readRenderTargetPixelsAsync(target, 0, 0, width, height, pixels);
    target.dispose();
    return toDataUrl(pixels, width, height);
  }

  dispose(): void {
    for (const { paper, lines } of this.drawn.values()) {
      paper.dispose();
      lines.dispose();
    }
    this.drawn.clear();
    this.texture.dispose();
    this.shadow.dispose();
  }

  /** After the graphics context came back everything is sent again. */
  restore(): void {
    this.texture.needsUpdate = true;
    this.stale = true;
    this.invalidate();
  }

  private showQuietly(pose: ShownPose): void {
    const drawn = this.drawnOf(pose.sheet);
    this.paper.geometry = drawn.paper;
    this.lines.geometry = drawn.lines;
    this.upload(pose);
  }

  private drawnOf(sheet: Sheet): Drawn {
    const known = this.drawn.get(sheet);
    if (known) return known;
    const panels = panelMesh(sheet);
    const paper = new BufferGeometry();
    paper.setAttribute('flatAt', new BufferAttribute(panels.flat, 2));
    paper.setAttribute('panel', new BufferAttribute(panels.panelOfCorner, 1));
    // Never read by the shaders; three counts corners by it.
    paper.setAttribute('position', new BufferAttribute(new Float32Array((panels.flat.length / 2) * 3), 3));
    paper.setIndex(new BufferAttribute(panels.triangles, 1));
    const lines = new InstancedBufferGeometry();
    const strip = Float32Array.from([0, 0, 1, 0, 1, 1, 0, 1]);
    lines.setAttribute('corner', new BufferAttribute(strip, 2));
    lines.setAttribute('position', new BufferAttribute(new Float32Array(12), 3));
    lines.setIndex([0, 1, 2, 0, 2, 3]);
    lines.setAttribute('ends', new InstancedBufferAttribute(panels.stripEnds, 4));
    lines.setAttribute('inward', new InstancedBufferAttribute(panels.stripInward, 2));
    lines.setAttribute('panel', new InstancedBufferAttribute(panels.stripPanel, 1));
    lines.setAttribute('beyond', new InstancedBufferAttribute(panels.stripBeyond, 1));
    const pen = new InstancedBufferAttribute(new Float32Array(3 * panels.stripCrease.length), 3);
    pen.setUsage(DynamicDrawUsage);
    panels.stripCrease.forEach((crease, k) => {
      pen.setXYZ(k, sheet.creaseKind[crease]!, penWidth[sheet.creaseKind[crease]!]!, 0);
    });
    lines.setAttribute('pen', pen);
    lines.instanceCount = panels.stripCrease.length;
    const drawn = { panels, paper, lines, pen };
    if (this.drawn.size > 24) {
      const [oldest] = this.drawn.keys();
      this.drawn.get(oldest!)!.paper.dispose();
      this.drawn.get(oldest!)!.lines.dispose();
      this.drawn.delete(oldest!);
    }
    this.drawn.set(sheet, drawn);
    return drawn;
  }

  private upload(pose: ShownPose): void {
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
      data[at + 7] = pose.levels[p]!;
      data[at + 8] = chosen.has(p) ? 0.3 : hovered.has(p) ? 0.1 : 0;
      data[at + 9] = pose.bends[p]!;
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
    const { flat, panelOfCorner } = this.drawnOf(pose.sheet).panels;
    const { rotation, translation } = pose.placement;
    const low = new Vector3(Infinity, Infinity, Infinity);
    const high = new Vector3(-Infinity, -Infinity, -Infinity);
    const at = new Vector3();
    const q = new Quaternion();
    for (let k = 0; k < panelOfCorner.length; k++) {
      const p = panelOfCorner[k]!;
      q.set(rotation[4 * p]!, rotation[4 * p + 1]!, rotation[4 * p + 2]!, rotation[4 * p + 3]!);
      at.set(flat[2 * k]!, flat[2 * k + 1]!, 0).applyQuaternion(q);
      at.x += translation[3 * p]!;
      at.y += translation[3 * p + 1]!;
      at.z += translation[3 * p + 2]!;
      at.applyMatrix4(matrix);
      low.min(at);
      high.max(at);
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
