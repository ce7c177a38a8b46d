/**
 * Does what the page asks for, one job beside the other: a long track stops after each pose to let other requests
 * in, so that Cancel and the slider are answered at once.
 */
import type { Finding } from '../core/finding/finding.ts';
import { withTruedSheet } from '../core/lesson/carry.ts';
import { type Lesson, sheetSizes } from '../core/lesson/lesson.ts';
import { type LessonNames, lessonOfSheet, nameless } from '../core/lesson/lesson-of-sheet.ts';
import { sheetOfLesson } from '../core/lesson/sheet-of-lesson.ts';
import { closureOfPose } from '../core/pose/closure.ts';
import { correctPose } from '../core/pose/correct.ts';
import { dragVertex } from '../core/pose/drag.ts';
import { foldStep } from '../core/pose/fold-step.ts';
import { countFreedoms } from '../core/pose/freedoms.ts';
import type { Stage, StepTrack } from '../core/pose/track.ts';
import { planOfLesson } from '../core/run/plan.ts';
import { endOfStep, ownAngles } from '../core/run/step.ts';
import { buildSheet } from '../core/sheet/build.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { trueUp } from '../core/sheet/true-up.ts';
import {
  applyMapping,
  assumedAngles,
  type Drawing,
  type LineMapping,
} from '../core/storage/drawing/mapping.ts';
import type { SheetRegion } from '../core/storage/drawing/sheets-in.ts';
import { openFile } from '../core/storage/open.ts';
import { PlanStore } from './plan-store.ts';
import type { Answer, ReadyLesson, Request, SheetSample } from './protocol.ts';
import { newTrackStore, trackKey } from './track-store.ts';
import { writeFile } from './write.ts';

type Send = (answer: Answer, transfer?: Transferable[]) => void;
type Of<K extends Request['kind']> = Extract<Request, { kind: K }>;

interface OpenedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** True-up is offered up to this much, sheet units: 2 % of the sheet. Beyond it the drawing means something else. */
const TRUE_UP_LIMIT = 0.02;
/** A vertex counts as open on screen from this rotation on, radians: a hundredth of a degree. */
const OPEN = 1.75e-4;

