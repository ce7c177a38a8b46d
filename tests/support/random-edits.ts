/** Random edits of a lesson, each by the action that a button, a field or a key calls. */
import { rectangle } from '../../src/core/draw/outline.ts';
import { constructions } from '../../src/core/draw/told.ts';
import { checkLesson } from '../../src/core/lesson/check/check-lesson.ts';
import { makingMends } from '../../src/core/lesson/check/mends.ts';
import { withStep } from '../../src/core/lesson/edit-steps.ts';
import { permissions, type StepKind, uses, usualLimits } from '../../src/core/lesson/lesson.ts';
import { BEFORE_FIRST, makingsOf, toggleMade, withMaking } from '../../src/core/lesson/makings.ts';
import { withFold } from '../../src/core/lesson/on-model/with-fold.ts';
import { ordersAsPoints } from '../../src/core/lesson/orders.ts';
import { seededRandom } from '../../src/core/numeric/random.ts';
import { insidePoint } from '../../src/core/sheet/inside-point.ts';
import { readLesson } from '../../src/core/storage/lesson/read.ts';
import { parseJson } from '../../src/core/storage/parse-json.ts';
import { Desk } from '../../src/desk/desk.ts';
import { changes } from '../../src/desk/tools/drawing-state.ts';
import { stepKindWords } from '../../src/words/words.ts';

import { HandClock, haveAll, noScreen, quietAround } from './desk.ts';

/** Draws what an edit needs: numbers, one of a list, words. */
export class Draws {
  private readonly next: () => number;
  constructor(seed: number) {
    this.next = seededRandom(seed);
  }
  share = () => this.next();
  whole = (count: number) => Math.floor(this.next() * count);
  between = (low: number, high: number) => low + this.next() * (high - low);
  one = <T>(list: readonly T[]): T => list[this.whole(list.length)]!;
  some = <T>(list: readonly T[]): T[] => list.filter(() => this.next() < 0.4);
  coin = () => this.next() < 0.5;
  text = () =>
    Array.from({ length: this.whole(5) }, () =>
      this.one(['fold', 'é', '"', '\\', ' ', '纸', '\u2028', '🦢', 'a\n']),
    ).join('');
  colour = () => `#${Array.from({ length: 6 }, () => this.one([...'0123456789abcdef'])).join('')}`;
}

/** The desk at which all edits of this file are made. */
export const clock = new HandClock();
export const desk = new Desk(quietAround(clock));
haveAll(desk);

const lessonNow = () => desk.store.document.lesson!;
const sheetNow = () => desk.store.document.sheet!;
const creaseCount = () => sheetNow().creaseKind.length;
const anyCrease = (d: Draws) => d.whole(creaseCount());
const anyStep = (d: Draws) => d.whole(lessonNow().steps.length);

/** Poses of a step as the slider would have them, made up: only their angles matter to an edit. */
function makeUpTrack(d: Draws, step: number): void {
  const poses = [0, 0.2, 0.55, 1].map((at) => ({
    at,
    angle: Float64Array.from({ length: creaseCount() }, () => (d.coin() ? 0 : d.between(-Math.PI, Math.PI))),
  }));
  const steps = lessonNow().steps.map((_, k) => (k === step ? { poses } : { poses: [] }));
  desk.playhead.board = { steps } as unknown as typeof desk.playhead.board;
  desk.playhead.pose = poses[1] as unknown as typeof desk.playhead.pose;
}

function withTrack(d: Draws, step: number, edit: () => void): void {
  makeUpTrack(d, step);
  // the action moves the slider, which has no true track to stand on
  const { moveTo } = desk.playhead;
  desk.playhead.moveTo = () => {};
  edit();
  desk.playhead.moveTo = moveTo;
  desk.playhead.board = null;
  desk.playhead.pose = null;
}

