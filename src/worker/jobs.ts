/**
 * Does what the page asks for, one job beside the other: a long track stops after each pose to let other requests
 * in, so that Cancel and the slider are answered at once.
 */
import { closureOfPose } from '../core/pose/closure.ts';
import { correctPose } from '../core/pose/correct.ts';
import { dragVertex } from '../core/pose/drag.ts';
import { foldStep } from '../core/pose/fold-step.ts';
import { countFreedoms } from '../core/pose/freedoms.ts';
import type { Stage, StepTrack } from '../core/pose/track.ts';
import { endOfStep, ownAngles } from '../core/run/step.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { PlanStore } from './plan-store.ts';
import type { Answer, Request } from './protocol.ts';
import { readyOrRefused, truedUp } from './ready.ts';
import { newTrackStore, trackKey } from './track-store.ts';
import { writeFile } from './write.ts';

type Send = (answer: Answer, transfer?: Transferable[]) => void;
type Of<K extends Request['kind']> = Extract<Request, { kind: K }>;

/** A vertex counts as open on screen from this rotation on, radians: a hundredth of a degree. */
const OPEN = 1.75e-4;

export class Jobs {
  private readonly cancelled = new Set<number>();
  private readonly running = new Set<number>();
  private sheets: Sheet[] = [];
  private readonly known = newTrackStore();
  private readonly plans = new PlanStore();

  constructor(
    private readonly send: Send,
    private readonly pause: () => Promise<void> = nextTurn,
  ) {}

  /** Takes one request; its answers go out by `send`. Never throws. */
  async take(request: Request): Promise<void> {
    try {
      await this.answer(request);
    } catch (error) {
      this.send({
        kind: 'broke',
        job: request.job,
        message: error instanceof Error ? error.message : String(error),
      });
    } finally {
      this.running.delete(request.job);
    }
  }

  private async answer(request: Request): Promise<void> {
    const { job } = request;
    switch (request.kind) {
      case 'bake':
        await this.bake(request);
        break;
      case 'cancel':
        if (this.running.has(request.target)) this.cancelled.add(request.target);
        this.send({ kind: 'cancelled', job: request.target });
        break;
      case 'correct':
        this.correct(request);
        break;
      case 'drag':
        this.drag(request);
        break;
      case 'rebuild':
        this.send({ job, ...readyOrRefused(request.lesson, [], false) });
        break;
      case 'true-up':
        this.send({ job, ...truedUp(request.lesson) });
        break;
      case 'write': {
        const written = writeFile(request);
        this.send({ kind: 'written', job, ...written }, [written.bytes.buffer as ArrayBuffer]);
      }
    }
  }

  private async bake({ job, lesson, choices }: Of<'bake'>): Promise<void> {
    this.running.add(job);
    const { sheet, steps, sheetSize } = this.plans.planOf(lesson);
    this.sheets = steps.map(() => sheet);
    const creases = sheet.creaseKind.length;
    let start = new Float64Array(creases);
    for (const [step, { stage }] of steps.entries()) {
      const how = { ...choices, sheetSize: sheetSize ?? undefined };
      const poses = foldStep(sheet, start, stage, how);
      const key = trackKey(sheet, start, stage, how);
      let track: StepTrack | null = this.known.get(key) ?? null;
      if (track) await this.pause();
      if (track && this.cancelled.delete(job)) return;
      while (track === null) {
        await this.pause();
        if (this.cancelled.delete(job)) return;
        const next = poses.next();
        if (next.done) track = next.value;
        else {
          const angle = Float64Array.from(next.value.angle);
          this.send({ kind: 'pose', job, step, pose: { at: next.value.at, angle } }, [angle.buffer]);
        }
      }
      this.known.put(key, track);
      this.sheets[step] = track.sheet;
      const fails = track.report.outcome === 'fails' || track.report.outcome === 'stopped';
      this.send({
        kind: 'step',
        job,
        step,
        sheet: track.bendLines > 0 ? track.sheet : null,
        panelOf: track.panelOf,
        poses: track.poses,
        reached: fails ? shareReached(track, stage) : 1,
        report: track.report,
        end: endOfStep(sheet, stage, track),
      });
      if (fails) break;
      start = ownAngles(sheet, track.poses.at(-1)!.angle);
    }
    this.send({ kind: 'baked', job });
  }

  private correct({ job, step, angle }: Of<'correct'>): void {
    const sheet = this.sheets[step];
    if (!sheet || angle.length !== sheet.creaseKind.length) {
      this.send({ kind: 'gone', job });
      return;
    }
    const corrected = correctPose(sheet, angle);
    const { loops } = closureOfPose(sheet, corrected.angle);
    const open = loops.flatMap((loop) =>
      loop.vertex !== undefined && loop.rotation > OPEN
        ? [{ vertex: loop.vertex, rotation: loop.rotation }]
        : [],
    );
    this.send({
      kind: 'corrected',
      job,
      angle: corrected.angle,
      closure: corrected.closure,
      freedoms: countFreedoms(sheet, corrected.angle),
      open,
    });
  }

  private drag({ job, step, angle, still, vertex, goal, free }: Of<'drag'>): void {
    const sheet = this.sheets[step];
    if (!sheet || angle.length !== sheet.creaseKind.length) {
      this.send({ kind: 'gone', job });
      return;
    }
    const moved = dragVertex(sheet, angle, still, vertex, goal, free);
    this.send({ kind: 'dragged', job, angle: moved, freedoms: countFreedoms(sheet, moved) });
  }
}

/** Share of a failed step that its motion got through: what creases turned, against that and what they still lack. */
function shareReached({ poses }: StepTrack, { target }: Stage): number {
  let gone = 0;
  for (let k = 1; k < poses.length; k++) gone += largestChange(poses[k]!.angle, poses[k - 1]!.angle);
  const left = largestChange(target, poses[poses.length - 1]!.angle);
  return gone > OPEN ? Math.min(0.99, gone / (gone + left)) : 0;
}

/** Largest difference of two poses over the first one's creases; angles that are not given do not count. */
function largestChange(a: Float64Array, b: Float64Array): number {
  return a.reduce(
    (most, angle, e) => (Number.isNaN(angle) ? most : Math.max(most, Math.abs(angle - b[e]!))),
    0,
  );
}

/** Lets waiting messages in. (A timer would cost four milliseconds each time.) */
function nextTurn(): Promise<void> {
  return new Promise((resolve) => {
    const channel = new MessageChannel();
    channel.port1.onmessage = () => {
      channel.port1.close();
      resolve();
    };
    channel.port2.postMessage(null);
  });
}
