/**
 * What a proposed sentence says of a fold is held against the poses and the stack reached: the side named is the side that
 * moves, as its reader sees it, as many layers are named as move, and what goes over comes to lie in front; and a proposed
 * title is held against the sentence. The judge
 * (tests/support/judge-of-folds.ts) knows nothing of sentences' making, and refutes each of them with a word changed.
 * Common practice for the words, no source. CREASEWAY_SEED=n runs others.
 */
import { describe, expect, test } from 'vitest';
import type { LayerOrder } from '../../../src/core/layer/problem.ts';
import { newStep } from '../../../src/core/lesson/edit-steps.ts';
import { foldAcross } from '../../../src/core/lesson/on-model/fold-across.ts';
import { layersBeside, wholeLayers } from '../../../src/core/lesson/on-model/layers-under.ts';
import { withStaying } from '../../../src/core/lesson/on-model/what-stays.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { placePanels, placePoint } from '../../../src/core/pose/place.ts';
import { layersOfStep } from '../../../src/core/run/step-layers.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { halfEdgeOrigin, panelContaining, panelRing } from '../../../src/core/sheet/walk.ts';
import { sheetOfFaces } from '../../support/faces.ts';
import { type Facts, factsOf, type Space, untruths } from '../../support/judge-of-folds.ts';
import { foldAll, folded, lineOn } from '../../support/on-model.ts';
import { radians } from '../../support/patterns.ts';
import { proposedSentence, titleOfFold } from '../../support/proposed.ts';
import { foldOfSomeLayers } from '../../support/some-layers.ts';
import { square } from '../../support/square.ts';
import { anglesAfter, evenMotion } from '../../support/stack-motions.ts';
import { lessonOfFolds, straightFolds } from '../../support/straight-folds.ts';

const firstSeed = Number(process.env.CREASEWAY_SEED ?? 1);

interface Told {
  readonly sentence: string;
  /** Proposed for the same fold; its creases end as the pattern has them. Null for one that is laid open again. */
  readonly title: string | null;
  readonly facts: Facts;
}

interface Fold {
  readonly sheet: Sheet;
  readonly start: Float64Array;
  readonly end: Float64Array;
  readonly still: number;
  /** Reached at its end. */
  readonly order: LayerOrder;
}

/** A fold told to someone before whom the model lies turned over and round by chance. */
function told({ sheet, start, end, still, order }: Fold, random: () => number): Told {
  const [over, degrees] = [random() < 0.5, 45 * Math.floor(8 * random())];
  const seen = { over, round: degrees * radians };
  // over about the upright axis, then round
  const view = ([x, y, z]: Space): Space => {
    const [u, v] = [over ? -x : x, y];
    const [c, s] = [Math.cos(degrees * radians), Math.sin(degrees * radians)];
    return [c * u - s * v, s * u + c * v, over ? -z : z];
  };
  const corners = sheet.panelRings.map((rings) =>
    panelRing(sheet, rings[0]!).map((half) => halfEdgeOrigin(sheet, half)),
  );
  const placed = (angle: Float64Array) => {
    const placement = placePanels(sheet, angle, still);
    return corners.map((ring, panel) =>
      ring.map((v) => {
        const at = new Float64Array(3);
        placePoint(at, 0, placement, panel, sheet.vertexX[v]!, sheet.vertexY[v]!);
        return view([at[0]!, at[1]!, at[2]!]);
      }),
    );
  };
  const [before, after] = [placed(start), placed(end)];
  // which side of each panel the eye sees
  const looksUp = after.map((ring) => {
    const area = ring.reduce((sum, [x, y], k) => {
      const [u, v] = ring[(k + 1) % ring.length]!;
      return sum + x * v - y * u;
    }, 0);
    return area > 0;
  });
  const inFront = (first: number, second: number): boolean => {
    for (const [f, g, side] of order) {
      if (f === first && g === second) return side > 0 === looksUp[g];
      if (f === second && g === first) return side > 0 !== looksUp[g];
    }
    throw new Error('no order of a fold and what it hangs on');
  };
  const sentence = proposedSentence({ step: newStep('fold', ''), sheet, start, end, still, seen });
  const turned = [...end.keys()].filter((crease) => Math.abs(end[crease]! - start[crease]!) > 1e-3);
  const asDrawn = turned.every((crease) => Math.abs(end[crease]! - sheet.creaseAngle[crease]!) < 1e-6);
  const title = asDrawn ? titleOfFold({ sheet, start, still, seen }, turned) : null;
  return { sentence, title, facts: factsOf({ before, after, corners, inFront }) };
}

const motionless = { step: 0, title: '', stepKind: 'fold', sheetSize: 150, asked: [] } as const;

/** All layers, and the last fold laid open again. */
function throughAllLayers(seed: number): Told[] {
  const random = seededRandom(seed * 6151);
  const folds = straightFolds(random, 2 + (seed % 3));
  const sheet = sheetOfLesson(lessonOfFolds(folds)).sheet!;
  let start: Float64Array = new Float64Array(sheet.creaseKind.length);
  let order: LayerOrder = [];
  const all = folds.map(({ creases }) => {
    const end = anglesAfter(sheet, start, creases);
    const still = seed % sheet.panelRings.length;
    const motion = { ...motionless, sheet, still, before: order, poses: evenMotion(start, end) };
    order = layersOfStep(motion, () => () => false).order;
    const one = told({ sheet, start, end, still, order }, random);
    start = end;
    return one;
  });
  const last = anglesAfter(
    sheet,
    start,
    folds.at(-1)!.creases.map((crease) => ({ ...crease, angle: 0 })),
  );
  const still = (seed + 1) % sheet.panelRings.length;
  return [...all, told({ sheet, start, end: last, still, order }, random)];
}

