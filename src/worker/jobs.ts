/**
 * Does what the page asks for, one job beside the other: a long track stops after each pose to let other requests
 * in, so that Cancel and the slider are answered at once.
 */
import type { Finding } from '../core/finding/finding.ts';
import type { Lesson } from '../core/lesson/lesson.ts';
import { lessonOfSheet } from '../core/lesson/lesson-of-sheet.ts';
import { sheetOfLesson } from '../core/lesson/sheet-of-lesson.ts';
import { stagesOfLesson } from '../core/lesson/stages.ts';
import { closureOfPose } from '../core/pose/closure.ts';
import { correctPose } from '../core/pose/correct.ts';
import { dragVertex } from '../core/pose/drag.ts';
import { foldStep } from '../core/pose/fold-step.ts';
import { countFreedoms } from '../core/pose/freedoms.ts';
import type { Stage, StepTrack } from '../core/pose/track.ts';
import { buildSheet } from '../core/sheet/build.ts';
import { checkSheet } from '../core/sheet/check.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { trueUp } from '../core/sheet/true-up.ts';
import { applyMapping, type Drawing, type LineMapping } from '../core/storage/mapping.ts';
import { openFile } from '../core/storage/open.ts';
import type { Answer, ReadyLesson, Request } from './protocol.ts';
import { writeFile } from './write.ts';

type Send = (answer: Answer, transfer?: Transferable[]) => void;
type Of<K extends Request['kind']> = Extract<Request, { kind: K }>;

/** True-up is offered up to this much, sheet units: 2 % of the sheet. Beyond it the drawing means something else. */
const TRUE_UP_LIMIT = 0.02;
/** A vertex counts as open on screen from this rotation on, radians: a hundredth of a degree. */
const OPEN = 1.75e-4;

