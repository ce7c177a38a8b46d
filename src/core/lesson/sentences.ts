/** Sentences proposed from what a step does, in plain words: which part, which way, how far, how many layers, by what. */
import { LEVEL } from '../numeric/tolerance.ts';
import { type Placement, placePoint } from '../pose/place.ts';
import { insidePoint } from '../sheet/inside-point.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { creasesInLine, halfEdgeOrigin, panelRing } from '../sheet/walk.ts';
import { type Step, usualTurn } from './lesson.ts';

/** What is known of a step's motion. */
export interface StepMove {
  readonly step: Step;
  readonly sheet: Sheet;
  /** Creases that turn, and the angle they end at, radians. */
  readonly turned: readonly number[];
  readonly end: Float64Array;
  /** Where panels are when it begins and when it ends. */
  readonly before: Placement;
  readonly after: Placement;
}

/** A panel has moved when it has turned by more than about a degree: cosine of half of that. */
const SAME_TURN = 0.99996;
/** A fold of nearly a half turn lies flat; one of nearly a quarter stands upright, degrees. */
const NEAR = 3;

/** A sentence for a step, ending in a full stop; empty where there is nothing to tell. */
export function proposedSentence(move: StepMove): string {
  const { step, turned } = move;
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
    default:
      if (turned.length === 0) return '';
  }
  const where = located(step);
  if (step.kind === 'collapse') return `Bring ${count(turned.length, 'crease')} into place together.${where}`;
  const part = partOf(move);
  if (step.kind === 'tuck' || step.kind === 'lock') return `Slide ${part} in.${where}`;
  return `Fold ${part} ${wayOf(move)}${layersOf(move)}.${where}`;
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

/** The moving part, by where it lies in the model as it is seen from above: the left side, the top right corner. */
function partOf({ sheet, before, after }: StepMove): string {
  const moved = panelsMoved(sheet, before, after);
  if (moved.length === 0) return 'it';
  const all = Array.from(sheet.panelRings.keys());
  const [own, whole] = [boxOf(sheet, before, moved), boxOf(sheet, before, all)];
  const off = (k: 0 | 1) => {
    const size = whole.high[k] - whole.low[k];
    if (size < 1e-6) return 0;
    return (own.low[k] + own.high[k] - whole.low[k] - whole.high[k]) / 2 / size;
  };
  const [x, y] = [off(0), off(1)];
  const across = Math.abs(x) < SIDE ? '' : x < 0 ? 'left' : 'right';
  const along = Math.abs(y) < SIDE ? '' : y < 0 ? 'bottom' : 'top';
  if (across && along) return `the ${along} ${across} corner`;
  if (across) return `the ${across} side`;
  return along ? `the ${along}` : 'it';
}

/** A part counts as lying to one side when its middle is off by more than this share of the model. */
const SIDE = 0.12;

/** Over, behind, or up to an angle: told at a crease between paper that stays and paper that moves. */
function wayOf({ turned, end, sheet, before, after }: StepMove): string {
  const moved = new Set(panelsMoved(sheet, before, after));
  const sides = (crease: number) => [2 * crease, 2 * crease + 1].map((half) => sheet.halfEdgePanel[half]!);
  const hinges = turned.filter(
    (crease) => end[crease] !== 0 && sides(crease).some((panel) => !moved.has(panel)),
  );
  const crease = hinges[0] ?? turned[0]!;
  const stays = sides(crease).find((panel) => !moved.has(panel)) ?? sides(crease)[0]!;
  const degrees = (Math.abs(end[crease]!) * 180) / Math.PI;
  // a valley of a panel that looks up comes toward the eye
  const looksUp = before.rotation[4 * stays + 3]! ** 2 + before.rotation[4 * stays + 2]! ** 2 > 0.5;
  const toEye = end[crease]! > 0 === looksUp;
  if (180 - degrees < NEAR) return toEye ? 'over' : 'behind';
  if (Math.abs(degrees - 90) < NEAR) return toEye ? 'up until it stands' : 'down until it hangs';
  return `${toEye ? 'up' : 'down'} by ${degrees.toFixed(0)} degrees`;
}

