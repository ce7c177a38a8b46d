/** Every word on screen, in one place. Field terms of the trade; no sentence promises more than was computed. */

import type { StepKind } from '../core/lesson/lesson.ts';
import type { LineKind } from '../core/sheet/kind.ts';

const degrees = new Intl.NumberFormat('en', { minimumFractionDigits: 1, maximumFractionDigits: 1 });
const whole = new Intl.NumberFormat('en', { maximumFractionDigits: 0 });
const tenth = new Intl.NumberFormat('en', { maximumFractionDigits: 1 });
const hundredth = new Intl.NumberFormat('en', { maximumFractionDigits: 2 });

/** Radians as degrees with one decimal; a zero never shows a sign. */
export function angleText(radians: number): string {
  const value = (radians * 180) / Math.PI;
  const shown = Math.abs(value) < 0.05 ? 0 : value;
  return `${degrees.format(shown).replace('-', '−')}°`;
}

export function millimetres(value: number): string {
  return `${tenth.format(value)} mm`;
}

/** "150 × 60 × 30 mm" */
export function boxText(lengths: readonly number[]): string {
  return `${lengths.map((value) => tenth.format(value)).join(' × ')} mm`;
}

export function fineMillimetres(value: number): string {
  return `${value < 0.005 && value > 0 ? 'under 0.01' : hundredth.format(value)} mm`;
}

export function squareCentimetres(value: number): string {
  return `${tenth.format(value)} cm²`;
}

export const kindWords: Record<LineKind, string> = {
  mountain: 'Mountain crease',
  valley: 'Valley crease',
  unassigned: 'Unassigned crease',
  flat: 'Flat line',
  edge: 'Raw edge',
  cut: 'Cut',
};

export const stepKindWords: Record<StepKind, string> = {
  precrease: 'precrease',
  pinch: 'pinch',
  fold: 'fold',
  collapse: 'collapse',
  tuck: 'tuck',
  lock: 'lock',
  'turn-over': 'turn over',
  rotate: 'rotate',
  note: 'note',
};

export const viewWords = {
  'three-quarter': 'Three-quarter',
  front: 'Front',
  back: 'Back',
  left: 'Left side',
  right: 'Right side',
  top: 'From above',
  bottom: 'From below',
} as const;

/** Folds that are made on the model: how each is called in the choice, and the step that it becomes. */
export const foldWords = {
  over: { way: 'Toward you', title: 'Fold over', sentence: '' },
  behind: { way: 'Behind', title: 'Fold behind', sentence: '' },
  inside: {
    way: 'Inside reverse fold',
    title: 'Inside reverse fold',
    sentence: 'Open the flap, push its end in between the two halves along the creases, and flatten.',
  },
  outside: {
    way: 'Outside reverse fold',
    title: 'Outside reverse fold',
    sentence: 'Open the flap, turn its end back over both halves along the creases, and flatten.',
  },
  squash: {
    way: 'Squash fold',
    title: 'Squash fold',
    sentence: 'Raise the flap, open it, and press its folded edge flat onto the line.',
  },
  petal: {
    way: 'Petal fold',
    title: 'Petal fold',
    sentence: 'Lift the top layer over the line, let both sides come in, and press flat.',
  },
} as const;

/** "Crease 4", "Creases 4, 7 and 9", "Creases 1, 2, 3, 4 and 5 more". */
function creasesNamed(creases: readonly number[]): string {
  const [first, ...rest] = creases.length > 5 ? creases.slice(0, 4) : creases;
  if (rest.length === 0) return `Crease ${first}`;
  const last = creases.length > 5 ? `${creases.length - 4} more` : rest.pop();
  return `Creases ${[first, ...rest].join(', ')} and ${last}`;
}

