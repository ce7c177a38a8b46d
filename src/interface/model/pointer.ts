/** The hand on the model. */
import { type PointerEvent, useRef } from 'react';
import { placeOf } from '../../core/pose/place.ts';
import type { Selection } from '../../desk/store.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { desk } from '../desk.ts';

/** How near a crease, and a corner to be dragged, the pointer must be, pixels. */
const REACH = 9;

/** Pointing, choosing, and dragging a corner; everything else is left to the orbit controls. */
export function usePointer(stage: { current: ModelStage | null }) {
  const press = useRef<{ x: number; y: number; vertex: number | null; at: [number, number, number] } | null>(
    null,
  );
  const busy = useRef(false);
  const next = useRef<[number, number, number] | null>(null);

  const local = (event: PointerEvent) => {
    const { left, top } = event.currentTarget.getBoundingClientRect();
    return { x: event.clientX - left, y: event.clientY - top };
  };
  const found = (x: number, y: number) => {
    const { pose, board } = desk.playhead;
    const pick = pose && board ? (stage.current?.pick(x, y, REACH) ?? null) : null;
    if (!pick || !pose || !board) return { selection: null, vertex: null, panel: 0, point: null };
    const own = pick.crease !== null && pick.crease < pose.ownCreases;
    const selection: Selection = own
      ? { kind: 'crease', id: pick.crease! }
      : { kind: 'panel', id: board.ownPanel(pose.step, pick.panel) };
    const point = { x: pick.flat[0], y: pick.flat[1], side: pick.side };
    return { selection, vertex: pick.vertex, panel: pick.panel, point };
  };
  const pull = async () => {
    if (busy.current || !next.current || press.current?.vertex == null) return;
    busy.current = true;
    const goal = next.current;
    next.current = null;
    await desk.atRest.drag(press.current.vertex, goal);
    busy.current = false;
    void pull();
  };

  return {
    down: (event: PointerEvent) => {
      if (!event.isPrimary || event.button !== 0) return;
      const { x, y } = local(event);
      const { vertex, panel } = found(x, y);
      const pose = desk.playhead.pose;
      const at: [number, number, number] =
        vertex !== null && pose
          ? placeOf(pose.placement, panel, pose.sheet.vertexX[vertex]!, pose.sheet.vertexY[vertex]!)
          : [0, 0, 0];
      const canDrag =
        vertex !== null &&
        !desk.store.folding.on &&
        !desk.store.run.computing &&
        !desk.store.look.verdict &&
        !desk.store.isTurned;
      press.current = { x, y, vertex: canDrag ? vertex : null, at };
      stage.current?.hold(canDrag);
      if (canDrag) event.currentTarget.setPointerCapture(event.pointerId);
    },
    move: (event: PointerEvent) => {
      const { x, y } = local(event);
      const held = press.current;
      if (!held) {
        if (event.pointerType === 'touch') return;
        const { selection, vertex, point } = found(x, y);
        desk.store.put({ inside: { pointer: point } });
        const { hover: old } = desk.store.look;
        if (selection?.kind !== old?.kind || selection?.id !== old?.id)
          desk.store.put({ look: { hover: selection } });
        (event.currentTarget as HTMLElement).dataset.grab = String(vertex !== null);
        return;
      }
      if (held.vertex === null || Math.hypot(x - held.x, y - held.y) < 4) return;
      next.current = stage.current?.fromScreen(x, y, held.at) ?? null;
      void pull();
    },
    up: (event: PointerEvent) => {
      const held = press.current;
      press.current = null;
      stage.current?.hold(false);
      if (!held || event.type !== 'pointerup') return;
      const { x, y } = local(event);
      if (Math.hypot(x - held.x, y - held.y) >= 4) return;
      if (desk.store.folding.on) {
        const pick = stage.current?.pick(x, y, REACH);
        const taken = pick && desk.folding.hands.pointOf(pick);
        if (taken) desk.folding.hands.addPoint(taken);
        return;
      }
      const { selection, point } = found(x, y);
      if (event.shiftKey && selection?.kind === 'crease') {
        desk.picking.pick(selection.id);
        return;
      }
      desk.store.put({ inside: { point, peeled: 0 } });
      desk.store.put({ look: { selection, picked: [], marks: null } });
    },
  };
}
