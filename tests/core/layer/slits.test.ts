/**
 * Tabs and slits: stackings counted, and contact in space, against an oracle that tries every order of the sheet cut into
 * convex parts (tests/oracles/layers.ts). CREASEWAY_SEED=n runs others, CREASEWAY_SOAK=1 many more.
 */
import { describe, expect, test } from 'vitest';
import { askAtRest, describeAtRest } from '../../../src/core/contact/at-rest.ts';
import { crossingsOfPose } from '../../../src/core/contact/crossings.ts';
import { contactsOfTrack } from '../../../src/core/contact/track.ts';
import type { AskedHere } from '../../../src/core/layer/asked.ts';
import { layerOrders } from '../../../src/core/layer/order.ts';
import { type LayerOrder, LayerProblem } from '../../../src/core/layer/problem.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { layersOfStep } from '../../../src/core/run/step-layers.ts';
import { layerOracle } from '../../oracles/layers.ts';
import { flatTab, partsOfTab, sheetOfTab, type TabAndSlit, tabInSpace } from '../../support/slits.ts';
import { evenMotion } from '../../support/stack-motions.ts';

const soak = process.env.CREASEWAY_SOAK === '1';
const firstSeed = Number(process.env.CREASEWAY_SEED ?? 1);
const count = soak ? 1000 : 200;

function poseOf(tab: TabAndSlit) {
  const sheet = sheetOfTab(tab);
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  return { sheet, angle, placement: placePanels(sheet, angle, 0) };
}

function states(tab: TabAndSlit) {
  const { sheet, angle, placement } = poseOf(tab);
  return layerOrders(sheet, angle, placement);
}

const randomOf = (seed: number) => {
  const random = seededRandom(seed * 15_485_863);
  for (let k = 0; k < 5; k++) random();
  return random;
};

const plain = {
  width: 4,
  height: 4,
  slit: null,
  low: 1.5,
  high: 2.5,
  lengths: [3],
  degrees: [180],
  tabSlit: null,
};

describe('by hand', () => {
  test('a tab over a slit that is longer than it is wide lies over, or goes through', () => {
    expect(states({ ...plain, slit: { x: 2, low: 1.3, high: 2.7 } }).states).toBe(2n);
  });
  test('one that is too wide for the slit lies over', () => {
    expect(states({ ...plain, slit: { x: 2, low: 1.6, high: 2.4 } }).states).toBe(1n);
  });
  test('a slit that is open to the edge, as long as the tab is wide or longer, lets it through', () => {
    const low = { ...plain, low: 0, high: 1 };
    expect(states({ ...low, slit: { x: 2, low: 0, high: 1.4 } }).states).toBe(2n);
    expect(states({ ...low, slit: { x: 2, low: 0, high: 0.9 } }).states).toBe(1n);
  });
  test('a tab that does not reach the slit lies over', () => {
    expect(states({ ...plain, lengths: [1.5], slit: { x: 2, low: 1, high: 3 } }).states).toBe(1n);
  });
  test('each order goes through once, and is told area by area', () => {
    const { sheet, angle, placement } = poseOf({ ...plain, slit: { x: 2, low: 1, high: 3 } });
    const all = [...new LayerProblem(sheet, angle, placement).states()];
    expect(all.map((order) => order.map(([, , side]) => side)).sort()).toHaveLength(2);
    expect(new Set(all.map((order) => order.map(([, , side]) => side).join())).size).toBe(2);
  });
});