/** Tells the drawing tool places, lines and answers until it has drawn or gives up. */
function useTool(d: Draws): void {
  const { outline } = desk.drawing.hands.now.pattern!;
  const anyPlace = (): readonly [number, number] => {
    const snaps = desk.drawing.hands.now.snaps!;
    const [a, b] = [d.one(outline), d.one(outline)];
    return d.share() < 0.7
      ? d.one(snaps.places).at
      : [a[0] + d.share() * (b[0] - a[0]), a[1] + d.share() * (b[1] - a[1])];
  };
  for (let k = 0; k < 6; k++) {
    const [low, high] = [Math.min(...outline.map(([x]) => x)), Math.max(...outline.map(([x]) => x))];
    desk.drawing.hands.point({ at: anyPlace(), name: '', line: null });
    const line = desk.drawing.hands.now.snaps!.lineNear(anyPlace(), high - low);
    if (line) desk.drawing.hands.point({ at: line.from, name: '', line });
    if (d.coin()) desk.drawing.hands.point({ at: anyPlace(), name: '', line: line ?? null });
    if (desk.store.drawing.choice !== null) desk.drawing.hands.nextAnswer(1);
    desk.drawing.hands.press(d.coin());
    if (desk.store.drawing.given.length === 0 && desk.store.drawing.choice === null) break;
  }
  desk.drawing.hands.choose('through');
}

function prepareToDraw(d: Draws): void {
  desk.drawing.hands.set({
    angle: d.one([180, 90, 74.4577, d.between(1, 180)]),
    extent: d.one(['whole', 'next', 'between', 'length']),
    length: d.between(1, 60),
    distance: d.between(1, 40),
    count: 2 + d.whole(3),
    parts: d.one([2, 3, 4, 8]),
  });
}

const picked = (d: Draws) => Array.from({ length: 1 + d.whole(3) }, () => anyCrease(d));

/** A fold on the model as it might be planned: a new line, or a crease that is there brought to another angle. */
function foldOnModel(d: Draws): void {
  const sheet = sheetNow();
  const corner = (): readonly [number, number] => [d.share(), d.share()];
  const angles = [Math.PI, -Math.PI, d.between(-3, 3)];
  const crease = anyCrease(d);
  const at = (v: number) => [sheet.vertexX[v]!, sheet.vertexY[v]!] as const;
  const old = { from: at(sheet.creaseFrom[crease]!), to: at(sheet.creaseTo[crease]!), angle: d.one(angles) };
  const creases = d.coin() ? [{ from: corner(), to: corner(), angle: d.one(angles) }] : [];
  const plan = { creases, changed: d.coin() ? [old] : [], closed: [], through: d.coin() ? [[old]] : [] };
  const angle = Float64Array.from({ length: creaseCount() }, () => d.one([0, 0, ...angles]));
  const step = d.whole(lessonNow().steps.length + 1) - 1;
  desk.edits.lesson('fold across', (one) =>
    withFold(one, step, { sheet, angle, plan: plan as never, title: d.one(['Fold over', 'Fold behind']) }),
  );
}

function makeCreases(d: Draws, step: number): void {
  const creases = picked(d);
  desk.edits.lesson('precrease', (one) => toggleMade(one, step, sheetNow(), creases));
}

function tellOfMaking(d: Draws, step: number): void {
  const count = makingsOf(lessonNow(), step).length;
  if (count === 0) return;
  const index = d.whole(count);
  const change = d.one([
    { side: d.one(['a', 'b', undefined] as const) },
    { pinch: d.coin() || undefined },
    { landmark: d.text().trim() || undefined },
  ]) as Parameters<typeof withMaking>[3];
  desk.edits.lesson('making', (one) => withMaking(one, step, index, change));
}

