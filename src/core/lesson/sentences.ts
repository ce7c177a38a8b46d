/** Sentences proposed from what a step does, in plain words: which part, which way, how far, how many layers, by what. */
import { TURNED } from '../numeric/tolerance.ts';
import { nameOf, wayOf } from './fold-words.ts';
import { type Step, usualTurn } from './lesson.ts';
import {
  layersAtHinges,
  type Motion,
  type MovedPart,
  movedPart,
  turnings,
  whereabouts,
} from './moved-part.ts';

/** A step and its motion. */
interface StepMove extends Motion {
  readonly step: Step;
}

/** A sentence for a step, ending in a full stop; empty where there is nothing to tell. */
export function proposedSentence(move: StepMove): string {
  const { step, start, end } = move;
  switch (step.kind) {
    case 'turn-over':
      return 'Turn the model over.';
    case 'rotate':
      return turnSentence(step);
    case 'note':
      return '';
    case 'precrease':
    case 'pinch':
      return madeSentence(step);
  }
  const turned = start.reduce((sum, angle, e) => sum + (Math.abs(end[e]! - angle) > TURNED ? 1 : 0), 0);
  if (turned === 0) return '';
  const where = located(step);
  if (step.kind === 'collapse') return `Bring ${count(turned, 'crease')} into place together.${where}`;
  const part = movedPart(move);
  if (step.kind === 'tuck' || step.kind === 'lock') return `Slide ${nameOf(whereabouts(part))} in.${where}`;
  const { verb, way } = wayOf(turnings(part));
  return `${verb} ${nameOf(whereabouts(part))}${way}${layersOf(part)}.${where}`;
}

/** The turn in parts of a whole one, where they have a name. */
function turnSentence({ turn = usualTurn }: Step): string {
  const way = turn > 0 ? 'counter-clockwise' : 'clockwise';
  const part = { 45: 'an eighth of a turn', 90: 'a quarter turn', 180: 'half a turn' }[Math.abs(turn)];
  const far = part ?? `by ${Math.abs(turn)} degrees`;
  return Math.abs(turn) === 180 ? `Turn the model ${far}.` : `Turn the model ${far} ${way}.`;
}

function madeSentence({ kind, makes = [], landmark }: Step): string {
  if (makes.length === 0) return '';
  const first = landmark ?? makes.find((made) => made.landmark)?.landmark;
  const what = kind === 'pinch' ? count(makes.length, 'mark') : count(makes.length, 'line');
  return `${kind === 'pinch' ? 'Pinch' : 'Fold and unfold'} ${what}${first ? `: ${lower(first)}` : '.'}`;
}

const count = (n: number, word: string) => (n === 1 ? `one ${word}` : `${n} ${word}s`);
const lower = (text: string) => `${text[0]!.toLowerCase()}${text.slice(1)}`;

const located = ({ landmark }: Step) => (landmark ? ` ${landmark.replace(/\.?$/, '.')}` : '');

/** How many layers fold, and of how many; told where some of them stay, for there the hand has to part them. */
function layersOf(part: MovedPart): string {
  const there = layersAtHinges(part);
  const parted = there.filter(({ move, all }) => move < all);
  const most = Math.max(0, ...(parted.length > 0 ? parted : there).map(({ move }) => move));
  if (parted.length === 0) return most > 1 ? ', all layers together' : '';
  const of = Math.max(...parted.filter(({ move }) => move === most).map(({ all }) => all));
  return `, ${count(most, 'layer')} of ${of}`;
}
