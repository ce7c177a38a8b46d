/** What the screen shows, apart from poses. Changes go through session.ts and edits.ts. */
import { create } from 'zustand';
import type { Finding } from '../core/finding/finding.ts';
import type { Lesson } from '../core/lesson/lesson.ts';
import type { MotionReport, Stage } from '../core/pose/track.ts';
import type { StepLook } from '../core/run/look.ts';
import type { StepEnd } from '../core/run/step.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { LineMapping, StrokeGroup } from '../core/storage/mapping.ts';
import type { Verdict } from '../core/pose/stands.ts';

export type Selection = { readonly kind: 'crease' | 'panel' | 'vertex'; readonly id: number };

export interface StepState {
  readonly status: 'waiting' | 'computing' | 'ready' | 'fails';
  /** Share of the step that can be shown. */
  readonly reached: number;
  readonly report: MotionReport | null;
  /** The state that it is about. */
  readonly end: StepEnd | null;
  /** Layers at its end, and what was met on the way; null while they are not known. */
  readonly layers: StepLook | null;
  /** Why they will not be known. */
  readonly lookBroke: string | null;
  /** Small picture of the model at the end of the step. */
  readonly picture: string | null;
}

export interface LessonEntry {
  readonly file: string;
  readonly title: string;
  readonly place: string;
}

/** A sentence over the table. */
export interface Notice {
  readonly text: string;
  readonly tone: 'trouble' | 'plain';
  readonly action?: { readonly label: string; readonly run: () => void };
  /** Stays until it is dismissed, as trouble does. */
  readonly stays?: boolean;
}

export interface Marks {
  readonly vertices: readonly number[];
  readonly creases: readonly number[];
  readonly panels: readonly number[];
}

export interface State {
  readonly lessons: readonly LessonEntry[];
  readonly lesson: Lesson | null;
  readonly sheet: Sheet | null;
  readonly stages: readonly Stage[];
  /** Found while reading and checking. Findings of motions stand in the steps' reports. */
  readonly findings: readonly Finding[];
  /** Do they belong to the lesson as it is now? */
  readonly checked: boolean;
  readonly trueUp: number | null;
  readonly steps: readonly StepState[];
  /** Is a track being computed? */
  readonly computing: boolean;
  /** Why tracks will not be computed further. */
  readonly broke: string | null;
  readonly playing: boolean;
  readonly selection: Selection | null;
  /** Creases picked together; the selected one is among them, or there are none. */
  readonly picked: readonly number[];
  readonly hover: Selection | null;
  readonly marks: Marks | null;
  readonly turned: boolean;
  /** Turned over by the steps up to where the slider stands; `turned` comes on top of it. */
  readonly stepTurned: boolean;
  readonly bend: boolean;
  readonly free: boolean;
  readonly dark: boolean;
  readonly notice: Notice | null;
  readonly mapping: {
    readonly title: string;
    readonly groups: readonly StrokeGroup[];
    readonly guess: LineMapping;
  } | null;
  /** Of the pose at rest. */
  readonly rest: {
    readonly freedoms: number;
    readonly open: readonly { readonly vertex: number; readonly rotation: number }[];
  } | null;
  /** The model was moved by hand, off the track. */
  readonly byHand: boolean;
  /** Off the track too: the finished shape of a pattern that no motion was found for. */
  readonly shapeShown: boolean;
  readonly verdict: Verdict | null;
  readonly keysShown: boolean;
  readonly paperShown: boolean;
  /** On a phone: the sheet that tells what the column tells elsewhere. */
  readonly toldMore: boolean;
  /** On a phone: which view is on top. */
  readonly view: 'model' | 'sheet';
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  readonly graphics: 'loading' | 'shown' | 'lost' | 'none';
}

function darkWished(): boolean {
  if (typeof window === 'undefined') return false;
  const kept = localStorage.getItem('creaseway-table');
  return kept ? kept === 'dark' : matchMedia('(prefers-color-scheme: dark)').matches;
}

export const useStore = create<State>()(() => ({
  lessons: [],
  lesson: null,
  sheet: null,
  stages: [],
  findings: [],
  checked: false,
  trueUp: null,
  steps: [],
  computing: false,
  broke: null,
  playing: false,
  selection: null,
  picked: [],
  hover: null,
  marks: null,
  turned: false,
  stepTurned: false,
  bend: false,
  free: false,
  dark: darkWished(),
  notice: null,
  mapping: null,
  rest: null,
  byHand: false,
  shapeShown: false,
  verdict: null,
  keysShown: false,
  paperShown: false,
  toldMore: false,
  view: 'model',
  canUndo: false,
  canRedo: false,
  graphics: 'loading',
}));

export const set = useStore.setState;
export const get = useStore.getState;

export function setStep(step: number, change: Partial<StepState>): void {
  set({ steps: get().steps.map((one, k) => (k === step ? { ...one, ...change } : one)) });
}

/** Is the model shown turned over? */
export const isTurned = () => get().turned !== get().stepTurned;
