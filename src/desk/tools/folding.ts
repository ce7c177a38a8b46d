/** Folding on the model. */
import { isRefused } from '../../core/lesson/on-model/folded.ts';
import { withStaying } from '../../core/lesson/on-model/what-stays.ts';
import { withFold } from '../../core/lesson/on-model/with-fold.ts';
import { placeOf } from '../../core/pose/place.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { mainPanel } from '../../core/sheet/walk.ts';
import { foldWords } from '../../words/words.ts';
import type { ScreenPlace } from '../around.ts';
import type { Edits } from '../document/edits.ts';
import type { Playhead } from '../play/playhead.ts';
import type { Tracks } from '../run/tracks.ts';
import type { Store } from '../store.ts';
import type { FoldingNow } from './folding-now.ts';
import { type FoldingState, type FoldWay, isStraight, type PaperMark } from './folding-state.ts';

interface Parts {
  readonly store: Store;
  readonly edits: Edits;
  readonly playhead: Playhead;
  readonly tracks: Tracks;
  readonly screen: ScreenPlace;
  readonly now: FoldingNow;
  /** Puts the tool away. */
  readonly close: () => void;
}

export class Folding {
  readonly now: FoldingNow;

  constructor(private readonly parts: Parts) {
    this.now = parts.now;
  }

  addPoint(point: PaperMark): void {
    const { store, screen } = this.parts;
    const { points } = store.folding;
    const kept = points.length >= 2 ? [] : points;
    const eyeSide = screen.now ? this.now.eyeSideOf(point, screen.now.eyeInModel) : 1;
    store.put({ folding: { points: [...kept, point], eyeSide } });
  }

  choose(change: Partial<Pick<FoldingState, 'layers' | 'otherSide'>>): void {
    this.parts.store.put({ folding: change });
  }

  /** A flap that opens begins at the top layer; a straight fold may take all. */
  chooseWay(way: FoldWay): void {
    const { layers } = this.parts.store.folding;
    this.parts.store.put({ folding: { way, layers: layers === 'all' && !isStraight(way) ? 1 : layers } });
  }

  /** Makes the fold that is set up, as the next step. */
  fold = (): void => {
    const { store, edits, playhead, tracks } = this.parts;
    const { way } = store.folding;
    const plan = this.now.folded;
    const { lesson, sheet } = store.document;
    const { pose, board } = playhead;
    const drawn = this.now.drawn(way);
    if (!plan || isRefused(plan) || !lesson || !sheet || !pose || !drawn || isRefused(drawn)) return;
    const step = Math.round(playhead.place) - 1;
    const ends = board?.steps.map(({ poses }) => poses.at(-1)?.angle.slice(0, sheet.creaseKind.length)) ?? [];
    this.parts.close();
    const made = { sheet, angle: pose.angle, plan, ends, ...foldWords[way] };
    const stays = { paper: drawn.paper, plan, still: board?.stillPanel(sheet) ?? mainPanel(sheet) };
    edits.lesson('fold across', (one) => withStaying(withFold(one, step, made), stays));
    tracks.standAt(step + 2);
  };

  /**
   * The point of the paper that a pick means: a corner within reach, else the middle or a third of a crease within reach,
   * else the place itself.
   */
  pointOf(pick: {
    readonly panel: number;
    readonly flat: readonly [number, number];
    readonly vertex: number | null;
    readonly crease: number | null;
  }): PaperMark | null {
    const { pose } = this.parts.playhead;
    if (!pose) return null;
    const { sheet, placement } = pose;
    let flat = pick.flat;
    if (pick.vertex !== null) flat = [sheet.vertexX[pick.vertex]!, sheet.vertexY[pick.vertex]!];
    else if (pick.crease !== null) flat = nearestShare(sheet, pick.crease, pick.flat);
    const took = pick.vertex !== null ? 'corner' : pick.crease !== null ? 'crease' : 'panel';
    return { panel: pick.panel, flat, at: placeOf(placement, pick.panel, flat[0], flat[1]), took };
  }
}

/** Shares of a crease that a point snaps to, where it is that near (in shares of the crease). */
const SHARES = [1 / 4, 1 / 3, 1 / 2, 2 / 3, 3 / 4];
const SNAP_SHARE = 0.04;

function nearestShare(
  sheet: Sheet,
  crease: number,
  [x, y]: readonly [number, number],
): readonly [number, number] {
  const [a, b] = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!];
  const [ax, ay] = [sheet.vertexX[a]!, sheet.vertexY[a]!];
  const [dx, dy] = [sheet.vertexX[b]! - ax, sheet.vertexY[b]! - ay];
  const share = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy);
  const snapped = SHARES.find((one) => Math.abs(one - share) < SNAP_SHARE) ?? share;
  return [ax + snapped * dx, ay + snapped * dy];
}