export const words = {
  whichStacking: 'Which stacking is meant?',
  stackingsPossible: (states: string, exact: boolean) =>
    `The folds leave ${exact ? '' : 'at least '}${states} ways to stack the layers. Each picture is a cut through the same place, with the panels that this step moves marked.`,
  asMotionLays: 'as stiff paper would lay them',
  /** @param near in the pattern's own unit, where it is so at one place alone */
  panelLiesOn: (upper: number, lower: number, side: string, near: readonly [number, number] | null) => {
    const where = near ? `, near (${near.map((value) => Number(value.toFixed(2))).join(', ')})` : '';
    return `panel ${upper} lies on the ${side} side of panel ${lower}${where}`;
  },
  sentenceOf: (parts: readonly string[]) => {
    const text = parts.join('; ');
    return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
  },
  moreStackings: (count: number) => `Show ${count} more`,
  stackingTaken: (states: string) => `${states} stackings are possible; one of them is shown.`,
  stackingChosen: 'The stacking was chosen by you.',
  stackingNarrowed: 'What you chose leaves more than one.',
  chooseAgain: 'Choose again',
  nothingHolds: 'Nothing holds',
  tabIn: (depth: string, pocket: string, held: string, count: number) =>
    `${depth} into a ${pocket} pocket, ${held}${count > 1 ? `, and ${count - 1} more` : ''}`,
  lockTitle: 'What holds it',
  shapeCloses: (orders: string, exact: boolean, deepest: number) =>
    `The finished shape itself can lie as drawn: ${exact ? '' : 'at least '}${orders === '1' ? 'one layer order' : `${orders} layer orders`}, at most ${deepest} layers. How to get there was not found.`,
  showShape: 'Show the finished shape',
  newStepTitle: (kind: string) => `New ${kind}`,
  stepTitle: 'Title of the step',
  stepSentence: 'What to do, in one sentence',
  sentenceWanted: 'Say what to do',
  stepLandmark: 'How the fold is located',
  landmarkWanted: 'By what is it located?',
  locatesStep: (title: string) => `Locates “${title}”`,
  kindOfStep: (kind: string) => `Kind of step: ${kind}`,
  kindOfStepMenu: 'Kind of step',
  minutesOfStep: 'Minutes for this step',
  minutesShort: 'min',
  turnsCreases: (count: number) => `Turns ${count} ${count === 1 ? 'crease' : 'creases'}`,
  creasesTo: (count: number) => `${count} ${count === 1 ? 'crease' : 'creases'} to`,
  angleAtEnd: (step: string, count: number) =>
    `${count > 1 ? `${count} creases` : 'Angle'} at the end of “${step}”, degrees`,
  keepPose: 'Keep this pose',
  addStep: 'Add a step',
  pickFirst: 'Pick a mountain or a valley first: on the sheet, with the arrows or the pointer.',
  noSteps: 'No steps yet. Pick a crease and fold it in a new step, or fold on the model.',
  changeStep: (title: string) => `Change “${title}”`,
  duplicateStep: 'Duplicate',
  splitStep: 'Split half-way',
  joinStep: 'Join with the next',
  stepOff: 'Switch off',
  stepOn: 'Switch on',
  isOff: 'off',
  moveLeft: 'Move left',
  moveRight: 'Move right',
  removeStep: 'Remove',
  across: 'Fold on the model',
  acrossShort: 'Fold',
  acrossFirst: 'Point at two places that the fold line runs through: corners, or along an edge.',
  acrossSecond: 'And the second place.',
  acrossTook: {
    corner: 'Took the corner.',
    crease: 'Took a place on the crease.',
    panel: 'Took a place on the panel.',
  },
  acrossMissed: 'There is no paper here: point at a corner, or along an edge.',
  acrossLayers: 'Which layers',
  allLayers: 'All layers',
  topLayers: 'Top',
  layersFromTop: 'Layers from the top',
  layersOf: (depth: number) => `of ${depth}`,
  turnBy: 'Turn by',
  degreesOf: (value: number) => `${tenth.format(value)}°`,
  clockwise: 'Clockwise',
  counterClockwise: 'Counter-clockwise',
  classLimits: 'Limits of the class',
  creasesAtOnce: 'Creases at once',
  turnOvers: 'Turn-overs',
  acrossWay: 'Which way',
  wayNow: (way: string) => `Which way: ${way}`,
  fewerLayers: 'One layer fewer',
  moreLayers: 'One layer more',
  otherSide: 'Other side',
  foldIt: 'Fold',
  cannotLie:
    'No order of the layers lets the paper lie so: it is tied down, or other layers are in its way. Choose other layers, or another line.',
  notOnBentPaper:
    'Here the paper is bent, so no straight fold can be made: choose a step where it lies flat.',
  notOnePlane: 'These two places do not lie in one plane: choose both on the same flat part.',
  keepLook: 'Keep this view for the step',
  forgetLook: 'Forget its view',
  repeatMirrored: 'Repeat, left and right swapped',
  repeatEnds: 'Repeat, top and bottom swapped',
  repeatTurned: 'Repeat, turned half round',
  nothingToRepeat:
    'No creases lie at the mirrored places, so there is nothing to repeat there: draw them first.',
  prepareTitle: 'Creases made before the first step',
  prepare: (count: number) => `First make ${count} ${count === 1 ? 'crease' : 'creases'}`,
  makesTitle: 'Creases made in this step',
  pickToMake: 'Pick the creases that this step makes, and say so.',
  madeInStep: 'Made in this step',
  pickMade: (number: number) => `Show crease ${number}`,
  landmarkOf: (number: number) => `How crease ${number} is found`,
  madeSide: { a: 'side A up', b: 'side B up', either: 'either side' },
  creased: 'crease',
  pinched: 'pinch',
  noLandmark: 'How is it found?',
  moreCreases: (count: number) => `Show ${count} more`,
  whatIf: 'If a learner’s looks different',
  wrongFold: {
    'other-way': (creases: readonly number[], _side: string) =>
      `${creasesNamed(creases)} folded the other way`,
    forgotten: (creases: readonly number[], _side: string) => `${creasesNamed(creases)} not folded`,
    layers: (creases: readonly number[], _side: string) =>
      `Only the top layer folded: ${creasesNamed(creases).toLowerCase()} left flat`,
    'side-up': (_creases: readonly number[], side: string) => `Begun with ${side} up`,
  },
  wrongRemedy: {
    'other-way': 'turn the fold inside out',
    forgotten: 'crease the line first',
    layers: 'take all layers together',
    'side-up': 'turn the paper over',
  },
  asItShould: 'As it should look',
  wrongFolding: 'folding…',
  wrongBroke: (why: string) => `could not be computed: ${why}`,
  wrongBack: (step: number, remedy: string) =>
    `go back to ${step < 0 ? 'the flat sheet' : `the start of step ${step + 1}`} and ${remedy}`,
  wrongHeld: (degrees: number, remedy: string) =>
    `cannot be folded so, stops ${degrees.toFixed(0)}° short: ${remedy}`,
  paperThickness: 'Thickness, mm',
  precreaseFirst: 'Creased before the first step',
  wholeLine: 'Pick the whole line',
  foldToFinish: 'Fold to its finished angle',
  foldLineNext: 'Fold this line in a new step',
  foldAllHere: (count: number) =>
    count === 1
      ? 'Fold the crease that is left here'
      : `Fold all of these here: ${count} creases that no step folds yet`,
  foldPickedNext: 'Fold these in a new step',
  remarks: (count: number) => `${count} things to look at`,
  newLesson: 'New lesson',
  newLessonWhat: 'a square of 150 mm, no creases',
  sectionLarge: 'Draw it large',
  sectionLargeTitle: 'The section, large',
  sampleRefused: (place: string) => `${place}; shows a fold that stiff paper refuses`,
  refusedOnPurpose: 'This sample is here to show what is said of a fold that stiff paper cannot make.',
  pictureOld: 'The picture is from before the last change.',
  newTitle: (number: number) => (number > 1 ? `New lesson ${number}` : 'New lesson'),
  stackingAsk: 'which stacking?',
  tool: 'Creaseway',
  sheet: 'Sheet',
  model: 'Model',
  storyboard: 'Storyboard',
  findings: 'Findings',
  about: 'About what is selected',
  openLesson: 'Opening the lesson…',
  sheetSummary: (size: number, side: string) =>
    `${whole.format(size)} mm sheet, ${side.toLowerCase()} side up`,

  open: 'Open a file',
  openShort: 'Open',
  lessons: 'Lessons',
  save: 'Save',
  saveAs: {
    lesson: 'Lesson',
    fold: 'FOLD, open standard',
    svg: 'SVG of the pattern',
    glb: 'GLB of the model as it is',
    obj: 'OBJ of the model as it is',
  },
  undo: 'Undo',
  redo: 'Redo',
  keys: 'Keys',
  more: 'More',
  darkTable: 'Dark table',
  lightTable: 'Light table',
  dropHere: 'Let go to open this file',
  dropKinds: 'SVG, DXF, FOLD or a lesson',

  paper: 'Paper',
  paperSize: 'Longer side, mm',
  sideUp: 'Side up at the start',
  sideName: (side: 'a' | 'b') => `Side ${side.toUpperCase()}`,
  colourOf: (side: 'a' | 'b') => `Colour of side ${side.toUpperCase()}`,
  nameOf: (side: 'a' | 'b') => `Name of side ${side.toUpperCase()}`,
  swapColours: 'Swap the two colours',
  folding: 'How it may fold',
  bend: 'Let panels bend',
  free: 'Creases may go either way',

  zoomIn: 'Closer',
  zoomOut: 'Further',
  fitSheet: 'Fit the sheet',
  fitModel: 'Fit the model',
  view: 'View',
  turnOver: 'Turn over',
  setOnTable: 'Set on the table',
  liftFromTable: 'Lift from the table',
  sheetDrawing: (title: string) =>
    `Crease pattern of ${title}. Arrow keys walk from crease to crease and panel to panel.`,
  modelPicture: (title: string) => `Folded model of ${title}. Arrow keys turn the view.`,

  lookInside: 'Look inside',
  glass: 'Glass',
  fan: 'Fan',
  slice: 'Slice',
  peel: 'Peel',
  insideHint: {
    Glass: 'See through the paper',
    Fan: 'Pull the layers apart',
    Slice: 'Cut the model through',
    Peel: 'Lift layers off one by one',
  },
  closeInside: (name: string) => `Close ${name}`,
  glassWhat: 'What is glass',
  glassOf: { all: 'All', front: 'In front', chosen: 'Chosen' },
  glassPick: 'choose a panel',
  fanOpen: 'How far apart',
  schematic: 'Schematic',
  sliceFrom: 'Seen from',
  sliceSide: 'Side',
  sliceFront: 'Front',
  sliceAbove: 'Above',
  turnSlice: 'Turn the slice by 15°',
  slicePlace: 'Place of the slice',
  sliceHandle: 'Slice: arrow keys move it, with Shift they turn it',
  sectionTitle: 'Section',
  sectionNote: 'Schematic: layers are drawn apart.',
  sectionPicture: (layers: number) =>
    layers > 1 ? `Section through the model; ${layers} layers are numbered.` : 'Section through the model.',
  cutsNothing: 'The slice meets no paper here.',
  stackTitle: 'Layers at this point',
  layersHere: (count: number) => (count === 1 ? '1 layer here' : `${count} layers here`),
  layerName: (panel: number) => `Panel ${panel}`,
  layerSide: (side: 'a' | 'b', name: string) => `${name}, ${side.toUpperCase()}`,
  liftOne: 'Lift off',
  putBack: 'Put back',
  liftedOf: (lifted: number, count: number) => `${lifted} of ${count} lifted`,
  tuckName: 'Tuck',
  playTheTuck: (kind: string) => (kind === 'lock' ? 'Play the lock slowly' : 'Play the tuck slowly'),
  playTuck: 'Play slowly',
  stopTuck: 'Stop',
  tuckBack: 'One still back',
  tuckOn: 'One still on',

  play: 'Play',
  stop: 'Stop',
  back: 'One step back',
  forward: 'One step on',
  fold: 'Fold',
  stepOf: (step: number, count: number) => `Step ${step} of ${count}`,
  flatStart: 'Flat sheet',
  percent: (share: number) => `${whole.format(share * 100)} %`,
  sliderText: (step: number, title: string, share: number) =>
    `Step ${step}, ${title}, ${whole.format(share * 100)} percent`,
  waiting: 'waiting',
  computing: 'being computed',
  notReached: 'not reached',
  cancel: 'Cancel',
  computeAgain: 'Compute again',
  workingOn: (step: number) => `Step ${step}`,
  cancelled: 'Stopped. The steps computed so far can be shown.',
  stepFails: (title: string) => `“${title}” does not fold as asked.`,
  heldAt: (share: number) => `Folds ${whole.format(share * 100)} % of the way; no motion was found beyond.`,
  heldAtStart: 'No motion was found from the very start.',
  searchEnds: (share: number) => `Folds ${whole.format(share * 100)} % of the way; there the search ended.`,
  stopsAt: (share: number) => `stops at ${whole.format(share * 100)} %`,
  stepBends: (bend: number) => `folds with panels bending up to ${tenth.format(bend)}°`,

  stackingIn: (step: number) => `Step ${step}: which stacking is meant?`,
  moreAbout: 'More about this',

  nothingSelected: 'Point at a crease or a panel, on the sheet or on the model, to read about it.',
  crease: 'crease',
  panel: 'Panel',
  corner: 'Corner',
  number: (id: number) => `no. ${id}`,
  now: 'Now',
  atTheEnd: 'At the end',
  length: 'Length',
  area: 'Area',
  madeIn: 'Made in step',
  follows: 'follows the others',
  creasesFollow: (creases: readonly number[]) =>
    creases.length === 1
      ? `Crease ${creases[0]} follows`
      : creases.length > 8
        ? `${creases.length} creases follow`
        : `Creases ${creases.join(', ')} follow`,
  faces: 'Side up now',
  facesText: (side: string, name: string) => `${side}, ${name}`,
  onEdge: 'stands on edge',
  still: 'Stays still',
  stillYes: 'This panel stays still',
  keepStill: 'Keep this panel still',
  creasesMeet: 'Creases meeting',
  leftOver: 'Left over',
  free0: 'This pose cannot move.',
  free1: 'Drag a corner of the model to try where it can move (1 freedom).',
  freeMany: (count: number) => `Drag a corner of the model to try where it can move (${count} freedoms).`,
  sizeNow: (size: string) => `${size} as it is`,
  sizeFinished: (size: string) => `Finished ${size}`,
  movedByHand: 'Moved by hand.',
  shapeShown: 'The finished shape; no motion to it was found.',
  backToTrack: 'Back to the step',

  /** @param bend degrees, @param tight mm; 0 where there is none */
  allWell: (bend: number, tight: number) => {
    const gives = tight > 0.05 ? `; paper has to give up to ${tenth.format(tight)} mm` : '';
    return bend > 0.05
      ? `Folds in every step, with panels bending up to ${tenth.format(bend)}°${gives}.`
      : `Folds rigidly in every step${gives}.`;
  },
  allWellBut: 'Folds in every step, but a problem stands below.',
  endsShort: 'Folds in every step, but ends short of the finished shape, as said below.',
  nothingFolds: 'Nothing folds yet.',
  stillChecking: 'The lesson is being checked…',
  notLooked: {
    closes: (title: string) => `“${title}” has not been computed.`,
    reaches: (title: string) => `“${title}” has not been computed.`,
    moves: (title: string) => `“${title}” has not been computed.`,
    layers: (title: string) => `Layers and contact of “${title}” are being looked at…`,
    contact: (title: string) => `Layers and contact of “${title}” are being looked at…`,
  },
  refused: {
    closes: (title: string) => `“${title}” asks for angles that do not close.`,
    reaches: (title: string) => `“${title}” does not end as asked.`,
    moves: (title: string) => `“${title}” does not fold as asked.`,
    layers: (title: string) => `In “${title}” the layers have no order.`,
    contact: (title: string) => `In “${title}” paper would pass through paper.`,
  },
  gaveUp: {
    closes: (title: string) => `Whether “${title}” closes was not found in time.`,
    reaches: (title: string) => `Whether “${title}” ends as asked was not found in time.`,
    moves: (title: string) => `Whether “${title}” can be folded was not found in time.`,
    layers: (title: string) => `Whether the layers of “${title}” have an order was not found in time.`,
    contact: (title: string) => `Whether paper passes paper in “${title}” was not found in time.`,
  },
  broken: {
    motion: (title: string, why: string) => `“${title}” could not be computed: ${why}.`,
    look: (title: string, why: string) => `Layers and contact of “${title}” could not be looked at: ${why}.`,
  },
  tryAgain: 'Try again',
  stillComputing: 'Being computed…',
  showWhere: 'Show where',
  severity: { error: 'Problem', warning: 'Look here', note: 'Note' },
  moreFindings: (count: number) => `and ${count} more`,
  trueUpOffer: (moved: number) =>
    `Some corners of this drawing miss by a hair. The worst one would move ${fineMillimetres(moved)}.`,
  trueUp: (moved: number) => `True up (worst corner moves ${fineMillimetres(moved)})`,
  trueUpAsk: (moved: number) =>
    `The worst corner would move ${fineMillimetres(moved)}, more than half a millimetre. Move it?`,
  trueUpTitle: 'True up this drawing?',
  goAhead: 'Move the corners',
  leaveIt: 'Leave as drawn',

  verdict: { stands: 'stands', rocks: 'rocks', 'tips over': 'tips over' },
  verdictText: (verdict: string, base: string) => `Set on the table it ${verdict}. ${base}`,
  liesFlat: (side: string | null) => `Set on the table it lies flat${side ? `, ${side} down` : ''}.`,
  endsFlat: (verdict: string, side: string | null) =>
    `Set on the table it ${verdict} and lies flat${side ? `, ${side} down` : ''}.`,
  restsOn: (panels: string, side: string | null) => `It rests on ${panels}${side ? `, ${side} down` : ''}.`,
  restsOnRim: 'It rests on edges and corners.',
  panelsList: (ids: readonly number[]) =>
    ids.length === 1
      ? `panel ${ids[0]}`
      : ids.length > 4
        ? `${ids.length} panels`
        : `panels ${ids.slice(0, -1).join(', ')} and ${ids[ids.length - 1]}`,

  mappingTitle: 'What do these lines mean?',
  mappingIntro:
    'This drawing does not say which lines are folds. Each kind of stroke found is listed; set what it stands for.',
  mappingCount: (count: number) => (count === 1 ? '1 line' : `${count} lines`),
  mappingUse: 'Fold this drawing',
  mappingLeave: 'Leave it',
  mappingLayer: (layer: string) => `layer “${layer}”`,
  meanings: {
    mountain: 'Mountain',
    valley: 'Valley',
    unassigned: 'Either way',
    edge: 'Raw edge',
    flat: 'Flat line',
    cut: 'Cut',
    ignore: 'Ignore',
  },
  meaningOf: (what: string) => `Meaning of ${what}`,

  dismiss: 'Close',
  refusedPlain: 'This file could not be read; open another one.',
  lessonMissing: 'This lesson could not be fetched; check the connection and choose it again.',
  broke: (why: string) => `Something went wrong inside: ${why}. The lesson is untouched.`,
  contextLost:
    'The graphics card has let go of the picture. It comes back by itself; the lesson is untouched.',
  noGraphics: 'This browser shows no 3D pictures (WebGL 2 is off). The sheet and the steps still work.',
  saved: (name: string) => `Saved ${name}.`,

  openElsewhere:
    'This lesson is open in another tab. Look as you like; what you change here is kept as a copy of its own.',
  copyElsewhere: 'Kept as a copy, because the lesson itself is open in another tab.',
  copyChanged: 'The lesson was changed in another tab meanwhile; what you do here is kept as a copy.',
  keptAgain: 'Kept again.',
  diskFull:
    'The disk is full, so the last change is not kept: save the lesson as a file, or delete lessons you need no more.',
  shelfClosed:
    'This window keeps no lessons (it is private, or storage is switched off): save the lesson as a file before you close it.',
  saveAsFile: 'Save as a file',
  yourLessons: 'Your lessons',
  noLessonsYet: 'Nothing yet. A lesson that you change or open is kept here by itself, in this browser.',
  copyMark: 'copy',
  rename: 'Rename',
  duplicate: 'Duplicate',
  deleteLesson: 'Delete',
  changeLesson: (title: string) => `Change “${title}”`,
  nameOfLesson: 'Name of the lesson',
  deleted: (title: string) => `“${title}” is deleted.`,
  copyOf: (title: string) => `${title} (copy)`,
  onTheTable: 'on the table',

  aboutLesson: 'About this lesson',
  lessonTitle: 'Title',
  lessonPlace: 'Place',
  creditMaker: 'Maker of the model',
  creditSource: 'Where it is from',
  creditStatus: 'In your own words',
  creditDate: 'Since when',
  permission: 'Permission',
  permissions: {
    own: 'my own',
    traditional: 'traditional',
    asked: 'asked',
    granted: 'granted',
    refused: 'refused',
    unknown: 'unknown',
  },
  allowed: 'It may be',
  uses: {
    'teach-free': 'taught free',
    'teach-paid': 'taught for a fee',
    film: 'filmed',
    print: 'printed',
    post: 'posted',
  },

  versions: 'Versions',
  versionsIntro: 'Keep the lesson as it is now under a name, and go back to it whenever you like.',
  versionName: 'Name of this version',
  keepVersion: 'Keep',
  goBackTo: (name: string) => `Go back to “${name}”`,
  goBack: 'Go back to this',
  wentBack: (name: string) => `The lesson is as it was in “${name}”. Undo takes it back.`,
  removeVersion: (name: string) => `Remove “${name}”`,
  noVersions: 'None yet.',

  keysTitle: 'Keys',
  keysWhileDrawing: 'While drawing',
  keysElsewhere: 'In their places',
  undoEnds: 'Nothing more to take back in this lesson.',
  redoEnds: 'Nothing more to make again.',
} as const;

/** What a pose can still do. */
export function freedomsText(count: number): string {
  return count === 0 ? words.free0 : count === 1 ? words.free1 : words.freeMany(count);
}

/** What drawing says. */
export const drawWords = {
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
  took: (place: string) => `Took: ${place}.`,
  thereAlready: 'This line is there already.',
  atAngle: (degrees: number) => `at ${Number(degrees.toFixed(1))}°`,
  place: ([x, y]: readonly [number, number], unit: number) =>
    `${Number((x / unit).toFixed(1))}, ${Number((y / unit).toFixed(1))} mm`,
  squareOf: (size: number) => `Square, ${size} mm`,
  rootTwo: 'Sides 1 to √2',
} as const;
