/**
 * Everything that can be done by a key, a menu or a button, in one table: its name, its key, when it applies and what it
 * does. The list of keys is made from it, and a test holds the README against it.
 */
import { type ViewName, viewNames } from '../core/lesson/eye.ts';
import type { LineKind } from '../core/sheet/kind.ts';
import { type CommandName, commandWords, drawWords } from '../words/words.ts';
import type { Page } from './around.ts';
import type { Edits } from './document/edits.ts';
import type { PaperEdits } from './document/paper.ts';
import type { Saving } from './document/saving.ts';
import type { Player } from './play/player.ts';
import type { SetDown } from './play/set-down.ts';
import type { Tuck } from './play/tuck.ts';
import type { Views } from './play/views.ts';
import type { Tracks } from './run/tracks.ts';
import type { Store } from './store.ts';
import type { DrawTool } from './tools/drawing-state.ts';
import type { DrawingTool } from './tools/drawing-tool.ts';
import type { FoldingTool } from './tools/folding-tool.ts';
import type { LookInside } from './tools/look-inside.ts';
import type { Picking } from './tools/picking.ts';
import type { Steps } from './tools/steps.ts';

/** What commands do their work with. */
interface Hands {
  readonly store: Store;
  readonly edits: Edits;
  readonly paper: PaperEdits;
  readonly saving: Saving;
  readonly player: Player;
  readonly setDown: SetDown;
  readonly tuck: Tuck;
  readonly views: Views;
  readonly tracks: Tracks;
  readonly drawing: DrawingTool;
  readonly folding: FoldingTool;
  readonly lookInside: LookInside;
  readonly picking: Picking;
  readonly steps: Steps;
  readonly page: Page;
}

export interface Command {
  readonly name: string;
  /** As the keyboard says it, letters small; with `held` together with Ctrl or Cmd. */
  readonly key: string;
  readonly held: boolean;
  /** A key that means something else while drawing does so only there, and the list of keys says it. */
  readonly while: 'always' | 'drawing';
  readonly run: () => void;
}

const command = (
  name: CommandName,
  key: string,
  run: () => void,
  held = false,
): Command & { id: CommandName } => ({
  id: name,
  // asked for when it is shown
  get name() {
    return commandWords[name];
  },
  ...{ key, held, run },
  while: 'always',
});

const viewCommands = {
  'three-quarter': 'viewThreeQuarter',
  front: 'viewFront',
  back: 'viewBack',
  left: 'viewLeft',
  right: 'viewRight',
  top: 'viewTop',
  bottom: 'viewBottom',
} as const satisfies Record<ViewName, CommandName>;

/** Commands that apply whenever a lesson is on the table, in the order in which they are listed. */
function always(hands: Hands) {
  return [...playing(hands), ...looking(hands), ...making(hands), ...filing(hands)];
}

const playing = ({ player, setDown, views, paper, tuck }: Hands) => [
  command('play', ' ', player.play),
  command('stepBack', ',', () => player.step(-1)),
  command('stepOn', '.', () => player.step(1)),
  command('foldBack', '[', () => player.nudge(-NUDGE)),
  command('foldOn', ']', () => player.nudge(NUDGE)),
  command('tuck', 'm', tuck.toggleHere),
  command('turnOver', 't', paper.turnOver),
  command('fit', 'f', views.fit),
  ...viewNames.map((view, k) => command(viewCommands[view], String(k + 1), () => views.look(view))),
  command('setOnTable', 'd', () => void setDown.toggle()),
];

const looking = ({ lookInside, page, store }: Hands) => [
  command('glass', 'g', lookInside.toggleGlass),
  command('fan', 'v', lookInside.toggleFan),
  command('slice', 'c', () => {
    lookInside.toggleSlice();
    // arrows then move the slice at once
    if (store.inside.slice) page.focus('slice');
  }),
  command('peel', 'l', lookInside.peel),
  command('putBack', 'k', lookInside.putBack),
];

const making = ({ folding, drawing, picking, paper, steps, page, store }: Hands) => [
  command('foldOnModel', 'a', () => void folding.toggle()),
  command('draw', 'e', () => void drawing.toggle()),
  command('foldNext', 'h', steps.foldPickedNext),
  command('sayWords', 'i', () => page.focus('words')),
  command('pickAll', 'a', picking.pickEverything, true),
  command('keepStill', 's', paper.keepSelectedStill),
  command('sideUp', 'u', paper.otherSideUp),
  command('swapColours', 'x', paper.swapColours),
  command('paper', 'p', () => store.put({ look: { paperShown: true } })),
  command('bend', 'b', paper.toggleBend),
  command('free', 'w', paper.toggleFree),
];

