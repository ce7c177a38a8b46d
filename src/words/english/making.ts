/** What is said while a lesson is made: steps, creases, folds on the model, stackings. */
import type { PatternPlace } from '../../core/finding/values/place.ts';
import { groupedText } from '../numbers.ts';
import { capital, nearPlace, panelsText } from './parts.ts';
import { whyText } from './why.ts';

/** "Crease 4", "Creases 4, 7 and 9", "Creases 1, 2, 3, 4 and 5 more". */
function creasesNamed(creases: readonly number[]): string {
  const [first, ...rest] = creases.length > 5 ? creases.slice(0, 4) : creases;
  if (rest.length === 0) return `Crease ${first}`;
  const last = creases.length > 5 ? `${creases.length - 4} more` : rest.pop();
  return `Creases ${[first, ...rest].join(', ')} and ${last}`;
}

export const making = {
  whichStacking: 'Which stacking is meant?',
  stackingsPossible: (states: string, exact: boolean) =>
    `The folds leave ${exact ? '' : 'at least '}${states} ways to stack the layers. Each picture is a cut through the same place, with the panels that this step moves marked.`,
  asMotionLays: 'as stiff paper would lay them',
  /** @param near where it is so at one place alone */
  panelLiesOn: (upper: number, lower: number, side: string, near: PatternPlace | null) =>
    `${panelsText([upper])} lies on the ${side} side of ${panelsText([lower])}${near ? `, near ${nearPlace(near)}` : ''}`,
  sentenceOf: (parts: readonly string[]) => `${capital(parts.join('; '))}.`,
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
    `The finished shape itself can lie as drawn: ${exact ? '' : 'at least '}${orders === '1' ? 'one stacking' : `${orders} stackings`}, at most ${deepest} layers. How to get there was not found.`,
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
  acrossFirst: 'Point at two places that the fold runs through: corners, or along an edge.',
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
  degreesOf: (value: number) => `${groupedText(value, 1)}°`,
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
  keepLook: 'Keep this view for the step',
  forgetLook: 'Forget its view',
  repeatMirrored: 'Repeat, left and right swapped',
  repeatEnds: 'Repeat, top and bottom swapped',
  repeatTurned: 'Repeat, turned half round',
  nothingToRepeat:
    'No creases lie at the mirrored places, so there is nothing to repeat there: draw them first.',
  prepareTitle: 'Precreased before the first step',
  prepare: (count: number) => `First precrease ${count} ${count === 1 ? 'crease' : 'creases'}`,
  makesTitle: 'Precreased in this step',
  pickToMake: 'Pick the creases that this step precreases, and say so.',
  madeInStep: 'Precreased in this step',
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
    forgotten: 'fold that crease first',
    layers: 'take all layers together',
    'side-up': 'turn the paper over',
  },
  asItShould: 'As it should look',
  wrongFolding: 'folding…',
  wrongBroke: (why: string) => `could not be computed: ${whyText(why)}`,
  wrongBack: (step: number, remedy: string) =>
    `go back to ${step < 0 ? 'the flat sheet' : `the start of step ${step + 1}`} and ${remedy}`,
  wrongHeld: (degrees: number, remedy: string) =>
    `cannot be folded so, stops ${degrees.toFixed(0)}° short: ${remedy}`,
  paperThickness: 'Thickness, mm',
  precreaseFirst: 'Precreased before the first step',
  wholeLine: 'Pick the whole line',
  foldToFinish: 'Fold to its finished angle',
  foldLineNext: 'Fold this crease in a new step',
  foldAllHere: (count: number) =>
    count === 1
      ? 'Fold the crease that is left here'
      : `Fold all of these here: ${count} creases that no step folds yet`,
  foldPickedNext: 'Fold these in a new step',
  remarks: (count: number) => `${count} things to look at`,
  newLesson: 'New lesson',
  /** How what a file says nothing of is called. */
  names: {
    untitled: 'Untitled',
    sides: { a: 'Teal', b: 'White' },
    step: { title: 'Fold everything', sentence: 'Bring every crease to its finished angle together.' },
  },
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
    `${groupedText(size, 0)} mm sheet, ${side.toLowerCase()} side up`,
};