/** Some of the layers, where hands can fold them. */
function throughSomeLayers(seed: number): Told[] {
  const random = seededRandom(seed * 12_289);
  const { vertices, faces, before, after, moves, stacked } = foldOfSomeLayers(random);
  const sheet = sheetOfFaces(vertices, faces, after);
  const end = sheet.creaseAngle.map((angle) => (Number.isNaN(angle) ? 0 : angle));
  const start = end.map((angle, e) => {
    const [a, b] = [sheet.creaseFrom[e]!, sheet.creaseTo[e]!];
    return angle === 0 ? 0 : before(a, b)! * radians;
  });
  const still = moves.indexOf(false);
  const motion = { ...motionless, sheet, still, before: stacked, poses: evenMotion(start, end) };
  const { answer, order } = layersOfStep(motion, () => () => false);
  return answer === 'yes' ? [told({ sheet, start, end, still, order }, random)] : [];
}

/** The top layers of a model folded on screen, then more of it, as far as paper goes: poses and stacks of the run. */
function onTheModel(seed: number): Told[] {
  const random = seededRandom(seed * 313);
  let lesson = square;
  let still: readonly [number, number] = [0.02, 0.03];
  const all: Told[] = [];
  for (let fold = 0; fold < 4; fold++) {
    const before = foldAll(lesson, still);
    const at = 0.25 + 0.5 * random();
    const lines = [
      [
        [at, -2],
        [at + 0.02, 3],
      ] as const,
      [
        [-2, at],
        [3, at + 0.02],
      ] as const,
      [
        [at - 2, at + 2.1],
        [at + 2, at - 2],
      ] as const,
    ]; // prettier-ignore
    const line = lines[Math.floor(3 * random())]!;
    const [from, to] = random() < 0.5 ? line : [line[1], line[0]];
    const toward = random() < 0.5 ? 1 : -1;
    const drawn = lineOn(before, from, to, toward);
    const beside = layersBeside({ ...before }, drawn);
    const few = 1 + Math.floor(random() * (beside.length - 1));
    const top = drawn.toward > 0 ? beside.slice(-few) : beside.slice(0, few);
    const panels = wholeLayers(before, top);
    const plan = foldAcross({ ...before, ...drawn, panels, whole: true });
    if ('refused' in plan) break;
    const own = panelContaining(before.sheet, ...still);
    lesson = withStaying(folded(before, plan), { paper: before, plan, still: own });
    still = lesson.still!;
    const after = foldAll(lesson, still);
    if (after.outcomes.some((one) => one !== 'rigid') || after.troubles.length > 0) break;
    const { sheet, ends, order } = after;
    const start = ends.at(-2) ?? new Float64Array(sheet.creaseKind.length);
    const end = ends.at(-1)!;
    all.push(told({ sheet, start, end, still: panelContaining(sheet, ...still), order }, random));
  }
  return all;
}

const opposites: readonly (readonly [RegExp, string])[] = [
  [/\bleft\b/, 'right'],
  [/\bright\b/, 'left'],
  [/\btop\b/, 'bottom'],
  [/\bbottom\b/, 'top'],
  [/\bover\b/, 'behind'],
  [/\bbehind\b/, 'over'],
  [/, all layers together/, ''],
  [/^([^,]*)\.$/, '$1, all layers together.'],
  [/, one layer of/, ', 2 layers of'],
  [/, [2-9] layers of/, ', one layer of'],
  [/of (\d+)\./, 'of 1$1.'],
];

const families: readonly (readonly [string, (seed: number) => Told[], number, number])[] = [
  ['all layers, stacks by reflection', throughAllLayers, 50, 180],
  ['some of the layers', throughSomeLayers, 250, 180],
  ['folded on the model', onTheModel, 45, 100],
];

/** Words that are judged often enough to say something, each in so many sentences. */
const words: Readonly<Record<string, number>> = {
  ...{ left: 80, right: 80, top: 80, bottom: 80, corner: 100, flap: 20 },
  ...{ over: 100, behind: 100, Unfold: 30, 'all layers together': 80, 'layers? of': 80 },
};

describe('sentence and poses agree', () => {
  const sentences: string[] = [];
  let titles = 0;

  test.each(families)('%s', (_, folds, seeds, least) => {
    const before = sentences.length;
    for (let seed = firstSeed; seed < firstSeed + seeds; seed++)
      for (const { sentence, title, facts } of folds(seed)) {
        const wrong = untruths(sentence, facts);
        expect(wrong, `seed ${seed}: ${sentence}`).toEqual([]);
        if (title !== null) {
          const [, words] = /^Fold the ([^,.]*)/.exec(sentence)!;
          expect(title.toLowerCase(), sentence).toBe(words);
          titles++;
        }
        for (const [word, other] of opposites) {
          const changed = sentence.replace(word, other);
          if (changed !== sentence)
            expect(untruths(changed, facts), `seed ${seed}: ${changed}`).not.toEqual([]);
        }
        sentences.push(sentence);
      }
    expect(sentences.length - before).toBeGreaterThanOrEqual(least);
  });

  test('every kind of claim was judged', () => {
    expect(titles).toBeGreaterThanOrEqual(300);
    for (const [word, least] of Object.entries(words)) {
      const own = sentences.filter((sentence) => new RegExp(`\\b${word}\\b`).test(sentence));
      expect(own.length, word).toBeGreaterThanOrEqual(least);
    }
  });
});
