/** What lies over the model's picture: rings, the line of a fold that is being made, degrees of bent panels, the slice. */
import { placeOf } from '../../core/pose/place.ts';
import type { PlacedPose } from '../../desk/play/board.ts';
import { middleOfPanel } from '../../desk/tools/flap-tip.ts';
import { ringsNow } from '../../desk/tools/rings.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { desk } from '../desk.ts';
import { RING } from '../parts/ink.ts';
import { outlineOfSlice } from './slice-handle.tsx';

/** Rings round corners that do not close or are pointed at, and the degrees of bent panels. */
export function drawOverlay(stage: ModelStage, overlay: SVGSVGElement): void {
  const { pose } = desk.playhead;
  const rings = ringsNow(desk.store, desk.playhead);
  let html = '';
  if (pose) {
    for (const [vertex, name] of rings) {
      const at = cornerPlace(pose, vertex);
      if (!at) continue;
      const { x, y } = stage.toScreen(at);
      html += `<circle class="${name}" cx="${x.toFixed(1)}" cy="${y.toFixed(1)}" r="${RING}"/>`;
    }
    html += acrossLine(stage);
    html += bendLabels(stage, pose);
  }
  const slice = outlineOfSlice(stage);
  if (slice) {
    html += `<path class="slice-outline" d="${slice.path}"/>`;
    const handle = document.getElementById('slice-handle');
    if (handle)
      handle.style.transform = `translate(${slice.handle.x.toFixed(1)}px, ${slice.handle.y.toFixed(1)}px)`;
  }
  if (overlay.innerHTML !== html) overlay.innerHTML = html;
}

/** The line of a fold that is being made on the model. */
function acrossLine(stage: ModelStage): string {
  const { on, points } = desk.store.folding;
  if (!on) return '';
  const places = points.map(({ at }) => stage.toScreen(at));
  const dots = places.map(
    ({ x, y }) => `<circle class="across-point" cx="${x.toFixed(1)}" cy="${y.toFixed(1)}" r="5"/>`,
  );
  const [a, b] = places;
  if (!a || !b) return dots.join('');
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const far = 2000 / (Math.hypot(dx, dy) || 1);
  const ends = [a.x - far * dx, a.y - far * dy, b.x + far * dx, b.y + far * dy].map((one) => one.toFixed(1));
  const paper = desk.folding.hands.now.movingPaper.map((corners) => {
    const at = corners.map((corner) => stage.toScreen([corner[0], corner[1], corner[2]]));
    return `<polygon class="across-paper" points="${at.map(({ x, y }) => `${x.toFixed(1)},${y.toFixed(1)}`).join(' ')}"/>`;
  });
  return `${paper.join('')}<line class="across-line" x1="${ends[0]}" y1="${ends[1]}" x2="${ends[2]}" y2="${ends[3]}"/>${dots.join('')}`;
}

type Pose = PlacedPose;

function cornerPlace(pose: Pose, vertex: number): [number, number, number] | null {
  const { sheet, placement } = pose;
  for (let h = 0; h < sheet.halfEdgePanel.length; h++) {
    const origin = (h & 1) === 0 ? sheet.creaseFrom[h >> 1]! : sheet.creaseTo[h >> 1]!;
    const panel = sheet.halfEdgePanel[h]!;
    if (origin === vertex && panel >= 0)
      return placeOf(placement, panel, sheet.vertexX[vertex]!, sheet.vertexY[vertex]!);
  }
  return null;
}

/** Only the panels that bend most are labelled; the hatching tells of the others. */
function bendLabels(stage: ModelStage, pose: Pose): string {
  const { board } = desk.playhead;
  if (!board) return '';
  const worst = new Map<number, { panel: number; bend: number }>();
  pose.bends.forEach((bend, panel) => {
    if (bend >= 0.5) {
      const own = board.ownPanel(pose.step, panel);
      if (!worst.has(own)) worst.set(own, { panel, bend });
    }
  });
  const shown = [...worst.values()].sort((a, b) => b.bend - a.bend).slice(0, 6);
  return shown
    .map(({ panel, bend }) => {
      const at = panelMiddle(pose, panel);
      const { x, y } = stage.toScreen(at);
      return `<text class="bend-label" x="${x.toFixed(1)}" y="${y.toFixed(1)}">${bend.toFixed(0)}°</text>`;
    })
    .join('');
}

function panelMiddle({ sheet, placement }: Pose, panel: number): [number, number, number] {
  const [x, y] = middleOfPanel(sheet, panel);
  return placeOf(placement, panel, x, y);
}
