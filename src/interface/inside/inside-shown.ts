/** Brings what is wished to be seen inside onto the stage: glass, fan, slice, layers lifted off. */
import { asideAt } from '../../core/layer/aside.ts';
import type { Leaves } from '../../core/layer/leaves.ts';
import { type SectionPlane, sectionOf } from '../../core/layer/section.ts';
import type { End } from '../../desk/around.ts';
import type { PlacedPose } from '../../desk/play/board.ts';
import { movingParts } from '../../desk/tools/moving-parts.ts';
import type { InsideLook } from '../../scene/inside.ts';
import type { Veil } from '../../scene/pose-buffers.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { desk } from '../desk.ts';
import { hidersOf } from './hiders.ts';

/** How much of a panel stays to be seen when it is glass. */
const GLASS = 0.17;
/** How far a layer is lifted before it is gone, sheet units. */
const LIFT = 0.1;

export class InsideShown {
  /** Panels that are glass while a tuck plays. */
  private readonly tuckGlass = new Set<number>();
  /** What was shown last, by the count of the desk. */
  private shown = -1;

  constructor(private readonly stage: ModelStage) {}

  begin(): End {
    const ends = [
      desk.inside.subscribe(() => desk.inside.stageTurn !== this.shown && this.show()),
      desk.store.subscribe((now, before) => {
        if (now.inside.tuck?.step !== before.inside.tuck?.step) this.tuckGlass.clear();
      }),
    ];
    this.show();
    return () => {
      for (const end of ends) end();
    };
  }

  private show(): void {
    this.shown = desk.inside.stageTurn;
    const { pose } = desk.playhead;
    if (pose) this.stage.setInside(this.look(pose), !desk.around.motionReduced());
  }

  private look(pose: PlacedPose): InsideLook {
    const { fan, slice, glass, tuck } = desk.store.inside;
    const veiled = new Map<number, Veil>();
    for (const panel of this.glassPanels(pose)) veiled.set(panel, { opacity: GLASS, lift: 0 });
    for (const [panel, veil] of lifted()) veiled.set(panel, veil);
    return {
      fan,
      veiled,
      cut: slice && { ...slice, caps: capsOf(this.stage.leaves, pose, slice), bothStay: tuck !== null },
      dotted: glass !== null || fan > 0 || tuck !== null,
    };
  }

  private glassPanels(pose: PlacedPose): Iterable<number> {
    const { glass, chosen, tuck } = desk.store.inside;
    const { board } = desk.playhead;
    if (!board) return [];
    if (tuck) {
      // once glass, a panel stays so while the tuck plays: what comes and goes would only distract
      for (const panel of hidersOf(this.stage, pose, movingParts(board, tuck.step)))
        this.tuckGlass.add(panel);
      return this.tuckGlass;
    }
    if (!glass) return [];
    if (glass === 'chosen') return board.partsOf(pose, chosen);
    const { selection } = desk.store.look;
    if (glass === 'all' || selection?.kind !== 'panel') return Array(pose.sheet.panelRings.length).keys();
    return hidersOf(this.stage, pose, board.partsOf(pose, [selection.id]));
  }
}

/** Layers that are lifted off at the point. */
function lifted(): [number, Veil][] {
  const { peeled, peeling } = desk.store.inside;
  const { kept } = desk.inside;
  if (!peeling || !kept || desk.layersNow.pose?.sheet !== desk.playhead.pose?.sheet) return [];
  return kept.layers.slice(0, peeled).map(({ part, up }) => [part, { opacity: 0, lift: up ? LIFT : -LIFT }]);
}

function capsOf(leaves: Leaves | null, pose: PlacedPose, plane: SectionPlane) {
  const cuts = leaves ? sectionOf(pose.placement, leaves, plane, pose.aside).cuts : [];
  const asideOf = (end: 'flatFrom' | 'flatTo') =>
    Float32Array.from(cuts.flatMap(({ panel, [end]: [x, y] }) => [...asideAt(pose.aside, panel, x, y)]));
  return {
    ends: Float32Array.from(cuts.flatMap(({ flatFrom, flatTo }) => [...flatFrom, ...flatTo])),
    asideStart: asideOf('flatFrom'),
    asideEnd: asideOf('flatTo'),
    panel: Float32Array.from(cuts, ({ panel }) => panel),
    rise: Float32Array.from(cuts, ({ rise }) => rise),
  };
}
