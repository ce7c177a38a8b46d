/** The hand on the model: it points, chooses, and drags a corner; everything else is left to the orbit controls. */

import type { PointerEvent } from 'react';
import type { Space } from '../../core/numeric/vector.ts';
import { placeOf } from '../../core/pose/place.ts';
import type { Selection } from '../../desk/store.ts';
import type { Pick } from '../../scene/pick.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { words } from '../../words/words.ts';
import { desk } from '../desk.ts';

/** How near a crease, and a corner to be dragged, the pointer must be, pixels. */
const REACH = 9;
/** A hand that moved less than this has pressed, pixels. */
const PRESS = 4;
/** Round a place that has no paper under it so many directions are tried. */
const DIRECTIONS = 12;

interface Held {
  readonly x: number;
  readonly y: number;
  /** The corner that is dragged; null where the view is turned instead. */
  readonly vertex: number | null;
  readonly at: Space;
}

export class ModelHand {
  private held: Held | null = null;
  private busy = false;
  private next: Space | null = null;

  constructor(private readonly stage: () => ModelStage | null) {}

  down = (event: PointerEvent): void => {
    if (!event.isPrimary || event.button !== 0) return;
    const { x, y } = local(event);
    const { vertex, panel } = this.found(x, y);
    const { pose } = desk.playhead;
    const corner = vertex !== null && pose && mayDrag() ? vertex : null;
    const at: Space =
      corner !== null && pose
        ? placeOf(pose.placement, panel, pose.sheet.vertexX[corner]!, pose.sheet.vertexY[corner]!)
        : [0, 0, 0];
    this.held = { x, y, vertex: corner, at };
    this.stage()?.hold(corner !== null);
    if (corner !== null) event.currentTarget.setPointerCapture(event.pointerId);
  };

  move = (event: PointerEvent): void => {
    const { x, y } = local(event);
    const { held } = this;
    if (held) {
      if (held.vertex === null || Math.hypot(x - held.x, y - held.y) < PRESS) return;
      this.next = this.stage()?.fromScreen(x, y, [...held.at]) ?? null;
      void this.pull();
    } else if (event.pointerType !== 'touch') this.hover(event, x, y);
  };

  up = (event: PointerEvent): void => {
    const { held } = this;
    this.held = null;
    this.stage()?.hold(false);
    if (!held || event.type !== 'pointerup') return;
    const { x, y } = local(event);
    if (Math.hypot(x - held.x, y - held.y) >= PRESS) return;
    if (desk.store.folding.on) this.takePoint(x, y);
    else this.choose(x, y, event.shiftKey);
  };

  leave = (): void => {
    desk.store.put({ look: { hover: null } });
    desk.store.put({ inside: { pointer: null } });
  };

  private hover(event: PointerEvent, x: number, y: number): void {
    const { selection, vertex, point } = this.found(x, y);
    desk.store.put({ inside: { pointer: point } });
    const { hover: old } = desk.store.look;
    if (selection?.kind !== old?.kind || selection?.id !== old?.id)
      desk.store.put({ look: { hover: selection } });
    (event.currentTarget as HTMLElement).dataset.grab = String(vertex !== null);
  }

  private choose(x: number, y: number, more: boolean): void {
    const { selection, point } = this.found(x, y);
    if (more && selection?.kind === 'crease') {
      desk.picking.pick(selection.id);
      return;
    }
    desk.store.put({ inside: { point, peeled: 0 } });
    desk.store.put({ look: { selection, picked: [], marks: null } });
  }

  /** A place for the line of a fold; one that is on no paper is said. */
  private takePoint(x: number, y: number): void {
    const pick = this.pickNear(x, y);
    const taken = pick && desk.folding.hands.pointOf(pick);
    if (taken) desk.folding.hands.addPoint(taken);
    else desk.store.say(words.acrossMissed);
  }

  /** What lies under a place, or within reach of it where it has missed the paper. */
  private pickNear(x: number, y: number): Pick | null {
    const stage = this.stage();
    const under = stage?.pick(x, y, REACH);
    if (!stage || under) return under ?? null;
    const beside = Array.from({ length: DIRECTIONS }, (_, k) => {
      const angle = (2 * Math.PI * k) / DIRECTIONS;
      return stage.pick(x + REACH * Math.cos(angle), y + REACH * Math.sin(angle), 2 * REACH);
    }).filter((one) => one !== null);
    return (
      beside.find(({ vertex }) => vertex !== null) ?? beside.find(({ crease }) => crease !== null) ?? null
    );
  }

  private found(x: number, y: number) {
    const { pose, board } = desk.playhead;
    const pick = pose && board ? (this.stage()?.pick(x, y, REACH) ?? null) : null;
    if (!pick || !pose || !board) return { selection: null, vertex: null, panel: 0, point: null };
    const own = pick.crease !== null && pick.crease < pose.ownCreases;
    const selection: Selection = own
      ? { kind: 'crease', id: pick.crease! }
      : { kind: 'panel', id: board.ownPanel(pose.step, pick.panel) };
    const point = { x: pick.flat[0], y: pick.flat[1], side: pick.side };
    return { selection, vertex: pick.vertex, panel: pick.panel, point };
  }

  /** Has the solver follow the hand; one question at a time. */
  private async pull(): Promise<void> {
    if (this.busy || !this.next || this.held?.vertex == null) return;
    this.busy = true;
    const goal = this.next;
    this.next = null;
    await desk.atRest.drag(this.held.vertex, goal);
    this.busy = false;
    void this.pull();
  }
}

/** A corner can be dragged while nothing is folded on the model, computed, set on the table or turned over. */
const mayDrag = (): boolean =>
  !desk.store.folding.on && !desk.store.run.computing && !desk.store.look.verdict && !desk.store.isTurned;

function local(event: PointerEvent): { x: number; y: number } {
  const { left, top } = event.currentTarget.getBoundingClientRect();
  return { x: event.clientX - left, y: event.clientY - top };
}
