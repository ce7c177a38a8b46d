/**
 * Looking inside: the stack at a point and the section through the layers, for what was wished. Views read it in their own
 * time, like the playhead.
 */
import type { Leaves } from '../../core/layer/leaves.ts';
import type { Section, SectionPlane } from '../../core/layer/section.ts';
import { dot, minus, type Space, scaled } from '../../core/numeric/vector.ts';
import { panelNormal, placeOf } from '../../core/pose/place.ts';
import { insidePoint } from '../../core/sheet/inside-point.ts';
import { panelContaining } from '../../core/sheet/walk.ts';
import type { End, ScreenPlace } from '../around.ts';
import type { PlacedPose } from '../play/board.ts';
import type { Playhead } from '../play/playhead.ts';
import type { LayersNow } from '../run/layers-now.ts';
import type { State, Store } from '../store.ts';
import { closed, type PaperPoint } from './inside-wishes.ts';

/** One layer of a stack, seen from the side of the eye. */
interface Layer {
  /** Panel of the lesson's sheet. */
  readonly panel: number;
  /** Its part on the shown sheet, which bend lines may have cut. */
  readonly part: number;
  /** Does the side that faced up at the start look at the eye? */
  readonly up: boolean;
}

/** The layers at a point, from the eye's side down. */
export interface StackHere {
  readonly layers: readonly Layer[];
  readonly group: number;
  readonly at: Space;
  /** Off the stack toward the eye. */
  readonly toward: Space;
}

interface Parts {
  readonly store: Store;
  readonly playhead: Playhead;
  readonly layersNow: LayersNow;
  readonly screen: ScreenPlace;
}

export class Inside {
  /** The stack at the clicked point or under the pointer. */
  stack: StackHere | null = null;
  /** The stack at the clicked point: the one that is peeled. */
  kept: StackHere | null = null;
  /** The section through the layers as they are known, and what it was cut from. */
  section: { section: Section; pose: PlacedPose } | null = null;
  /** Counts changes, for views that ask whether anything is new. */
  turn = 0;
  /** Counts those that the stage shows; a pointer that wanders over the model changes nothing there. */
  stageTurn = 0;
  private leaves: { pose: PlacedPose; leaves: Leaves } | null = null;
  private lookedFrom = '';
  private reads: typeof import('./inside-reads.ts') | null = null;
  private readonly listeners = new Set<() => void>();

  constructor(private readonly parts: Parts) {}

  begin(): End {
    const { layersNow, playhead, store } = this.parts;
    const ends = [
      layersNow.subscribe(() => this.refresh()),
      playhead.subscribe(() => {
        const { slice, glass, tuck } = store.inside;
        // the section and the stack are of the layers that are known; only the stage cuts the paper as it moves
        if ((slice || glass) && !tuck) this.tellStage();
      }),
      store.subscribe((now, before) => this.follow(now, before)),
    ];
    return () => {
      for (const end of ends) end();
    };
  }

  /** Before it is fetched nothing is seen inside. */
  async fetch(): Promise<void> {
    if (!this.reads) this.take(await import('./inside-reads.ts'));
  }

  take(reads: typeof import('./inside-reads.ts')): void {
    this.reads = reads;
    this.refresh();
  }

  subscribe = (listener: () => void): End => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** The layers at a point of the paper, from the eye's side down; null while they are not known. */
  stackAt(point: PaperPoint | null): StackHere | null {
    const { pose, stacks } = this.parts.layersNow;
    const { board } = this.parts.playhead;
    if (!this.reads || !point || !pose || !stacks || !board) return null;
    const part = panelContaining(pose.sheet, point.x, point.y);
    if (part < 0) return null;
    const here = this.reads.layersAt(stacks, pose.placement, part, [point.x, point.y]);
    const { up } = stacks.planes;
    const eyeAlong = point.side * up[part]!;
    const panels = eyeAlong > 0 ? [...here.panels].reverse() : here.panels;
    return {
      layers: panels.map((one) => ({
        part: one,
        panel: board.ownPanel(pose.step, one),
        up: up[one]! * eyeAlong > 0,
      })),
      group: here.group,
      at: placeOf(pose.placement, part, point.x, point.y),
      toward: scaled(here.normal, eyeAlong),
    };
  }

  /** The eye has moved, perhaps: what stands before the selection, and the side that a section is seen from, are others. */
  eyeMoved(): void {
    const { store, screen } = this.parts;
    const { glass, slice } = store.inside;
    if (!screen.now || (glass !== 'front' && !slice)) return;
    const from = screen.now.eyeInModel.map((value) => value.toFixed(3)).join();
    if (from === this.lookedFrom) return;
    this.lookedFrom = from;
    const turned =
      slice && this.section && this.sideOfEye(slice) !== sameWay(slice, this.section.section.plane);
    if (glass === 'front' || turned) this.refresh();
  }

