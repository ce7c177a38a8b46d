/** A solver and a stage that a test plays itself: it answers when it likes, and reads what was asked of them. */
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { stagesOfLesson } from '../../src/core/lesson/stages.ts';
import type { MotionReport, TrackPose } from '../../src/core/pose/track.ts';
import type { Around, Screen } from '../../src/desk/around.ts';
import { Desk } from '../../src/desk/desk.ts';
import { takeLayerRequest } from '../../src/worker/layer-jobs.ts';
import type { FoldChoices, ReadyLesson } from '../../src/worker/protocol.ts';
import type { LayerWork, Reply, SolverWork } from '../../src/worker/work.ts';
import { HandClock, haveAll, noScreen, quietAround } from './desk.ts';

/** A lesson as the solver's worker hands it over. */
export function readyOf(lesson: Lesson): ReadyLesson {
  const sheet = sheetOfLesson(lesson).sheet!;
  const { stages } = stagesOfLesson(lesson, sheet);
  return { lesson, sheet, stages, findings: [], trueUp: null };
}

interface Bake {
  readonly lesson: Lesson;
  readonly choices: FoldChoices;
  readonly listen: (answer: Reply) => void;
  readonly ends: Float64Array[];
}

const reportOf = (outcome: MotionReport['outcome']): MotionReport => ({
  ...{ outcome, closure: 0, deviation: 0, bendDegrees: 0, bendAtEnd: 0, jumps: 0, freedoms: 1 },
  ...{ tear: 0, starts: 0, seed: 1, findings: [] },
});

/** Answers nothing by itself. */
export class HandSolver implements SolverWork {
  readonly bakes: Bake[] = [];
  readonly cancelled: number[] = [];
  private readonly waiting = new Map<keyof SolverWork, ((reply: Reply) => void)[]>();
  private readonly asked = new Map<keyof SolverWork, unknown[][]>();

  trueUp: SolverWork['trueUp'] = (...what) => this.ask('trueUp', what);
  rebuild: SolverWork['rebuild'] = (...what) => this.ask('rebuild', what);
  write: SolverWork['write'] = (...what) => this.ask('write', what);
  correct: SolverWork['correct'] = (...what) => this.ask('correct', what);
  drag: SolverWork['drag'] = (...what) => this.ask('drag', what);

  bake: SolverWork['bake'] = (lesson, choices, listen) =>
    this.bakes.push({ lesson, choices, listen, ends: [] }) - 1;

  cancel = async (job: number): Promise<void> => {
    this.cancelled.push(job);
  };

  /** What was asked of a kind, in order. */
  asks(kind: keyof SolverWork): readonly unknown[][] {
    return this.asked.get(kind) ?? [];
  }

  /** Answers the question of a kind that has waited longest; what waits for the answer has run afterwards. */
  async answer(kind: keyof SolverWork, reply: Omit<Extract<Reply, { kind: string }>, 'job'> | object) {
    this.waiting.get(kind)!.shift()!({ job: 0, ...reply } as Reply);
    await passed();
  }

  /** Ends a step of the last tracks asked for, its creases turned evenly to where the lesson wants them. */
  finishStep(step: number, outcome: MotionReport['outcome'] = 'rigid', reached = 1): void {
    const { lesson, listen, ends } = this.bakes.at(-1)!;
    const { sheet, stages } = readyOf(lesson);
    const start = ends[step - 1] ?? new Float64Array(sheet.creaseKind.length);
    const { target } = stages[step]!;
    const at = (share: number) =>
      start.map((angle, e) => (Number.isNaN(target[e]!) ? angle : angle + share * (target[e]! - angle)));
    const poses = [0, 0.25, 0.5, 0.75, 1].map(
      (share): TrackPose => ({ at: share, angle: at(share * reached) }),
    );
    const angle = poses.at(-1)!.angle;
    ends[step] = angle;
    const end = { angle, closes: true, deviation: 0, alone: false };
    const panelOf = Int32Array.from(sheet.panelRings.keys());
    listen({
      kind: 'step',
      job: 0,
      step,
      sheet: null,
      panelOf,
      poses,
      reached,
      report: reportOf(outcome),
      end,
    });
  }

  /** Ends the tracks that were asked for last. */
  finishAll(): void {
    const bake = this.bakes.at(-1)!;
    bake.lesson.steps.forEach((_, step) => {
      if (!bake.ends[step]) this.finishStep(step);
    });
    bake.listen({ kind: 'baked', job: 0 });
  }

  private ask(kind: keyof SolverWork, what: unknown[]): Promise<Reply> {
    this.asked.set(kind, [...this.asks(kind), what]);
    return new Promise((resolve) => {
      this.waiting.set(kind, [...(this.waiting.get(kind) ?? []), resolve]);
    });
  }
}

/** What was promised and is due has run. */
export const passed = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** A stage that remembers what was asked of it. */
export class ToldScreen implements Screen {
  eye: Screen['eye'] = { bearing: 0.25, fall: 1, zoom: 2 };
  eyeInModel: Screen['eyeInModel'] = [0.5, 0.5, 10];
  leaves: Screen['leaves'] = null;
  readonly extent = { width: 100, height: 100 };
  readonly told: unknown[][] = [];
  pick: Screen['pick'] = noScreen.pick;
  picture: Screen['picture'] = noScreen.picture;
  setOnTable: Screen['setOnTable'] = noScreen.setOnTable;

  flyTo: Screen['flyTo'] = (...what) => {
    this.told.push(['fly', ...what]);
    this.eye = what[0];
  };
  turnOver: Screen['turnOver'] = (...what) => void this.told.push(['over', ...what]);
  turnTable: Screen['turnTable'] = (...what) => void this.told.push(['round', ...what]);
  begin: Screen['begin'] = () => void this.told.push(['begin']);
  remeasure: Screen['remeasure'] = () => void this.told.push(['remeasure']);
  takePicture: Screen['takePicture'] = (step) => void this.told.push(['picture', step]);
  setRest: Screen['setRest'] = (moment) => void this.told.push(['rest', moment]);

  /** What was asked of a kind since the last time, without its name. */
  heard(kind: string): unknown[][] {
    const heard = this.told.filter(([one]) => one === kind).map(([, ...what]) => what);
    this.told.splice(0, this.told.length, ...this.told.filter(([one]) => one !== kind));
    return heard;
  }
}

/** The worker of layers in this thread: it answers at once. */
export const layersHere: LayerWork = {
  look: async (what) => {
    const answer = takeLayerRequest({ kind: 'look', job: 0, ...what });
    return answer.kind === 'look' ? answer.look : { broke: answer.kind };
  },
  stacks: async (what) => {
    const answer = takeLayerRequest({ kind: 'stacks', job: 0, ...what });
    return answer.kind === 'stacks' ? answer.stacks : null;
  },
  telling: async () => [],
  cancel: () => {},
};

/** A desk with a lesson on it whose time, solver and stage are in the test's hand. */
export function deskInHand(lesson: Lesson, changes: Partial<Around> = {}) {
  const clock = new HandClock();
  const solver = new HandSolver();
  const screen = new ToldScreen();
  const desk = new Desk({ ...quietAround(clock), solver, motionReduced: () => false, ...changes });
  desk.begin();
  haveAll(desk);
  desk.screen.attach(screen);
  desk.edits.open(readyOf(lesson));
  return { desk, clock, solver, screen };
}