export class Jobs {
  private readonly cancelled = new Set<number>();
  private readonly running = new Set<number>();
  private sheets: Sheet[] = [];
  private readonly known = newTrackStore();
  private readonly plans = new PlanStore();
  /** The drawing that was opened last, as long as something may be asked of it. */
  private file: OpenedFile | null = null;
  private names: LessonNames = nameless;
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
    const { job } = request;
    switch (request.kind) {
      case 'open':
        this.names = request.names;
        this.send(this.opened(job, request));
        break;
      case 'take-sheet':
        this.send(
          this.file ? this.opened(job, this.file, request.region) : { kind: 'refused', job, findings: [] },
        );
        break;
      case 'map':
        this.send(this.drawn(job, request.mapping));
        break;
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
        this.send(readyOrRefused(job, request.lesson, [], false));
        break;
      case 'true-up':
        this.send(truedUp(request));
        break;
      case 'write': {
        const written = writeFile(request);
        this.send({ kind: 'written', job, ...written }, [written.bytes.buffer as ArrayBuffer]);
      }
    }
  }

  /** @param region which sheet of a drawing is meant; left out, it is found */
  private opened(job: number, file: OpenedFile, region?: number | 'all'): Answer {
    const opened = openFile(file.name, file.bytes, { region });
    this.file = opened.kind === 'drawing' || opened.kind === 'several' ? file : null;
    switch (opened.kind) {
      case 'refused':
        return { kind: 'refused', job, findings: opened.findings };
      case 'several':
        return {
          kind: 'asks-sheet',
          job,
          title: opened.title || this.names.untitled,
          sheets: opened.sheets.map((one) => sampleOf(opened.drawing, one)),
        };
      case 'lesson': {
        const { lesson, pictures } = opened;
        const answer = readyOrRefused(job, lesson, opened.findings, false);
        return answer.kind === 'ready' && pictures
          ? { ...answer, ready: { ...answer.ready, pictures } }
          : answer;
      }
      case 'sheet': {
        const { sheet, title, millimetres, findings } = opened;
        const lesson = lessonOfSheet(sheet, { title, names: this.names, ...sizeOf(sheet, millimetres) });
        return readyOrRefused(job, lesson, findings, true);
      }
      case 'drawing': {
        const { drawing, groups, guess, named, findings } = opened;
        const title = opened.title || this.names.untitled;
        this.drawing = { drawing, title, findings };
        if (named) return this.drawn(job, guess);
        return { kind: 'asks-mapping', job, title, groups, guess, findings, leftOut: leftOutOf(findings) };
      }
    }
  }

  /** The drawing that was opened last, under a mapping. */
  private drawn(job: number, mapping: LineMapping): Answer {
    if (!this.drawing) return { kind: 'refused', job, findings: [] };
    const { drawing, title, findings } = this.drawing;
    const { sheet, findings: built } = buildSheet(applyMapping(drawing, mapping));
    const { names } = this;
    const lesson = sheet && lessonOfSheet(sheet, { title, names, ...sizeOf(sheet, drawing.millimetres) });
    const kept = findings.filter((one) => one.code !== 'line-kind-guessed' && one.code !== 'angle-assumed');
    return readyOrRefused(job, lesson, [...kept, ...assumedAngles(drawing, mapping), ...built], true);
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

/** The lesson on its sheet trued up: corners keep their numbers, and steps their creases. */
function truedUp({ job, lesson }: Of<'true-up'>): Answer {
  const { sheet } = sheetOfLesson(lesson);
  if (!sheet) return readyOrRefused(job, lesson, [], false);
  const trued = trueUp(sheet, TRUE_UP_LIMIT);
  const redrawn = withTruedSheet(lesson, sheet, trued.sheet);
  return readyOrRefused(job, redrawn, trued.findings, false);
}

/** Length of the sheet in mm, where the file's unit is known and it is a length that a lesson can have. */
function sizeOf(sheet: Sheet, millimetres: number | null): { size?: number } {
  const size = Math.round(sheet.frame.scale * (millimetres ?? 0) * 1000) / 1000;
  return size >= sheetSizes.least && size <= sheetSizes.most ? { size } : {};
}

/**
 * A lesson with the sheet that it makes: what is on screen is always that.
 * @param drawn the pattern was read from a drawing, whose corners may miss by a hair
 */
function readyOrRefused(
  job: number,
  lesson: Lesson | null,
  before: readonly Finding[],
  drawn: boolean,
): Answer {
  const made = lesson && sheetOfLesson(lesson);
  const told = made && !drawn ? [...before, ...made.findings] : before;
  if (!lesson || !made?.sheet) {
    const all = [...before, ...(made?.findings ?? [])];
    const errors = all.filter((one) => one.severity === 'error');
    return { kind: 'refused', job, findings: errors.length > 0 ? errors : all };
  }
  const plan = planOfLesson(lesson, made.sheet);
  const ready: ReadyLesson = {
    lesson,
    sheet: made.sheet,
    stages: plan.steps.map(({ stage }) => stage),
    findings: [...told, ...plan.findings],
    trueUp:
      drawn && plan.findings.some(({ code }) => mendable.has(code)) ? wouldMove(made.sheet, lesson) : null,
  };
  return { kind: 'ready', job, ready };
}

const mendable: ReadonlySet<string> = new Set(['vertex-closure', 'hole-closure', 'vertex-angle-sum']);

/** How far the worst corner would move to true the sheet up, mm; null where that does not mend it. */
function wouldMove(sheet: Sheet, lesson: Lesson): number | null {
  const trued = trueUp(sheet, TRUE_UP_LIMIT);
  return trued.findings.some((one) => one.severity === 'error') ? null : trued.moved * lesson.sheet.size;
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

/** More strokes than this make no clearer a small picture. */
const SAMPLE_STROKES = 600;

function sampleOf({ strokes }: Drawing, { strokes: own, creases }: SheetRegion): SheetSample {
  const every = Math.max(1, Math.ceil(own.length / SAMPLE_STROKES));
  return {
    strokes: own
      .filter((_, k) => k % every === 0)
      .map((stroke) => {
        const { x1, y1, x2, y2 } = strokes[stroke]!;
        return [x1, y1, x2, y2] as const;
      }),
    creases,
  };
}

/** Lines and curves that were left out as none of the sheet's. */
const leftOutOf = (findings: readonly Finding[]): number =>
  findings.find(({ code, values }) => code === 'line-ignored' && values.how === 'not-of-sheet')?.value ?? 0;
