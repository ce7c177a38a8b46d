/** What the fold on the model that is set up would do. */
import { liftPoint } from '../../core/layer/planes.ts';
import { type DrawnLine, foldAcross, movingSide } from '../../core/lesson/on-model/fold-across.ts';
import {
  type Folded,
  type FoldPlan,
  isRefused,
  type Refusal,
  refuse,
} from '../../core/lesson/on-model/folded.ts';
import { type LyingPaper, offRim, outlineInside } from '../../core/lesson/on-model/in-plane.ts';
import { layersBeside, wholeLayers } from '../../core/lesson/on-model/layers-under.ts';
import { canLie } from '../../core/lesson/on-model/lies.ts';
import { reverseFolds } from '../../core/lesson/on-model/reverse-fold.ts';
import { spreadFolds } from '../../core/lesson/on-model/spread-fold.ts';
import { dot, type Space } from '../../core/numeric/vector.ts';
import type { Clock } from '../around.ts';
import type { Playhead } from '../play/playhead.ts';
import type { LayersNow } from '../run/layers-now.ts';
import type { Store } from '../store.ts';
import { type FoldWay, isStraight, type PaperMark } from './folding-state.ts';

/** A look at whether the layers can lie so may take as long, milliseconds; the step itself looks again. */
const LOOK_MILLISECONDS = 250;

/** A line on paper, and the panels beside it, the one next to the eye first. */
interface LineOnPaper {
  readonly paper: LyingPaper;
  readonly line: DrawnLine;
  readonly panels: readonly number[];
}

export class FoldingNow {
  /** Plans for what is drawn now, by way; worked out once. */
  private known: { readonly of: readonly unknown[]; readonly plans: Map<FoldWay, Folded> } = {
    of: [],
    plans: new Map(),
  };

  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
    private readonly layersNow: LayersNow,
    private readonly clock: Clock,
  ) {}

  /** What the fold would do; null before there is a line, or while the layers are not known. */
  get folded(): Folded | null {
    return this.foldedBy(this.store.folding.way);
  }

  /** The same for another way to fold. */
  foldedBy(way: FoldWay): Folded | null {
    const { points, layers, otherSide, eyeSide } = this.store.folding;
    const of = [points, layers, otherSide, eyeSide, this.layersNow.stacks, this.store.document.lesson];
    const isKnown = of.every((one, k) => one === this.known.of[k]);
    const had = isKnown && this.known.plans.get(way);
    if (had) return had;
    const drawn = this.drawn(way);
    if (!drawn || isRefused(drawn)) return drawn;
    if (!isKnown) this.known = { of, plans: new Map() };
    const plan = this.firstThatLies(drawn.paper, this.plansFor(way, drawn));
    this.known.plans.set(way, plan);
    return plan;
  }

  /** How many layers lie beside the line. */
  get depth(): number {
    const drawn = this.drawn(this.store.folding.way);
    return drawn && !isRefused(drawn) ? drawn.panels.length : 0;
  }

  /** What was drawn and on what; a refusal where no straight line can be drawn so; null before there is a line. */
  drawn(way: FoldWay): LineOnPaper | Refusal | null {
    const { points, eyeSide } = this.store.folding;
    const { pose } = this.playhead;
    const { stacks } = this.layersNow;
    const [first, second] = points;
    if (!pose || !first || !second || !stacks || this.layersNow.pose?.sheet !== pose.sheet) return null;
    if (pose.sheet !== this.store.document.sheet) return refuse({ how: 'bent-paper' });
    const group = stacks.planes.groupOf[first.panel]!;
    if (stacks.planes.groupOf[second.panel] !== group)
      return refuse({ how: 'two-planes' }, first.panel, second.panel);
    const { sheet, angle, placement } = pose;
    const paper: LyingPaper = { sheet, angle, placement, stacks, group };
    const toward = (way === 'behind' ? -eyeSide : eyeSide) as 1 | -1;
    const line = this.lineOn(paper, first.at, second.at, toward);
    const stack = layersBeside(paper, line);
    return { paper, line, panels: eyeSide > 0 ? [...stack].reverse() : stack };
  }

  /** The paper that would move, as polygons in the frame of the pose. */
  get movingPaper(): Space[][] {
    const { folded } = this;
    const drawn = this.drawn(this.store.folding.way);
    if (!folded || isRefused(folded) || !drawn || isRefused(drawn)) return [];
    const { paper } = drawn;
    const plane = paper.stacks.planes.groups[paper.group]!;
    return folded.panels.map((panel) =>
      outlineInside(paper, panel, folded.region).map(([x, y]) => liftPoint(plane, x, y)),
    );
  }

  /** Which way the plane of a point looks: 1 toward the eye. */
  eyeSideOf({ panel, at }: PaperMark, eye: Space): 1 | -1 {
    const { stacks } = this.layersNow;
    if (!stacks) return 1;
    const { normal } = stacks.planes.groups[stacks.planes.groupOf[panel]!]!;
    return dot(normal, [eye[0] - at[0], eye[1] - at[1], eye[2] - at[2]]) > 0 ? 1 : -1;
  }

  /** The line with what moves on its left: the smaller part, which a hand would move, unless the other is chosen. */
  private lineOn(paper: LyingPaper, from: Space, to: Space, toward: 1 | -1): DrawnLine {
    const line: DrawnLine = { from, to, toward };
    const { side } = movingSide(paper, line);
    const { net } = paper.stacks.planes.groups[paper.group]!;
    const off = Array.from(net.x, (x, v) => offRim(side, [x, net.y[v]!]));
    const rightIsSmaller = Math.max(0, ...off) > -Math.min(0, ...off);
    return rightIsSmaller === this.store.folding.otherSide ? line : { from: to, to: from, toward };
  }

  private plansFor(
    way: FoldWay,
    { paper, line, panels: beside }: LineOnPaper,
  ): readonly FoldPlan[] | Refusal {
    const { layers } = this.store.folding;
    const isAll = layers === 'all' && isStraight(way);
    const panels = isAll
      ? paper.stacks.planes.groups[paper.group]!.panels
      : wholeLayers(paper, beside.slice(0, layers === 'all' ? 1 : layers));
    if (isStraight(way)) {
      const plan = foldAcross({ ...paper, ...line, panels, whole: !isAll });
      return isRefused(plan) ? plan : [plan];
    }
    return way === 'squash' || way === 'petal'
      ? spreadFolds({ ...paper, ...line, panels, way })
      : reverseFolds({ ...paper, ...line, panels, way: way === 'inside' ? 'inside' : 'outside' });
  }

  private firstThatLies(paper: LyingPaper, plans: readonly FoldPlan[] | Refusal): Folded {
    const { lesson } = this.store.document;
    if ('refused' in plans || !lesson) return plans as Refusal;
    const end = this.clock.now() + LOOK_MILLISECONDS;
    const late = () => this.clock.now() > end;
    const plan = plans.find((one) => canLie(lesson, paper, one, late) !== false);
    return plan ?? refuse({ how: 'cannot-lie' }, ...plans[0]!.panels);
  }
}