describe('in space, by hand', () => {
  // led round at right angles, the tab comes down on the base at 2, one below its last fold
  const led = { ...plain, lengths: [1, 2, 2], degrees: [90, 90, 90] };
  const rest = (tab: TabAndSlit) => {
    const { sheet, angle, placement } = poseOf(tab);
    const answer = askAtRest(sheet, angle, placement);
    const findings = describeAtRest(answer, { sheet, sheetSize: 200 });
    const told = findings.map(({ code, value }) => (value ? `${code} ${value.toFixed(1)}` : code));
    return [String(answer.states), ...told];
  };
  test('a tab through a slit that takes it in', () => {
    expect(rest({ ...led, slit: { x: 2, low: 1.3, high: 2.7 } })).toEqual(['1']);
    expect(rest({ ...led, slit: null }).slice(0, 1)).toEqual(['0']);
  });
  test('slotted tabs share the line between them half and half', () => {
    const half = { ...led, tabSlit: { x: 8, low: 1.5, high: 2 } };
    expect(rest({ ...half, slit: { x: 2, low: 2, high: 3 } })).toEqual(['1']);
    // with a quarter of the tab's width between the two slits there is paper in paper: an eighth from either
    expect(rest({ ...half, slit: { x: 2, low: 2.25, high: 3 } })).toEqual([
      '0',
      `panels-cross ${((200 / 9) * 0.125).toFixed(1)}`,
    ]);
  });
  test('a slit that is a little off, or a little short, is tight by as much', () => {
    const mm = 9 / 200;
    const off = (x: number, low: number) =>
      rest({ ...led, slit: { x: 2 + x * mm, low: 1.5 + low * mm, high: 2.7 } });
    expect(off(0.05, -1)).toEqual(['1']);
    expect(off(1, -1)).toEqual(['0', 'panels-tight 1.0', 'layer-none']);
    expect(off(0, 0.05)).toEqual(['1']);
    expect(off(0, 1)).toEqual(['0', 'panels-tight 1.0', 'layer-none']);
    expect(off(0, 5)).toEqual(['0', 'panels-cross 5.0']);
  });
});

describe('against the oracle', () => {
  test(`flat: ${count} from seed ${firstSeed}`, () => {
    let through = 0;
    for (let seed = firstSeed; seed < firstSeed + count; seed++) {
      const tab = flatTab(randomOf(seed));
      const oracle = layerOracle(partsOfTab(tab));
      const own = states(tab);
      expect(Number(own.states), `seed ${seed}: ${JSON.stringify(tab)}`).toBe(oracle.states);
      if (own.states > states({ ...tab, slit: null, tabSlit: null }).states) through++;
    }
    expect(through).toBeGreaterThan(count / 10);
  });

  test(`in space: ${count} from seed ${firstSeed}, contact too`, () => {
    const [through, crossing] = [new Set<number>(), new Set<number>()];
    for (let seed = firstSeed; seed < firstSeed + count; seed++) {
      const tab = tabInSpace(randomOf(seed));
      const oracle = layerOracle(partsOfTab(tab));
      const { sheet, angle, placement } = poseOf(tab);
      const what = `seed ${seed}: ${JSON.stringify(tab)}`;
      expect(Number(layerOrders(sheet, angle, placement).states), what).toBe(oracle.states);
      if (oracle.pairs > 0) continue;
      // with nothing that lies on anything there is no order exactly where paper goes through paper
      const crosses = crossingsOfPose(sheet, placement).length > 0;
      expect(crosses, what).toBe(oracle.states === 0);
      if (crosses) crossing.add(seed);
      else if (states({ ...tab, slit: null }).states === 0n) through.add(seed);
    }
    expect(through.size).toBeGreaterThan(count / 10);
    expect(crossing.size).toBeGreaterThan(count / 10);
  });
});

