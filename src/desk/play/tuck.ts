/**
 * Plays a tuck or a lock by itself, slowly: what hides the moving panels is glass, and a section follows the tip of
 * the flap.
 */

import type { Space } from '../../core/layer/planes.ts';
import type { SectionPlane } from '../../core/layer/section.ts';
import type { StepKind } from '../../core/lesson/lesson.ts';
import { panelNormal, placeOf } from '../../core/pose/place.ts';
import { panelArea } from '../../core/sheet/walk.ts';
import { movingParts, shiftOf } from '../tools/inside.ts';
import { inside, setInside, useInside } from '../tools/inside-wishes.ts';
import { layersNow } from '../run/layers-now.ts';
import { motionReduced, stop } from './player.ts';
import { playhead } from './playhead.ts';
import type { PlacedPose, TrackBoard } from './board.ts';

const SECONDS = 8;
/** A press of the step buttons, and a still where motion is unwelcome, is such a share of the tuck. */
const STEPS = 8;
const STILL_SECONDS = 1.2;
/** Corners moved this nearly as far as the furthest one count as tips. */
const NEARLY = 0.95;
/** The section stands so far in from the tip, as a share of the way to the panel's middle. */
const INSET = 0.3;

let frame = 0;
let timer = 0;
let unfollow: (() => void) | null = null;
let tip: { board: TrackBoard; step: number; panel: number; x: number; y: number; normal: Space } | null =
  null;

export function isTuck(kind: StepKind): boolean {
  return kind === 'tuck' || kind === 'lock';
}

/** Begins at the start of the step, with everything else that was open closed. */
export function openTuck(step: number): void {
  stop();
  setInside({ tuck: { step, playing: false }, glass: null, fan: 0, peeling: false, peeled: 0, slice: null });
  unfollow ??= layersNow.follow();
  playhead.moveTo(step);
  playTuck();
}

export function playTuck(): void {
  const { tuck } = inside();
  if (!tuck) return;
  stop();
  if (shareNow() >= 1 - 1e-3) playhead.moveTo(tuck.step);
  setInside({ tuck: { ...tuck, playing: true } });
  if (motionReduced()) {
    const still = () => {
      stepTuck(1, true);
      if (inside().tuck?.playing) timer = window.setTimeout(still, 1000 * STILL_SECONDS);
    };
    timer = window.setTimeout(still, 1000 * STILL_SECONDS);
    return;
  }
  const from = shareNow();
  let begun = -1;
  const tick = (now: number) => {
    if (!inside().tuck?.playing) return;
    if (begun < 0) begun = now;
    const share = Math.min(1, from + (now - begun) / 1000 / SECONDS);
    playhead.moveTo(tuck.step + share);
    if (share < 1) frame = requestAnimationFrame(tick);
    else pauseTuck();
  };
  frame = requestAnimationFrame(tick);
}

export function pauseTuck(): void {
  cancelAnimationFrame(frame);
  clearTimeout(timer);
  const { tuck } = inside();
  if (tuck?.playing) setInside({ tuck: { ...tuck, playing: false } });
}

/** One still on or back. */
export function stepTuck(direction: 1 | -1, playing = false): void {
  const { tuck } = inside();
  if (!tuck) return;
  if (!playing) pauseTuck();
  const at = shareNow() * STEPS;
  const next = direction > 0 ? Math.floor(at + 1e-3) + 1 : Math.ceil(at - 1e-3) - 1;
  const share = Math.max(0, Math.min(1, next / STEPS));
  playhead.moveTo(tuck.step + share);
  if (share >= 1) pauseTuck();
}

export function closeTuck(): void {
  pauseTuck();
  setInside({ tuck: null, slice: null });
}

/** How far the tuck has come, 0 to 1. */
export function shareNow(): number {
  const { tuck } = inside();
  return tuck ? Math.max(0, Math.min(1, playhead.place - tuck.step)) : 0;
}