/** Edits of steps: they need one. */
const stepEdits: Record<string, (d: Draws, step: number) => void> = {
  'duplicate step': (_, step) => desk.steps.duplicate(step),
  'split step': (d, step) => withTrack(d, step, () => desk.steps.split(step)),
  'join steps': (_, step) => {
    if (step + 1 < lessonNow().steps.length) desk.steps.joinWithNext(step);
  },
  'repeat step': (d, step) => desk.steps.repeat(step, d.one(['left-right', 'up-down', 'half-turn'])),
  'remove step': (_, step) => desk.steps.remove(step),
  'move step': (d, step) => desk.steps.move(step, anyStep(d)),
  'switch step': (_, step) => desk.steps.toggleOff(step),
  'title of step': (d, step) => type(d, (text) => desk.steps.setTitle(step, text)),
  sentence: (d, step) => type(d, (text) => desk.steps.setSentence(step, text)),
  minutes: (d, step) => desk.steps.setMinutes(step, d.one([0, 1, 2.5, d.between(0, 600)])),
  'kind of step': (d, step) => desk.steps.setKind(step, d.one(Object.keys(stepKindWords) as StepKind[])),
  angle: (d, step) =>
    desk.steps.setAngle(step, picked(d), d.one([null, 0, 180, -180, 90, d.between(-200, 200)])),
  finish: (d, step) => desk.steps.finish(step, picked(d)),
  pull: (d, step) => withTrack(d, step, () => desk.steps.keepPose(step)),
  look: (_, step) => desk.steps.keepLook(step),
  landmark: (d, step) => type(d, (text) => desk.steps.setLandmark(step, text)),
  'landmark at': (d, step) => desk.steps.toggleLandmark(step, d.whole(sheetNow().vertexX.length)),
  making: (d, step) => makeCreases(d, step),
  'tell of a making': (d, step) => tellOfMaking(d, step),
  stacking: (d, step) => {
    const panels = sheetNow().panelRings.length;
    const told = Array.from({ length: d.whole(3) }, () => {
      const [f, g] = [d.whole(panels), d.whole(panels)];
      const at = [insidePoint(sheetNow(), f), insidePoint(sheetNow(), g)] as const;
      return { pair: [f, g, 1] as const, at };
    });
    const orders = ordersAsPoints(told, sheetNow());
    const { orders: _old, ...rest } = lessonNow().steps[step]!;
    desk.edits.lesson('stacking', (one) =>
      withStep(one, step, orders.length > 0 ? { ...rest, orders } : rest),
    );
  },
};

/** Letters typed one after the other. */
function type(d: Draws, put: (text: string) => void): void {
  const text = d.text();
  for (let k = 1; k <= text.length; k++) put(text.slice(0, k));
}

