import type { PlaceKind } from '../../core/draw/snap.ts';
import type { LineKind } from '../../core/sheet/kind.ts';

const places = {
  corner: 'corner',
  crossing: 'crossing',
  'end-on-edge': 'end on the edge',
  'end-of-crease': 'end of the crease',
  'middle-of-edge': 'middle of the edge',
  'middle-of-crease': 'middle of the crease',
  'on-edge': 'on the edge',
  'on-crease': 'on a crease',
  edge: 'edge',
  crease: 'crease',
} satisfies Record<Extract<PlaceKind, string>, string>;

const partNames: Readonly<Record<number, string>> = {
  3: 'third',
  4: 'quarter',
  5: 'fifth',
  6: 'sixth',
  7: 'seventh',
  8: 'eighth',
  9: 'ninth',
  10: 'tenth',
  12: 'twelfth',
  16: 'sixteenth',
};

/** "a third", "5 twelfths", "3/11" */
function shareText([k, n]: readonly [number, number]): string {
  const name = partNames[n];
  if (!name) return `${k}/${n} of the edge`;
  if (k > 1) return `${k} ${name}s of the edge`;
  return `${n === 8 ? 'an' : 'a'} ${name} of the edge`;
}

/** What drawing says. */
export const draw = {
  draw: 'Draw',
  drawWhat: 'Draw and change creases',
  change: 'Change',
  sheet: 'Sheet',
  kind: {
    mountain: 'mountain fold',
    valley: 'valley fold',
    unassigned: 'fold, either way',
    flat: 'mark',
    edge: 'edge',
    cut: 'cut',
  } satisfies Record<LineKind, string>,
  kindOfLine: 'Kind of line',
  angle: 'Finished angle',
  distance: 'Distance',
  count: 'Parts',
  length: 'Length',
  parts: 'Edge marks',
  corners: 'Corners',
  at: 'At',
  placeShape: 'x, y',
  stepsLose: (titles: readonly string[]) =>
    `No longer folded there, as the crease is gone: ${titles.map((title) => `"${title}"`).join(', ')}.`,
  drawIt: 'Draw it',
  allMarks: 'Erase all marks',
  eraseChosen: 'Erase the picked lines',
  extent: 'How far the line goes',
  extentNow: (name: string) => `How far the line goes: ${name}`,
  toolNow: (name: string) => `Drawing: ${name}`,
  extents: {
    whole: 'across the sheet',
    next: 'to the next crease',
    between: 'between the points',
    length: 'for a length',
  },
  tools: {
    through: 'Through two points',
    'point-onto-point': 'Point onto point',
    'line-onto-line': 'Edge onto edge',
    square: 'Square to an edge',
    'point-onto-line': 'Point onto edge',
    'two-onto-two': 'Two points onto two edges',
    'onto-line-square': 'Point onto edge, square to another',
    parallel: 'Beside, at a distance',
    parts: 'Equal parts',
    grid: 'Grid',
    mirror: 'Mirror image',
    repeat: 'On all sides',
    select: 'Pick lines',
    look: 'Change the kind',
    erase: 'Erase',
    trim: 'Trim',
    move: 'Move a point',
    split: 'Split',
    join: 'Join',
    outline: 'Corner by corner',
  },
  prompts: {
    through: ['Point at the first place.', 'And at the second.'],
    'point-onto-point': ['Which point moves?', 'Onto which point?'],
    'line-onto-line': ['Which edge or crease moves?', 'Onto which?'],
    square: ['Through which point?', 'Square to which edge?'],
    'point-onto-line': ['Which point moves?', 'Onto which edge?', 'Through which point does the crease run?'],
    'two-onto-two': ['Which point moves?', 'Onto which edge?', 'Which second point?', 'Onto which edge?'],
    'onto-line-square': ['Which point moves?', 'Onto which edge?', 'Square to which edge?'],
    parallel: ['Beside which edge or crease?'],
    parts: ['From which edge or crease?', 'To which?'],
    grid: ['Say how many parts, then draw it.'],
    mirror: ['Mirror in which line?'],
    repeat: ['The picked lines, or all, are drawn on all sides.'],
    select: ['Click lines, or stroke across several.'],
    look: ['Click lines, or stroke across several, to give them this kind.'],
    erase: ['Click what is to go, or stroke across several.'],
    trim: ['Which piece is to go?', 'Back to which line?'],
    move: ['Which point?', 'Where to?'],
    split: ['Split at which place?'],
    join: ['Which line is to be one piece?'],
    outline: ['Point at the corners in turn, and at the first again.'],
  },
  chooseAnswer: (count: number) => `${count} folds do this: point at the one you mean. Tab shows the next.`,
  noAnswer: 'No fold does this on the paper: choose other places.',
  byNumbers: 'A place by numbers',
  noLineThere: 'There is no line here: press nearer to one.',
  placeIs: (is: PlaceKind) => (typeof is === 'string' ? places[is] : shareText(is.share)),
  took: (place: string) => `Took: ${place}.`,
  thereAlready: 'This line is there already.',
  atAngle: (degrees: number) => `at ${Number(degrees.toFixed(1))}°`,
  place: ([x, y]: readonly [number, number], unit: number) =>
    `${Number((x / unit).toFixed(1))}, ${Number((y / unit).toFixed(1))} mm`,
  squareOf: (size: number) => `Square, ${size} mm`,
  rootTwo: 'Sides 1 to √2',
};
