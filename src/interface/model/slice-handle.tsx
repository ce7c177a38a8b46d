/** The slice on the model: its outline, and a handle by which a hand or the arrow keys move it. */

import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { cross, dot, minus, type Space, unit } from '../../core/numeric/vector.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';

/** The outline stands so far off the model, and is at least so high, sheet units: the handle hides no cut. */
const MARGIN = 0.035;
const LEAST_HEIGHT = 0.22;

export function SliceHandle({ stage }: { stage: { readonly current: ModelStage | null } }) {
  const on = useDesk((state) => state.inside.slice !== null && state.inside.tuck === null);
  const slice = useDesk((state) => state.inside.slice);
  const held = useRef<{ x: number; y: number } | null>(null);
  if (!on || !slice) return null;
  const { low, high } = desk.lookInside.reachOf(slice.normal);
  const share = high > low ? (slice.offset - low) / (high - low) : 0.5;
  const onKey = (event: KeyboardEvent) => {
    const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 5, PageDown: -5 }[
      event.key
    ];
    if (by === undefined) return;
    if (event.shiftKey) desk.lookInside.turnSlice((by * Math.PI) / 36);
    else desk.lookInside.moveSlice(by);
    event.preventDefault();
    event.stopPropagation();
  };
  const onMove = (event: PointerEvent) => {
    if (!held.current || !stage.current) return;
    const { x, y } = held.current;
    held.current = { x: event.clientX, y: event.clientY };
    desk.lookInside.slideSlice(alongNormal(stage.current, event.clientX - x, event.clientY - y));
  };
  return (
    <div
      className="slice-handle"
      id="slice-handle"
      role="slider"
      tabIndex={0}
      aria-label={words.sliceHandle}
      aria-valuemin={0}
      aria-valuemax={100}
      aria-valuenow={Math.round(100 * share)}
      aria-orientation="horizontal"
      onKeyDown={onKey}
      onPointerDown={(event) => {
        held.current = { x: event.clientX, y: event.clientY };
        event.currentTarget.setPointerCapture(event.pointerId);
        event.stopPropagation();
      }}
      onPointerMove={onMove}
      onPointerUp={() => {
        held.current = null;
      }}
      onPointerCancel={() => {
        held.current = null;
      }}
    />
  );
}

/** How far along the slice's normal a move on screen goes, sheet units. */
function alongNormal(stage: ModelStage, dx: number, dy: number): number {
  const { slice } = desk.store.inside;
  if (!slice) return 0;
  const at = desk.lookInside.middleOfSlice;
  const step = 0.05;
  const ahead: Space = [
    at[0] + step * slice.normal[0],
    at[1] + step * slice.normal[1],
    at[2] + step * slice.normal[2],
  ];
  const [p, q] = [stage.toScreen(at), stage.toScreen(ahead)];
  const [nx, ny] = [q.x - p.x, q.y - p.y];
  const square = nx * nx + ny * ny;
  // seen along its normal the slice is moved by going up and down
  if (square < 9) return (-dy * step) / 30;
  return ((dx * nx + dy * ny) / square) * step;
}

/** The outline of the slice as an SVG path, and the place of its handle; both in pixels of the canvas. */
export function outlineOfSlice(stage: ModelStage): { path: string; handle: { x: number; y: number } } | null {
  const { slice } = desk.store.inside;
  if (!slice) return null;
  const { normal } = slice;
  const middle = desk.lookInside.middleOfSlice;
  const level = Math.abs(normal[2]) > 0.95;
  const lead: Space = level ? [0, 1, 0] : [0, 0, 1];
  const across = unit(cross(lead, normal));
  const up = cross(normal, across);
  const { low, high } = desk.lookInside.box;
  const reach = (axis: Space): [number, number] => {
    let [least, most] = [Infinity, -Infinity];
    for (let k = 0; k < 8; k++) {
      const corner = [0, 1, 2].map((c) => ((k >> c) & 1 ? high[c]! : low[c]!)) as unknown as Space;
      const at = dot(minus(corner, middle), axis);
      least = Math.min(least, at);
      most = Math.max(most, at);
    }
    return [least - MARGIN, most + MARGIN];
  };
  const [[a, b], [c, lower]] = [reach(across), reach(up)];
  const d = Math.max(lower, c + LEAST_HEIGHT);
  const at = (s: number, t: number) =>
    stage.toScreen([
      middle[0] + s * across[0] + t * up[0],
      middle[1] + s * across[1] + t * up[1],
      middle[2] + s * across[2] + t * up[2],
    ]);
  const corners = [at(a, c), at(b, c), at(b, d), at(a, d)];
  const path = `${corners.map(({ x, y }, k) => `${k === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('')}Z`;
  return { path, handle: at((a + b) / 2, d) };
}
