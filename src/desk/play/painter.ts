/**
 * How the paper of a board's poses is drawn: on which side of each other its panels lie, and how far those that graze are
 * bent aside. The model alone needs it, and it is fetched with the model.
 */
import { giveOf, type PaperFacts } from '../../core/contact/give.ts';
import { posePanels, shapesOf } from '../../core/contact/shapes.ts';
import { PaperBender } from '../../core/drawn/bend-aside.ts';
import { type DrawnPose, drawnPose } from '../../core/drawn/drawn-pose.ts';
import { ToldSides, type ToldStep } from '../../core/drawn/told-sides.ts';
import type { LayerOrder } from '../../core/layer/problem.ts';
import { type PanelWalk, type Placement, placePanels } from '../../core/pose/place.ts';
import type { TrackPose } from '../../core/pose/track.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';

/** Where on the track of its step a pose stands: the share of the step, and the baked pose before it. */
export interface OnTrack {
  readonly share: number;
  readonly from: TrackPose;
}

/** A pose that is placed and not yet drawn. */
interface UndrawnPose {
  readonly step: number;
  readonly sheet: Sheet;
  readonly angle: Float64Array;
  readonly placement: Placement;
  /** Null for a pose that is on no track. */
  readonly on: OnTrack | null;
}

/** What a painter asks of the board. */
export interface PaintedBoard {
  readonly paper: PaperFacts;
  readonly steps: readonly { readonly sheet: Sheet; readonly poses: readonly TrackPose[] }[];
  /** The panel of a step's sheet that stays, and the order in which panels are placed from it. */
  walkOf(sheet: Sheet): { readonly still: number; readonly walk: PanelWalk };
  /** All steps as panels of one sheet see them. */
  stepsAsTold(sheet: Sheet): ToldStep[];
  orderAt(step: number, atEnd: boolean, angle: Float64Array): LayerOrder;
}

export class Painter {
  private readonly sides = new Map<Sheet, { readonly told: ToldSides; readonly bender: PaperBender }>();
  private readonly placements = new WeakMap<TrackPose, Placement>();

  constructor(private readonly board: PaintedBoard) {}

  draw({ step, sheet, angle, placement, on }: UndrawnPose): DrawnPose {
    const { told, bender } = this.sidesOf(sheet);
    const posed = posePanels(shapesOf(sheet), placement);
    const before = on ? this.history(step, on.from) : () => null;
    const laps = on
      ? told.at(step, on.share, posed)
      : told.ofOrder(this.board.orderAt(step, true, angle), posed);
    return drawnPose({ sheet, angle, posed, before }, laps, bender);
  }

  /** Earlier placements of the same sheet, nearest first. */
  private history(step: number, from: TrackPose): (back: number) => Placement | null {
    const { steps } = this.board;
    const { sheet, poses } = steps[step]!;
    let s = step;
    let k = poses.indexOf(from);
    const seen: (Placement | null)[] = [];
    const earlier = (): Placement | null => {
      while (s >= 0) {
        const record = steps[s]!;
        if (record.sheet !== sheet) return null;
        const pose = record.poses[k--];
        if (pose) return this.placementOf(sheet, pose);
        s--;
        k = s >= 0 ? steps[s]!.poses.length - 1 : 0;
      }
      return null;
    };
    return (back) => {
      while (seen.length <= back) seen.push(earlier());
      return seen[back]!;
    };
  }

  private placementOf(sheet: Sheet, pose: TrackPose): Placement {
    const known = this.placements.get(pose);
    if (known) return known;
    const { still, walk } = this.board.walkOf(sheet);
    const placement = placePanels(sheet, pose.angle, still, walk);
    this.placements.set(pose, placement);
    return placement;
  }

  private sidesOf(sheet: Sheet) {
    const known = this.sides.get(sheet);
    if (known) return known;
    const { board } = this;
    const give = giveOf(shapesOf(sheet), board.paper);
    const told = new ToldSides(sheet, board.walkOf(sheet).still, () => board.stepsAsTold(sheet), give);
    const made = { told, bender: new PaperBender(give) };
    this.sides.set(sheet, made);
    return made;
  }
}
