/** The hand on the flat sheet: it points, picks, moves and zooms, and while drawing tells the tool. */

import type { PointerEvent } from 'react';
import type { Point } from '../../core/numeric/vector.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import type { Selection } from '../../desk/store.ts';
import { isStroke } from '../../desk/tools/drawing-state.ts';
import { desk } from '../desk.ts';
import { pickOnSheet } from './sheet-drawing.ts';
import type { Pixels, SheetEye } from './sheet-eye.ts';

/** How near a line the pointer must be, pixels; while drawing a mouse, and a finger. */
const REACH = 8;
const DRAWING_REACH = { mouse: 11, touch: 22 };
/** A hand that moved no further than this has pressed, pixels. */
const PRESS = 4;
/** Way of a hand that is more than one finger, which draws nothing. */
const SEVERAL_FINGERS = 1e6;
/** A finger that moves points this far above itself, where it can be seen, pixels. */
const FINGER = 46;
/** A finger that went further than this moves, pixels. */
const FINGER_MOVES = 8;

export class SheetHand {
  private readonly pointers = new Map<number, Pixels>();
  private moved = 0;
  private strokeFrom: Point | null = null;

  /** What the hand is on, as it was drawn last. */
  on: { readonly sheet: Sheet | null; readonly eye: SheetEye } | null = null;

  down = (event: PointerEvent): void => {
    if ((event.target as Element).closest('button')) return;
    this.moved = 0;
    if (this.drawsOn && isStroke(desk.store.drawing.tool)) this.strokeFrom = this.placeOf(event);
    event.currentTarget.setPointerCapture(event.pointerId);
    this.pointers.set(event.pointerId, local(event));
    if (this.pointers.size > 1) this.moved = SEVERAL_FINGERS;
  };

  move = (event: PointerEvent): void => {
    const at = local(event);
    const held = this.pointers.get(event.pointerId);
    if (this.drawsOn && (!held || this.pointers.size === 1)) this.moveDrawing(event, at, held);
    else if (held) this.moveSheet(event.pointerId, held, at);
    else this.hover(at);
  };

  up = (event: PointerEvent): void => {
    if (this.drawsOn) {
      this.endDrawing(event);
      return;
    }
    const ours = this.pointers.delete(event.pointerId) && event.type === 'pointerup';
    if (!ours || this.moved > PRESS) return;
    const found = this.pickAt(local(event));
    if (event.shiftKey && found?.kind === 'crease') desk.picking.pick(found.id);
    else desk.store.put({ look: { selection: found, picked: [], marks: null } });
  };

  leave = (): void => desk.store.put({ look: { hover: null } });

  private get drawsOn(): Sheet | null {
    return desk.store.drawing.on ? (this.on?.sheet ?? null) : null;
  }

  private moveDrawing(event: PointerEvent, at: Pixels, held: Pixels | undefined): void {
    if (held) {
      this.moved += Math.hypot(at.x - held.x, at.y - held.y);
      this.pointers.set(event.pointerId, at);
    }
    if (this.strokeFrom && this.moved > PRESS)
      desk.drawing.hands.stroke(this.strokeFrom, this.placeOf(event), false);
    else this.point(event);
  }

  private endDrawing(event: PointerEvent): void {
    const ours = this.pointers.delete(event.pointerId) && event.type === 'pointerup';
    const { hands } = desk.drawing;
    if (!ours || this.pointers.size > 0 || this.moved >= SEVERAL_FINGERS) hands.endStroke();
    else if (this.strokeFrom && this.moved > PRESS) hands.stroke(this.strokeFrom, this.placeOf(event), true);
    else {
      this.point(event);
      hands.press();
    }
    this.strokeFrom = null;
  }

  /** One finger moves the sheet; two zoom about the middle between them. */
  private moveSheet(id: number, held: Pixels, at: Pixels): void {
    const { eye } = this.on!;
    const [dx, dy] = [at.x - held.x, at.y - held.y];
    const other = [...this.pointers].find(([one]) => one !== id)?.[1];
    this.pointers.set(id, at);
    this.moved += Math.hypot(dx, dy);
    if (other) {
      const before = Math.hypot(held.x - other.x, held.y - other.y);
      const now = Math.hypot(at.x - other.x, at.y - other.y);
      eye.zoomAt({ x: (at.x + other.x) / 2, y: (at.y + other.y) / 2 }, now / (before || 1));
    }
    const share = other ? 1 / 2 : 1;
    if (this.moved > PRESS) eye.moveBy(dx * share, dy * share);
  }

  private hover(at: Pixels): void {
    const found = this.pickAt(at);
    const { hover: old } = desk.store.look;
    if (found?.kind !== old?.kind || found?.id !== old?.id) desk.store.put({ look: { hover: found } });
  }

  private pickAt(at: Pixels): Selection | null {
    const { sheet, eye } = this.on!;
    if (!sheet) return null;
    const { x, y } = eye.toSheet(at);
    return pickOnSheet(sheet, x, y, REACH / eye.scale);
  }

  /** The place of the pattern under the hand. */
  private placeOf(event: PointerEvent): Point {
    const { sheet, eye } = this.on!;
    const at = local(event);
    const lifted = event.pointerType === 'touch' && !this.strokeFrom && this.moved > FINGER_MOVES;
    const { x, y } = eye.toSheet({ x: at.x, y: at.y - (lifted ? FINGER : 0) });
    const { frame } = sheet!;
    return [frame.x + frame.scale * x, frame.y + frame.scale * y];
  }

  private point(event: PointerEvent): void {
    const { sheet, eye } = this.on!;
    const pixels = event.pointerType === 'touch' ? DRAWING_REACH.touch : DRAWING_REACH.mouse;
    const reach = (pixels / eye.scale) * sheet!.frame.scale;
    desk.drawing.hands.point(desk.drawing.hands.now.cursorAt(this.placeOf(event), reach));
  }
}

function local(event: PointerEvent): Pixels {
  const { left, top } = event.currentTarget.getBoundingClientRect();
  return { x: event.clientX - left, y: event.clientY - top };
}