export class Jobs {
  private readonly cancelled = new Set<number>();
  private readonly running = new Set<number>();
  private sheets: Sheet[] = [];
  private drawing: { drawing: Drawing; title: string; findings: readonly Finding[] } | null = null;

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
    switch (request.kind) {
      case 'open':
        return this.open(request);
      case 'map':
        return this.map(request);
      case 'bake':
        return this.bake(request);
      case 'cancel':
        if (this.running.has(request.target)) this.cancelled.add(request.target);
        return this.send({ kind: 'cancelled', job: request.target });
      case 'correct':
        return this.correct(request);
      case 'drag':
        return this.drag(request);
      case 'true-up':
        return this.trueUp(request);
      case 'write': {
        const bytes = writeFile(request);
        return this.send({ kind: 'written', job: request.job, bytes: bytes.bytes, type: bytes.type }, [
          bytes.bytes.buffer as ArrayBuffer,
        ]);
      }
    }
  }

  private open({ job, name, bytes }: Of<'open'>): void {
    const opened = openFile(name, bytes);
    switch (opened.kind) {
      case 'refused':
        return this.refuse(job, opened.findings);
      case 'lesson': {
        const { sheet, findings } = sheetOfLesson(opened.lesson);
        return this.ready(job, sheet, opened.lesson, [...opened.findings, ...findings], false);
      }
      case 'sheet':
        return this.ready(
          job,
          opened.sheet,
          lessonOfSheet(opened.sheet, { title: opened.title }),
          opened.findings,
          true,
        );
      case 'drawing': {
        const title = name.replace(/\.[^.]*$/, '');
        this.drawing = { drawing: opened.drawing, title, findings: opened.findings };
        if (opened.named) return this.draw(job, opened.guess);
        return this.send({
          kind: 'asks-mapping',
          job,
          title,
          groups: opened.groups,
          guess: opened.guess,
          findings: opened.findings,
        });
      }
    }
  }

  private map({ job, mapping }: Of<'map'>): void {
    this.draw(job, mapping);
  }

  private draw(job: number, mapping: LineMapping): void {
    if (!this.drawing) return this.refuse(job, []);
    const { drawing, title, findings } = this.drawing;
    const built = buildSheet(applyMapping(drawing, mapping));
    const lesson = built.sheet && lessonOfSheet(built.sheet, { title });
    const kept = findings.filter((one) => one.code !== 'line-kind-guessed');
    this.ready(job, built.sheet, lesson, [...kept, ...built.findings], true);
  }

  private ready(
    job: number,
    sheet: Sheet | null,
    lesson: Lesson | null,
    before: readonly Finding[],
    drawn: boolean,
  ): void {
    if (!sheet || !lesson) {
      const errors = before.filter((one) => one.severity === 'error');
      return this.refuse(job, errors.length > 0 ? errors : before);
    }
    const { stages, findings } = stagesOfLesson(lesson, sheet);
    const checks = checkSheet(sheet);
    const open = checks.some((one) => one.code === 'vertex-closure' || one.code === 'vertex-angle-sum');
    let moved: number | null = null;
    if (drawn && open) {
      const trued = trueUp(sheet, TRUE_UP_LIMIT);
      if (!trued.findings.some((one) => one.severity === 'error')) moved = trued.moved * lesson.sheet.size;
    }
    const ready: ReadyLesson = {
      lesson,
      sheet,
      stages,
      findings: [...before, ...findings, ...checks],
      trueUp: moved,
    };
    this.send({ kind: 'ready', job, ready });
  }

  private refuse(job: number, findings: readonly Finding[]): void {
    this.send({ kind: 'refused', job, findings });
  }

  private trueUp({ job, lesson, sheet }: Of<'true-up'>): void {
    const trued = trueUp(sheet, TRUE_UP_LIMIT);
    const { title, place, sheet: paper } = lesson;
    const mended: Lesson = { ...lessonOfSheet(trued.sheet, { title }), place, sheet: paper };
    this.ready(job, trued.sheet, mended, trued.findings, false);
  }

  private async bake({ job, sheet, stages, choices }: Of<'bake'>): Promise<void> {
    this.running.add(job);
    this.sheets = stages.map(() => sheet);
    const creases = sheet.creaseKind.length;
    let start = new Float64Array(creases);
    for (let step = 0; step < stages.length; step++) {
      const poses = foldStep(sheet, start, stages[step]!, choices);
      let track: StepTrack | null = null;
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
      this.sheets[step] = track.sheet;
      const ends = track.poses[track.poses.length - 1]!.angle.slice(0, creases);
      const fails = track.report.outcome === 'fails' || track.report.outcome === 'stopped';
      this.send({
        kind: 'step',
        job,
        step,
        sheet: track.bendLines > 0 ? track.sheet : null,
        panelOf: track.panelOf,
        poses: track.poses,
        reached: fails ? shareReached(start, ends, stages[step]!) : 1,
        report: track.report,
      });
      if (fails) break;
      start = ends;
    }
    this.send({ kind: 'baked', job });
  }

  private correct({ job, step, angle }: Of<'correct'>): void {
    const sheet = this.sheets[step];
    if (!sheet || angle.length !== sheet.creaseKind.length) return;
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
    if (!sheet || angle.length !== sheet.creaseKind.length) return;
    const moved = dragVertex(sheet, angle, still, vertex, goal, free);
    this.send({ kind: 'dragged', job, angle: moved, freedoms: countFreedoms(sheet, moved) });
  }
}

/** How much of the way to its targets a step went: by the driven crease that has most left to go. */
function shareReached(start: Float64Array, end: Float64Array, { target }: Stage): number {
  let asked = 0;
  let left = 0;
  for (let e = 0; e < target.length; e++) {
    if (Number.isNaN(target[e]!)) continue;
    asked = Math.max(asked, Math.abs(target[e]! - start[e]!));
    left = Math.max(left, Math.abs(target[e]! - end[e]!));
  }
  return asked > 0 ? Math.min(0.99, Math.max(0, 1 - left / asked)) : 0;
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