describe('a lesson that folds a tab over a slit', () => {
  const tab = { ...plain, slit: { x: 2, low: 1, high: 3 } };
  const { sheet, angle } = poseOf(tab);
  const step = (stepKind: 'fold' | 'tuck', asked: readonly AskedHere[] = [], before: LayerOrder = []) => {
    const poses = evenMotion(new Float64Array(angle.length), angle);
    const motion = { step: 0, title: '', sheet, sheetSize: 200, still: 0, poses };
    return layersOfStep({ ...motion, stepKind, asked, before }, () => () => false);
  };
  const told = (stacking: LayerOrder) => stacking.map(([, , side]) => side);

  test('folded it lies over, and nothing is asked', () => {
    const { answer, states, asks, order } = step('fold');
    expect([answer, states, asks, told(order)]).toEqual(['yes', '1', false, [1, 1]]);
  });

  test('tucked it may go through, where it holds: both are offered, that first, and in which area they differ', () => {
    const { states, choices, differences, asks } = step('tuck');
    expect([states, asks]).toEqual(['2', false]);
    const through = choices.findIndex((choice) => new Set(told(choice)).size === 2);
    expect([through, choices.length]).toEqual([0, 2]);
    for (const [k, [difference, ...more]] of differences.entries()) {
      expect(more).toEqual([]);
      expect(difference!.oneOfSeveral).toBe(true);
      // beyond the slit, on the base as drawn: the sheet is 7 wide, the slit at 2, the tab's tip at 1
      const [x, y] = difference!.at[difference!.pair[1] === 0 ? 1 : 0]!;
      expect([x > 1 / 7, x < 2 / 7, y > 1.5 / 7, y < 2.5 / 7]).toEqual([true, true, true, true]);
      // as the tip has it: folded back over the base from its right side at 4
      const [u, v] = difference!.at[difference!.pair[1] === 0 ? 0 : 1]!;
      expect([u, v]).toEqual([expect.closeTo(8 / 7 - x, 9), expect.closeTo(y, 9)]);
      const asked = [{ order: difference!.pair, at: difference!.at }];
      const chosen = step('tuck', asked);
      expect([chosen.states, chosen.asks]).toEqual(['1', false]);
      expect(told(chosen.order)).toEqual(told(choices[k]!));
    }
  });

  test('what is asked in one area leaves the others to the motion', () => {
    // over two slits the tab has three areas, at 3, 1.5 and 0.5: asked at its tip, told in the middle
    const long = { ...tab, lengths: [3.7], second: { x: 1, low: 1, high: 3 } };
    const { sheet, angle } = poseOf(long);
    const poses = evenMotion(new Float64Array(angle.length), angle);
    const scale = 1 / sheet.frame.scale;
    const asked = [
      {
        order: [1, 0, -1],
        at: [
          [7.5 * scale, 2 * scale],
          [0.5 * scale, 2 * scale],
        ],
      },
    ] as const;
    const motion = { step: 0, title: '', sheet, sheetSize: 200, still: 0, poses, before: [], asked };
    const { states, order } = layersOfStep({ ...motion, stepKind: 'fold' }, () => () => false);
    expect([states, told(order).sort()]).toEqual(['1', [-1, 1, 1]]);
  });

  test('what is through stays through while the tab does not move', () => {
    const through = [0, 1].map((k) => step('tuck').choices[1]![k]!);
    const poses = evenMotion(angle, angle);
    const motion = { step: 1, title: '', sheet, sheetSize: 200, still: 0, poses, asked: [] };
    const next = layersOfStep({ ...motion, stepKind: 'fold', before: through }, () => () => false);
    expect([next.states, next.order]).toEqual(['1', through]);
  });
});

describe('contact along a motion', () => {
  // a tab led round and down through the base; then its end turns up under the base
  const led = { ...plain, lengths: [1, 2, 2, 0.8], degrees: [90, 90, 90, 90] };
  const contacts = (tab: TabAndSlit) => {
    const { sheet, angle } = poseOf(tab);
    const ends = sheet.creaseAngle.map((a, e) => (a > 0 ? sheet.vertexX[sheet.creaseFrom[e]!]! : 0));
    const last = Math.max(...ends);
    const start = angle.map((a, e) => (ends[e] === last ? 0 : a));
    return contactsOfTrack({ sheet, poses: evenMotion(start, angle), still: 0 }).contacts;
  };
  test('a tab may stand in a slit while its end turns, and not in paper', () => {
    expect(contacts({ ...led, slit: { x: 2, low: 1.3, high: 2.7 } })).toEqual([]);
    expect(contacts({ ...led, slit: { x: 2, low: 1.7, high: 2.7 } }).map(({ kind }) => kind)).toEqual([
      'through',
    ]);
    expect(contacts({ ...led, slit: null }).map(({ kind }) => kind)).toEqual(['through']);
  });
  test('a slit that lies a little beside the tab is reached by a shift of as much', () => {
    const [one] = contacts({ ...led, slit: { x: 2.01, low: 1.3, high: 2.7 } });
    expect(one!.depth * poseOf(led as TabAndSlit).sheet.frame.scale).toBeCloseTo(0.01, 3);
    const [other] = contacts({ ...led, slit: { x: 2, low: 1.52, high: 2.7 } });
    expect(other!.depth * poseOf(led as TabAndSlit).sheet.frame.scale).toBeCloseTo(0.02, 3);
  });
});