/** How many layers fold where most of them do, and of how many, in a model that lies flat. */
function layersOf({ sheet, before, after }: StepMove): string {
  const outlines = Array.from(sheet.panelRings.keys(), (panel) => outlineOf(sheet, before, panel));
  if (outlines.some((corners) => corners.some(([, , z]) => Math.abs(z) > LEVEL))) return '';
  const moved = panelsMoved(sheet, before, after);
  const at = new Float64Array(3);
  const stacks = moved.map((panel) => {
    placePoint(at, 0, before, panel, ...insidePoint(sheet, panel));
    const here = [...outlines.keys()].filter((one) => isIn(outlines[one]!, at[0]!, at[1]!));
    return { folds: here.filter((one) => moved.includes(one)).length, all: here.length };
  });
  const most = Math.max(...stacks.map(({ folds }) => folds));
  if (stacks.every(({ folds, all }) => folds === all)) return most > 1 ? ', all layers together' : '';
  const all = Math.max(...stacks.filter(({ folds }) => folds === most).map((stack) => stack.all));
  return `, ${count(most, 'layer')} of ${all}`;
}

/** Panels that turn. */
function panelsMoved(sheet: Sheet, before: Placement, after: Placement): number[] {
  return [...sheet.panelRings.keys()].filter((panel) => {
    let same = 0;
    for (let k = 0; k < 4; k++) same += before.rotation[4 * panel + k]! * after.rotation[4 * panel + k]!;
    return Math.abs(same) < SAME_TURN;
  });
}

/** The corners of a panel where it is placed. */
function outlineOf(sheet: Sheet, placement: Placement, panel: number): [number, number, number][] {
  const at = new Float64Array(3);
  return panelRing(sheet, sheet.panelRings[panel]![0]!).map((half) => {
    const v = halfEdgeOrigin(sheet, half);
    placePoint(at, 0, placement, panel, sheet.vertexX[v]!, sheet.vertexY[v]!);
    return [at[0]!, at[1]!, at[2]!];
  });
}

function isIn(corners: readonly (readonly [number, number, number])[], x: number, y: number): boolean {
  const crossed = corners.filter(([ax, ay], k) => {
    const [bx, by] = corners[(k + 1) % corners.length]!;
    return ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax);
  });
  return crossed.length % 2 === 1;
}

function boxOf(sheet: Sheet, placement: Placement, panels: readonly number[]) {
  const low: [number, number] = [Infinity, Infinity];
  const high: [number, number] = [-Infinity, -Infinity];
  for (const panel of panels)
    for (const at of outlineOf(sheet, placement, panel))
      for (const k of [0, 1] as const) {
        low[k] = Math.min(low[k], at[k]);
        high[k] = Math.max(high[k], at[k]);
      }
  return { low, high };
}

/**
 * A title for a fold along one straight line, told from the side that moves and the way it goes, as seen on the flat
 * sheet; empty where the creases lie on several lines.
 * @param still a point of the sheet that stays, sheet coordinates
 */
export function titleOfFold(
  sheet: Sheet,
  creases: readonly number[],
  still: readonly [number, number],
): string {
  const [first] = creases;
  if (first === undefined) return '';
  const line = new Set(creasesInLine(sheet, [first]));
  if (!creases.every((crease) => line.has(crease))) return '';
  const corner = (v: number) => [sheet.vertexX[v]!, sheet.vertexY[v]!] as const;
  const [a, b] = [corner(sheet.creaseFrom[first]!), corner(sheet.creaseTo[first]!)];
  const way = [b[0] - a[0], b[1] - a[1]] as const;
  const length = Math.hypot(...way);
  const off = ((still[0] - a[0]) * way[1] - (still[1] - a[1]) * way[0]) / length;
  if (Math.abs(off) < 1e-9) return '';
  // from the point that stays straight across the line
  const [x, y] = [(-Math.sign(off) * way[1]) / length, (Math.sign(off) * way[0]) / length];
  const nearest = [...creases].sort((p, q) => distanceTo(sheet, p, still) - distanceTo(sheet, q, still))[0]!;
  const across = Math.abs(x) < SLANT ? '' : x < 0 ? 'left' : 'right';
  const along = Math.abs(y) < SLANT ? '' : y < 0 ? 'bottom' : 'top';
  const part = across && along ? `${along} ${across} corner` : across ? `${across} side` : along;
  return `${part[0]!.toUpperCase()}${part.slice(1)} ${turnInWords(sheet.creaseAngle[nearest]!)}`;
}

/** A fold that runs at less than about 20 degrees to an edge counts as along it: sine. */
const SLANT = 0.35;

function turnInWords(angle: number): string {
  const isWhole = Math.abs(Math.abs(angle) - Math.PI) < (NEAR * Math.PI) / 180;
  if (angle < 0) return isWhole ? 'behind' : 'down';
  return isWhole ? 'over' : 'up';
}

function distanceTo(sheet: Sheet, crease: number, [x, y]: readonly [number, number]): number {
  const [a, b] = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!];
  return Math.hypot(
    (sheet.vertexX[a]! + sheet.vertexX[b]!) / 2 - x,
    (sheet.vertexY[a]! + sheet.vertexY[b]!) / 2 - y,
  );
}
