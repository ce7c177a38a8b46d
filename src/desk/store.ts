/**
 * The state of the session in slices, apart from poses, which change too fast to be told about (play/playhead.ts).
 * Whoever writes here is a part of the desk; the screen reads.
 */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Finding } from '../core/finding/finding.ts';
import type { Lesson } from '../core/lesson/lesson.ts';
import type { RestVerdict } from '../core/pose/stands.ts';
import type { MotionReport, Stage } from '../core/pose/track.ts';
import type { StepLook } from '../core/run/look.ts';
import type { StepEnd } from '../core/run/step-known.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { KeptLesson, Version } from '../keep/kept.ts';
import type { AskedDrawing, AskedWhich, ReadingStage } from '../worker/file-protocol.ts';
import { type DrawingState, undrawn } from './tools/drawing-state.ts';
import { type FoldingState, unfolded } from './tools/folding-state.ts';
import { closed, type InsideState } from './tools/inside-wishes.ts';

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
  /** It shows what is said of a fold that stiff paper cannot make. */
  readonly refused?: boolean;
}

/** A sentence over the table. */
interface Notice {
  readonly text: string;
  readonly tone: 'trouble' | 'plain';
  readonly action?: { readonly label: string; readonly run: () => void };
  /** Stays until it is dismissed, as trouble does. */
  readonly stays?: boolean;
}

interface Marks {
  readonly vertices: readonly number[];
  readonly creases: readonly number[];
  readonly panels: readonly number[];
}

/** The lesson on the table, and what was found in it. */
interface DocumentState {
  readonly lesson: Lesson | null;
  readonly sheet: Sheet | null;
  readonly stages: readonly Stage[];
  /** Found while reading and checking. Findings of motions stand in the steps' reports. */
  readonly findings: readonly Finding[];
  /** Do they belong to the lesson as it is now? */
  readonly checked: boolean;
  readonly trueUp: number | null;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
}

/** What is asked, or waited for, before a file is on the table. */
interface OpeningState {
  /** The file that is being read, once that takes its time. */
  readonly reading: { readonly name: string; readonly stage: ReadingStage } | null;
  /** A file holds several sheets or pages: which one is meant is asked first. */
  readonly which: AskedWhich | null;
  /** What a drawing's lines mean is asked before it is folded. */
  readonly asked: AskedDrawing | null;
  /** Why it made no sheet under the answers that were given last. */
  readonly whyNot: string | null;
}

export const nothingAsked: OpeningState = { reading: null, which: null, asked: null, whyNot: null };

/** How the lesson folds, as far as that was computed. */
export interface RunState {
  readonly steps: readonly StepState[];
  /** Is a track being computed? */
  readonly computing: boolean;
  /** Why tracks will not be computed further. */
  readonly broke: string | null;
  readonly bend: boolean;
  readonly free: boolean;
  /** Of the pose at rest. */
  readonly rest: {
    readonly freedoms: number;
    readonly open: readonly { readonly vertex: number; readonly rotation: number }[];
  } | null;
  /** The model was moved by hand, off the track. */
  readonly byHand: boolean;
  /** Off the track too: the finished shape of a pattern that no motion was found for. */
  readonly shapeShown: boolean;
}

/** What is looked at, and how. */
interface LookState {
  /** Is the list of findings shown whole? Of the lesson on the table: the next one begins with the first few. */
  readonly allFindings: boolean;
  readonly playing: boolean;
  readonly selection: Selection | null;
  /** Creases picked together; the selected one is among them, or there are none. */
  readonly picked: readonly number[];
  readonly hover: Selection | null;
  readonly marks: Marks | null;
  readonly turned: boolean;
  /** Turned over by the steps up to where the slider stands; `turned` comes on top of it. */
  readonly stepTurned: boolean;
  readonly dark: boolean;
  readonly notice: Notice | null;
  /** How the model came to rest on the table. */
  readonly verdict: RestVerdict | null;
  readonly keysShown: boolean;
  readonly paperShown: boolean;
  /** On a phone: the sheet that tells what the column tells elsewhere. */
  readonly toldMore: boolean;
  /** On a phone: which view is on top. */
  readonly view: 'model' | 'sheet';
  readonly graphics: 'loading' | 'shown' | 'lost' | 'none';
}

