/** What the teacher can do, by button, menu or key. */

import { withStep } from '../../core/lesson/edit-steps.ts';
import { type Lesson, type SideLook, sheetSizes } from '../../core/lesson/lesson.ts';
import { ordersAsPoints } from '../../core/lesson/orders.ts';
import { stillPointOf } from '../../core/run/plan.ts';
import { insidePoint } from '../../core/sheet/inside-point.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { eyeOf, type ViewName } from '../../core/lesson/eye.ts';
import { carryOut, edit, editLesson, redo, settingsNow, undo } from './edits.ts';
import { askLooksAgain } from '../run/looks.ts';
import { motionReduced } from '../play/player.ts';
import { playhead } from '../play/playhead.ts';
import { lessonChanged } from '../run/rebuild.ts';
import { say } from './opening.ts';
import { get, isTurned, set } from '../store.ts';
import { compute } from '../run/tracks.ts';
import { words } from '../../words/words.ts';

/** The model's stage, once it is there. */
export const view: { stage: ModelStage | null; picturesAgain: () => void; eyeMoved: () => void } = {
  stage: null,
  picturesAgain: () => {},
  /** Called after each picture; the eye may have moved. */
  eyeMoved: () => {},
};

carryOut.apply = (settings, before) => {
  const ease = !motionReduced();
  const { stage } = view;
  if (settings.turned !== before.turned) stage?.turnOver(isTurned(), ease);
  if (settings.eye && settings.eye !== before.eye) stage?.flyTo(settings.eye, ease);
  const [now, then] = [settings.lesson, before.lesson];
  // a tear is stated in mm, so a failed motion is told anew when the sheet's size changes
  const restate = now.sheet.size !== then.sheet.size && get().steps.some((step) => step.status === 'fails');
  const told = now.steps !== then.steps || now.precreases !== then.precreases;
  if (now.pattern !== then.pattern || told) lessonChanged(now, then);
  else if (settings.bend !== before.bend || settings.free !== before.free || restate)
    void compute(playhead.place);
  else if (paperGivesOtherwise(now, then)) askLooksAgain(0);
  else if (now.still !== then.still) keepStill();
  if (now.sheet.sideUp !== then.sheet.sideUp || now.sheet.sides !== then.sheet.sides) picturesSoon();
};

/** How far paper gives is a matter of mm. */
const paperGivesOtherwise = ({ sheet: now }: Lesson, { sheet: then }: Lesson): boolean =>
  now.size !== then.size || now.thickness !== then.thickness || now.lidSize !== then.lidSize;

let pictureTimer = 0;

function picturesSoon(): void {
  clearTimeout(pictureTimer);
  pictureTimer = window.setTimeout(() => view.picturesAgain(), 500);
}

function keepStill(): void {
  const { lesson, sheet } = get();
  if (!lesson || !sheet) return;
  set({ verdict: null });
  playhead.board?.keepStill(stillPointOf(lesson, sheet));
  playhead.refresh();
}

/** Adds a crease to those picked together, or takes it out. */
export function pickCrease(crease: number): void {
  const { picked, selection } = get();
  const before = picked.length > 0 ? picked : selection?.kind === 'crease' ? [selection.id] : [];
  const after = before.includes(crease) ? before.filter((one) => one !== crease) : [...before, crease];
  const last = after.at(-1);
  set({ picked: after, selection: last === undefined ? null : { kind: 'crease', id: last }, marks: null });
}