useInside.subscribe((now, before) => {
  if (before.tuck && !now.tuck) {
    cancelAnimationFrame(frame);
    clearTimeout(timer);
    unfollow?.();
    unfollow = null;
  }
});

playhead.subscribe(() => {
  const { tuck } = inside();
  const { pose } = playhead;
  if (!tuck || !pose) return;
  // the slider was taken elsewhere
  if (playhead.place < tuck.step - 1e-6 || playhead.place > tuck.step + 1 + 1e-6) closeTuck();
  else setInside({ slice: planeOfTip(tuck.step, pose) });
});

/** The plane in which the tip of the flap turns, where the tip is now. */
function planeOfTip(step: number, pose: PlacedPose): SectionPlane | null {
  const { board } = playhead;
  if (!board) return null;
  if (tip?.board !== board || tip.step !== step) tip = findTip(board, step);
  if (!tip) return null;
  const { panel, x, y, normal } = tip;
  const at = placeOf(pose.placement, panel, x, y);
  return { normal, offset: at[0] * normal[0] + at[1] * normal[1] + at[2] * normal[2] };
}

function findTip(board: TrackBoard, step: number): typeof tip {
  const start = board.poseAt(step + 1e-6);
  const end = board.poseAt(step + 1);
  const { sheet } = end;
  const moved = [...movingParts(step)].map((panel) => ({
    panel,
    ...shiftOf(sheet, start.placement, end.placement, panel),
  }));
  const furthest = Math.max(0, ...moved.map(({ shift }) => shift));
  const [leader] = moved
    .filter(({ shift }) => shift >= NEARLY * furthest)
    .sort((a, b) => panelArea(sheet, a.panel) - panelArea(sheet, b.panel));
  if (!leader) return null;
  const { panel, vertex } = leader;
  const [tx, ty] = [sheet.vertexX[vertex]!, sheet.vertexY[vertex]!];
  const [mx, my] = middleOfPanel(end, panel);
  const x = tx + INSET * (mx - tx);
  const y = ty + INSET * (my - ty);
  return { board, step, panel, x, y, normal: axisOfTurn(start, end, panel, x, y) };
}

function middleOfPanel({ sheet }: PlacedPose, panel: number): [number, number] {
  let [x, y, count] = [0, 0, 0];
  const first = sheet.panelRings[panel]![0]!;
  let h = first;
  do {
    const v = (h & 1) === 0 ? sheet.creaseFrom[h >> 1]! : sheet.creaseTo[h >> 1]!;
    x += sheet.vertexX[v]!;
    y += sheet.vertexY[v]!;
    count++;
    h = sheet.halfEdgeNext[h]!;
  } while (h !== first);
  return [x / count, y / count];
}

/** The line about which a panel turns in a step; of one that only slides, the line across its way and its face. */
function axisOfTurn(start: PlacedPose, end: PlacedPose, panel: number, x: number, y: number): Space {
  const k = 4 * panel;
  const [ax, ay, az, aw] = [0, 1, 2, 3].map((i) => start.placement.rotation[k + i]!) as Four;
  const [bx, by, bz, bw] = [0, 1, 2, 3].map((i) => end.placement.rotation[k + i]!) as Four;
  // end * inverse of start
  const turn: Space = [
    -bw * ax + bx * aw - by * az + bz * ay,
    -bw * ay + by * aw - bz * ax + bx * az,
    -bw * az + bz * aw - bx * ay + by * ax,
  ];
  if (Math.hypot(...turn) > 0.02) return unit(turn);
  const [p, q] = [placeOf(start.placement, panel, x, y), placeOf(end.placement, panel, x, y)];
  const n = panelNormal(end.placement, panel);
  const way: Space = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
  return unit([way[1] * n[2] - way[2] * n[1], way[2] * n[0] - way[0] * n[2], way[0] * n[1] - way[1] * n[0]]);
}

type Four = [number, number, number, number];

function unit([x, y, z]: Space): Space {
  const length = Math.hypot(x, y, z) || 1;
  return [x / length, y / length, z / length];
}