export const shelfPanels = ['library', 'about', 'versions'] as const;
export type ShelfPanelName = (typeof shelfPanels)[number];

/** Which panel about kept lessons is open, and what it lists. */
interface ShelfState {
  readonly samples: readonly LessonEntry[];
  readonly shown: ShelfPanelName | null;
  readonly lessons: readonly KeptLesson[];
  readonly pictures: ReadonlyMap<string, string>;
  readonly versions: readonly Version[];
  /** The lesson deleted last while the panel is open; it can be had back. */
  readonly deleted: KeptLesson | null;
}

export interface State {
  readonly document: DocumentState;
  readonly opening: OpeningState;
  readonly run: RunState;
  readonly look: LookState;
  readonly inside: InsideState;
  readonly drawing: DrawingState;
  readonly folding: FoldingState;
  readonly shelf: ShelfState;
}

/** What is to be different, slice by slice. */
type Changes = { readonly [Slice in keyof State]?: Partial<State[Slice]> };

const emptyTable: State = {
  document: {
    lesson: null,
    sheet: null,
    stages: [],
    findings: [],
    checked: false,
    trueUp: null,
    canUndo: false,
    canRedo: false,
  },
  opening: nothingAsked,
  run: {
    steps: [],
    computing: false,
    broke: null,
    bend: false,
    free: false,
    rest: null,
    byHand: false,
    shapeShown: false,
  },
  look: {
    allFindings: false,
    playing: false,
    selection: null,
    picked: [],
    hover: null,
    marks: null,
    turned: false,
    stepTurned: false,
    dark: false,
    notice: null,
    verdict: null,
    keysShown: false,
    paperShown: false,
    toldMore: false,
    view: 'model',
    graphics: 'loading',
  },
  inside: closed,
  drawing: undrawn,
  folding: unfolded,
  shelf: { samples: [], shown: null, lessons: [], pictures: new Map(), versions: [], deleted: null },
};

export class Store {
  /** For views that want to be drawn anew when something changes. */
  readonly api: StoreApi<State> = createStore<State>()(() => emptyTable);

  get state(): State {
    return this.api.getState();
  }

  get document(): DocumentState {
    return this.state.document;
  }

  get run(): RunState {
    return this.state.run;
  }

  get look(): LookState {
    return this.state.look;
  }

  get inside(): InsideState {
    return this.state.inside;
  }

  get opening(): OpeningState {
    return this.state.opening;
  }

  get drawing(): DrawingState {
    return this.state.drawing;
  }

  get folding(): FoldingState {
    return this.state.folding;
  }

  get shelf(): ShelfState {
    return this.state.shelf;
  }

  /** Changes several slices at once: who listens sees all of it or nothing. */
  put(changes: Changes): void {
    const { state } = this;
    const slices = Object.entries(changes) as [keyof State, object][];
    const changed = slices.map(([slice, change]) => [slice, { ...state[slice], ...change }]);
    this.api.setState(Object.fromEntries(changed) as Partial<State>);
  }

  putStep(step: number, change: Partial<StepState>): void {
    this.put({ run: { steps: this.run.steps.map((one, k) => (k === step ? { ...one, ...change } : one)) } });
  }

  /** @returns a call that ends it */
  subscribe(listener: (now: State, before: State) => void): () => void {
    return this.api.subscribe(listener);
  }

  /**
   * Says a sentence over the table.
   * @param more a thing to do about it; `stays`: until it is dismissed
   */
  say(text: string, tone: Notice['tone'] = 'trouble', more: Pick<Notice, 'action' | 'stays'> = {}): void {
    this.put({ look: { notice: { text, tone, ...more } } });
  }

  /** Is the model shown turned over? */
  get isTurned(): boolean {
    return this.look.turned !== this.look.stepTurned;
  }
}