  /** Finds out again what the point and the slice show. */
  private refresh(): void {
    this.cutSection(this.parts.store.inside.slice);
    this.readStacks();
    this.tellStage();
  }

  private tellStage(): void {
    this.stageTurn++;
    this.tell();
  }

  private tell(): void {
    this.turn++;
    for (const listener of this.listeners) listener();
  }

  /** @returns whether the stack is another */
  private readStacks(): boolean {
    const { point, pointer } = this.parts.store.inside;
    const before = this.stack;
    this.kept = this.stackAt(point);
    this.stack = pointer ? this.stackAt(pointer) : this.kept;
    return !sameStack(before, this.stack);
  }

  /** The leaves of the pose whose layers are known last. */
  private leavesNow(): { pose: PlacedPose; leaves: Leaves } | null {
    const { pose, stacks } = this.parts.layersNow;
    if (!this.reads || !pose || !stacks || !this.parts.playhead.board) return null;
    if (this.leaves?.pose !== pose)
      this.leaves = { pose, leaves: this.reads.drawnLeaves(pose.sheet, pose.placement, pose, stacks) };
    return this.leaves;
  }

  private cutSection(slice: SectionPlane | null): void {
    const known = slice && this.leavesNow();
    if (!this.reads || !slice || !known) {
      this.section = null;
      return;
    }
    // The drawing is seen from where the eye is.
    const side = this.sideOfEye(slice);
    const plane = {
      normal: scaled(slice.normal, side),
      offset: side * slice.offset,
    };
    const { pose, leaves } = known;
    this.section = { section: this.reads.sectionOf(pose.placement, leaves, plane, pose.aside), pose };
  }

  private sideOfEye({ normal, offset }: SectionPlane): 1 | -1 {
    const eye = this.parts.screen.now?.eyeInModel;
    return eye && dot(eye, normal) < offset ? -1 : 1;
  }

  private follow(now: State, before: State): void {
    const { store } = this.parts;
    if (now.document.sheet !== before.document.sheet) {
      const { glass, fan } = now.inside;
      store.put({ inside: { ...closed, glass, fan } });
      return;
    }
    if (now.look.selection !== before.look.selection) this.followSelection(now);
    if (now.inside === before.inside) return;
    // a pointer that wanders over one stack changes nothing
    if (now.inside.pointer === before.inside.pointer) this.refresh();
    else if (this.readStacks()) this.tell();
  }

  private followSelection({ look: { selection }, document: { sheet } }: State): void {
    const { store } = this.parts;
    const { point, glass, chosen } = store.inside;
    if (!selection) {
      store.put({ inside: { point: null, peeled: 0 } });
      return;
    }
    if (selection.kind !== 'panel') return;
    const here = point && sheet && panelContaining(sheet, point.x, point.y);
    if (here !== selection.id) store.put({ inside: { point: this.pointOfPanel(selection.id), peeled: 0 } });
    if (glass === 'chosen') {
      const rest = chosen.filter((panel) => panel !== selection.id);
      store.put({ inside: { chosen: rest.length < chosen.length ? rest : [...chosen, selection.id] } });
    } else this.refresh();
  }

  /** The point that stands for a panel when it was chosen elsewhere than on the model. */
  private pointOfPanel(panel: number): PaperPoint | null {
    const { sheet } = this.parts.store.document;
    const { pose } = this.parts.playhead;
    const eye = this.parts.screen.now?.eyeInModel;
    if (!sheet || !pose || !eye) return null;
    const [x, y] = insidePoint(sheet, panel);
    const part = panelContaining(pose.sheet, x, y);
    if (part < 0) return null;
    const normal = panelNormal(pose.placement, part);
    const at = placeOf(pose.placement, part, x, y);
    return { x, y, side: dot(normal, minus(eye, at)) >= 0 ? 1 : -1 };
  }
}

function sameWay(a: SectionPlane, b: SectionPlane): 1 | -1 {
  return dot(a.normal, b.normal) > 0 ? 1 : -1;
}

function sameStack(a: StackHere | null, b: StackHere | null): boolean {
  return (
    a === b ||
    (a !== null &&
      b !== null &&
      a.layers.length === b.layers.length &&
      a.layers.every(({ part, up }, k) => part === b.layers[k]!.part && up === b.layers[k]!.up))
  );
}