const edits: Record<string, (d: Draws) => void> = {
  'add step': (d) =>
    desk.steps.add(
      d.whole(lessonNow().steps.length + 1) - 1,
      d.one(Object.keys(stepKindWords) as StepKind[]),
    ),
  still: (d) => {
    desk.store.put({ look: { selection: { kind: 'panel', id: d.whole(sheetNow().panelRings.length) } } });
    desk.paper.keepSelectedStill();
  },
  'side up': () => desk.paper.otherSideUp(),
  'swap colours': () => desk.paper.swapColours(),
  size: (d) => desk.paper.setSize(d.one([1, 150, 5000, d.between(1, 5000)])),
  thickness: (d) => desk.paper.setThickness(d.between(0.01, 5)),
  colour: (d) => {
    const side = d.one(['a', 'b'] as const);
    for (let k = 0; k < 3; k++) desk.paper.setColour(side, d.colour());
  },
  'name of side': (d) => {
    const side = d.one(['a', 'b'] as const);
    type(d, (text) => desk.paper.setName(side, text));
  },
  title: (d) => type(d, desk.credit.setTitle),
  place: (d) => type(d, desk.credit.setPlace),
  maker: (d) => type(d, desk.credit.setMaker),
  source: (d) => type(d, desk.credit.setSource),
  date: (d) => type(d, desk.credit.setDate),
  status: (d) => type(d, desk.credit.setStatus),
  permission: (d) => desk.credit.setPermission(d.one(permissions)),
  allowed: (d) => desk.credit.setAllowed(d.some(uses)),
  precrease: (d) => makeCreases(d, BEFORE_FIRST),
  'tell of a precrease': (d) => tellOfMaking(d, BEFORE_FIRST),
  'fold next': (d) => void desk.steps.foldNext(d.whole(lessonNow().steps.length + 1) - 1, picked(d)),
  mend: (d) => {
    const [lesson, sheet] = [lessonNow(), sheetNow()];
    const mends = checkLesson(lesson, sheet).flatMap((found) => makingMends(found, lesson, sheet));
    if (mends.length > 0) desk.edits.lesson('mend', () => d.one(mends).lesson);
  },
  'fold across': foldOnModel,
  limits: (d) => {
    const limits = lessonNow().limits ?? usualLimits;
    const name = d.one(['creasesAtOnce', 'turnOvers'] as const);
    desk.edits.lesson(
      `limit ${name}`,
      (one) => ({ ...one, limits: { ...limits, [name]: d.whole(1000) } }),
      true,
    );
  },
  draw: (d) => {
    // patterns are kept small, that thousands of edits stay quick
    const few = desk.drawing.hands.now.pattern!.lines.length < 60;
    prepareToDraw(d);
    desk.drawing.hands.choose(d.one(few ? constructions : (['through', 'square'] as const)));
    desk.drawing.hands.setKind(d.one(['mountain', 'valley', 'flat', 'unassigned', 'cut']));
    useTool(d);
  },
  'change lines': (d) => {
    prepareToDraw(d);
    desk.drawing.hands.choose(d.one(changes.filter((one) => one !== 'outline' && one !== 'select')));
    useTool(d);
  },
  stroke: (d) => {
    prepareToDraw(d);
    desk.drawing.hands.choose(d.one(['erase', 'look']));
    const { places } = desk.drawing.hands.now.snaps!;
    desk.drawing.hands.stroke(d.one(places).at, d.one(places).at, true);
    desk.drawing.hands.choose('through');
  },
  'kind of picked lines': (d) => {
    desk.store.put({ look: { picked: picked(d) } });
    desk.drawing.hands.setKind(d.one(['mountain', 'valley', 'flat', 'unassigned', 'cut']));
    desk.store.put({ look: { picked: [] } });
  },
  'erase picked lines': (d) => {
    desk.store.put({ look: { picked: picked(d) } });
    desk.drawing.hands.eraseChosen();
    desk.store.put({ look: { picked: [] } });
  },
  sheet: (d) => {
    const numbers = [d.between(0.1, 400), d.between(50, 400), d.one([1, 2e5, 200])];
    const corner = (): [number, number] => [d.one(numbers), d.one(numbers)];
    desk.drawing.hands.setOutline(
      d.share() < 0.7
        ? rectangle(d.one(numbers), d.one(numbers))
        : Array.from({ length: 3 + d.whole(2) }, corner),
    );
  },
  // what a version is brought back by, after a restart as well
  version: (d) => {
    if (earlier.length === 0 || d.coin()) earlier.push(JSON.stringify(lessonNow()));
    else desk.edits.lesson('version', () => readLesson(parseJson(d.one(earlier))).lesson!);
  },
  'turn over': () => desk.paper.turnOver(),
  bend: () => desk.paper.toggleBend(),
  free: () => desk.paper.toggleFree(),
};

const earlier: string[] = [];

/** Forgets what edits of another run have left behind. */
export function forgetEarlier(): void {
  earlier.length = 0;
  desk.playhead.board = null;
  desk.playhead.pose = null;
}

/** The eye wanders, so that a look that is kept is always another. */
let turn = 0;
desk.screen.attach({
  ...noScreen,
  get eye() {
    turn += 0.37;
    return { bearing: turn, fall: 0.01 + (turn % 3), zoom: 0.5 + (turn % 2) };
  },
});

export const editNames = [...Object.keys(edits), ...Object.keys(stepEdits)];

/** Makes one edit; where it cannot be made (no steps, nothing picked) nothing happens, as with a disabled button. */
export function makeEdit(name: string, seed: number): void {
  const draws = new Draws(seed);
  // choosing a kind to draw with would change what is picked, an edit of its own
  desk.store.put({ look: { picked: [], selection: null } });
  const ofStep = stepEdits[name];
  if (!ofStep) edits[name]!(draws);
  else if (lessonNow().steps.length > 0) ofStep(draws, anyStep(draws));
}