const filing = (hands: Hands) => [
  command('open', 'o', hands.page.chooseFile),
  command('save', 's', () => void hands.saving.save('lesson'), true),
  command('undo', 'z', hands.edits.undo, true),
  command('redo', 'y', hands.edits.redo, true),
  command('table', 'n', hands.views.toggleTable),
  command('nextRoom', 'F6', () => hands.page.focus('next room')),
  command('keys', '?', () => hands.store.put({ look: { keysShown: true } })),
  command('close', 'Escape', () => closeOne(hands)),
];

/** A press of an arrow on the slider, and of a bracket, in steps. */
export const NUDGE = 0.05;

/** What is open is closed one after the other, the innermost first. */
function closeOne({ drawing, folding, lookInside, store, tracks }: Hands): void {
  if (drawing.back() || folding.back() || lookInside.close()) return;
  if (store.run.computing) void tracks.cancel();
  store.put({ look: { selection: null, picked: [], marks: null, notice: null, toldMore: false } });
}

/** Keys of the seven operations, the other constructions and the changes, while drawing. */
export const toolKeys: Readonly<Record<string, DrawTool>> = {
  '1': 'through',
  '2': 'point-onto-point',
  '3': 'line-onto-line',
  '4': 'square',
  '5': 'point-onto-line',
  '6': 'two-onto-two',
  '7': 'onto-line-square',
  '8': 'parallel',
  '9': 'parts',
  g: 'grid',
  i: 'mirror',
  r: 'repeat',
  s: 'select',
  k: 'look',
  x: 'erase',
  t: 'trim',
  p: 'move',
  b: 'split',
  j: 'join',
};
export const kindKeys: Readonly<Record<string, LineKind>> = {
  m: 'mountain',
  v: 'valley',
  u: 'unassigned',
  f: 'flat',
  c: 'cut',
};

function whileDrawing({ drawing, page }: Hands): Command[] {
  const plain = (nameNow: () => string, key: string, run: () => void): Command => ({
    get name() {
      return nameNow();
    },
    ...{ key, run, held: false },
    while: 'drawing',
  });
  return [
    ...Object.entries(toolKeys).map(([key, tool]) =>
      plain(
        () => drawWords.tools[tool],
        key,
        () => drawing.hands.choose(tool),
      ),
    ),
    ...Object.entries(kindKeys).map(([key, kind]) =>
      plain(
        () => drawWords.kind[kind],
        key,
        () => drawing.hands.setKind(kind),
      ),
    ),
    plain(
      () => drawWords.byNumbers,
      '/',
      () => page.focus('place'),
    ),
    plain(
      () => drawWords.eraseChosen,
      'Delete',
      () => drawing.hands.eraseChosen(),
    ),
  ];
}

/** Keys that are pressed in another way on some keyboards. */
const sameKey: Readonly<Record<string, string>> = { Backspace: 'Delete' };

export class Commands {
  readonly list: readonly Command[];
  private readonly named: ReadonlyMap<CommandName, Command>;

  constructor(private readonly hands: Hands) {
    const own = always(hands);
    this.named = new Map(own.map((one) => [one.id, one]));
    this.list = [...own, ...whileDrawing(hands)];
  }

  /** How a command's key is written: "Space", "Ctrl S", "T". */
  keyOf(name: CommandName): string {
    const one = this.named.get(name);
    return one ? keyText(one) : '';
  }

  run(name: CommandName): void {
    this.named.get(name)?.run();
  }

  /** A key was pressed. @param held with Ctrl or Cmd @returns whether it means something here */
  press(key: string, held: boolean): boolean {
    const { store } = this.hands;
    if (!store.document.lesson) return false;
    // Shift with Ctrl+Z is how some redo
    if (held && key === 'Z') return this.do(this.named.get('redo'));
    const plain = key.length === 1 ? key.toLowerCase() : (sameKey[key] ?? key);
    const fits = this.list.filter((one) => one.key === plain && one.held === held);
    const drawn = store.drawing.on ? fits.find((one) => one.while === 'drawing') : undefined;
    return this.do(drawn ?? fits.find((one) => one.while === 'always'));
  }

  private do(one: Command | undefined): boolean {
    one?.run();
    return one !== undefined;
  }
}

export function keyText({ key, held }: Pick<Command, 'key' | 'held'>): string {
  const named: Record<string, string> = { ' ': 'Space', Escape: 'Esc' };
  const text = named[key] ?? (key.length === 1 ? key.toUpperCase() : key);
  return held ? `Ctrl ${text}` : text;
}