export const actions = {
  undo,
  redo,
  turnOver: () => edit('turn over', { turned: !get().turned }),
  look: (name: ViewName) => edit('view', { eye: eyeOf(name) }),
  fit: () => {
    const eye = settingsNow()?.eye;
    if (eye) edit('fit', { eye: { ...eye, zoom: 1 } });
  },
  keepSelectedStill: () => {
    const { selection, sheet } = get();
    if (selection?.kind !== 'panel' || !sheet) return;
    const [x, y] = insidePoint(sheet, selection.id);
    const { frame } = sheet;
    const still = [frame.x + frame.scale * x, frame.y + frame.scale * y] as const;
    editLesson('still', (lesson) => ({ ...lesson, still }));
  },
  /** Says which of the possible stackings is meant at the end of a step; null forgets what was said. */
  chooseStacking: (step: number, choice: number | null) => {
    const { lesson, sheet, steps } = get();
    const differences = steps[step]?.layers?.differences;
    if (!lesson || !sheet || !differences) return;
    const { orders: _old, ...plan } = lesson.steps[step]!;
    const orders = choice === null ? [] : ordersAsPoints(differences[choice]!, sheet);
    const chosen = orders.length > 0 ? { ...plan, orders } : plan;
    editLesson('stacking', (one) => withStep(one, step, chosen));
  },
  /** Shows the finished shape of a pattern that no motion was found for. */
  showShape: () => {
    const pose = playhead.board?.finishedPose();
    if (!pose) return;
    set({ byHand: true, shapeShown: true, verdict: null, selection: null });
    playhead.showPose(pose);
  },
  setSideUp: (sideUp: 'a' | 'b') => editPaper('side up', { sideUp }),
  otherSideUp: () => actions.setSideUp(get().lesson?.sheet.sideUp === 'a' ? 'b' : 'a'),
  swapColours: () => {
    const sides = get().lesson?.sheet.sides;
    if (sides) editPaper('swap colours', { sides: { a: sides.b, b: sides.a } });
  },
  setSize: (size: number) => {
    if (!(size >= sheetSizes.least && size <= sheetSizes.most)) return;
    editLesson(
      'size',
      ({ sheet: { sizeAssumed: _told, ...paper }, ...lesson }) => ({ ...lesson, sheet: { ...paper, size } }),
      true,
    );
  },
  setThickness: (thickness: number) => {
    if (thickness >= 0.01) editPaper('thickness', { thickness });
  },
  setColour: (side: 'a' | 'b', colour: string) => editSide(`colour ${side}`, side, { colour }),
  setName: (side: 'a' | 'b', name: string) => {
    if (name.trim()) editSide(`name ${side}`, side, { name: name.trim() });
  },
  toggleBend: () => edit('bend', { bend: !get().bend }),
  toggleFree: () => edit('free', { free: !get().free }),
  toggleTable: () => {
    const dark = !get().dark;
    localStorage.setItem('creaseway-table', dark ? 'dark' : 'light');
    set({ dark });
  },
  backToTrack: () => {
    set({ byHand: false });
    playhead.refresh();
  },
  /** Drops the model on the table and says how it stands; a second time lifts it again. */
  setOnTable: async () => {
    const { pose } = playhead;
    const { stage } = view;
    if (get().verdict) {
      set({ verdict: null });
      return;
    }
    if (!pose || !stage) return;
    try {
      const { setOnTable } = await import('../../scene/table/set-on-table.ts');
      const fall = setOnTable(pose.sheet, pose.placement, pose.levels, isTurned());
      set({ verdict: fall.verdict });
      playFall(fall.moments);
    } catch (error) {
      say(words.broke(error instanceof Error ? error.message : String(error)));
    }
  },
};

function editPaper(what: string, change: Partial<Lesson['sheet']>): void {
  editLesson(what, (lesson) => ({ ...lesson, sheet: { ...lesson.sheet, ...change } }), true);
}

function editSide(what: string, side: 'a' | 'b', change: Partial<SideLook>): void {
  const sides = get().lesson?.sheet.sides;
  if (!sides || Object.entries(change).every(([key, value]) => sides[side][key as keyof SideLook] === value))
    return;
  editPaper(what, { sides: { ...sides, [side]: { ...sides[side], ...change } } });
}

interface Moment {
  readonly position: readonly number[];
  readonly quaternion: readonly number[];
}

/** Shows a fall that was computed before, at 60 moments a second; only its end where motion is unwelcome. */
function playFall(moments: readonly Moment[]): void {
  const last = moments[moments.length - 1]!;
  if (motionReduced()) {
    view.stage?.setRest(last);
    return;
  }
  let begun = -1;
  const tick = (now: number) => {
    if (!get().verdict) return;
    if (begun < 0) begun = now;
    const k = Math.floor(((now - begun) / 1000) * 60);
    view.stage?.setRest(moments[k] ?? last);
    if (k < moments.length - 1) requestAnimationFrame(tick);
  };
  requestAnimationFrame(tick);
}
