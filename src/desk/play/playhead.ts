/**
 * Where the slider stands and what the model shows: fast values that views read in their own time. 0 is the flat
 * sheet, 1 the end of the first step, and so on.
 */
import { SAME_MOMENT } from '../../core/numeric/tolerance.ts';
import type { PlacedPose, TrackBoard } from './board.ts';

type Listener = () => void;

export class Playhead {
  place = 0;
  board: TrackBoard | null = null;
  pose: PlacedPose | null = null;
  /** While listeners are told: the slider has not moved, its pose was only made exact. */
  quiet = false;
  private listeners = new Set<Listener>();

  subscribe = (listener: Listener): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** Begins with a new board, at its start or at a given place. */
  begin(board: TrackBoard | null, place = 0): void {
    this.board = board;
    this.moveTo(place);
  }

  /** Moves the slider; the pose is blended from those baked. */
  moveTo(place: number): void {
    this.place = this.board ? Math.max(0, Math.min(place, this.board.steps.length)) : 0;
    this.refresh();
  }

  /** Shows what the board has at this place now. */
  refresh(): void {
    this.pose = this.board ? this.board.poseAt(this.place) : null;
    this.tell();
  }

  /** Shows a pose that the solver gave for this place, or that a hand made. */
  showPose(pose: PlacedPose): void {
    this.pose = pose;
    this.tell();
  }

  /** The same, without starting the wait for rest again. */
  showQuietly(pose: PlacedPose): void {
    this.pose = pose;
    this.tell(true);
  }

  /** The step that the slider is in, from 0. */
  get step(): number {
    return stepAt(this.place, this.board?.steps.length ?? 1);
  }

  private tell(quiet = false): void {
    this.quiet = quiet;
    for (const listener of this.listeners) listener();
    this.quiet = false;
  }
}

/** Number of the step that a place lies in or ends, from 0; -1 at the flat sheet. */
export const stepInto = (place: number): number => Math.ceil(place - SAME_MOMENT) - 1;

/** Number of the step at a place of the slider, from 0; the flat sheet belongs to the first. */
export const stepAt = (place: number, count: number): number =>
  Math.max(0, Math.min(count - 1, stepInto(place)));
