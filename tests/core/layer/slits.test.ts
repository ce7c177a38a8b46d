/**
 * Tabs and slits: stackings counted, and contact in space, against an oracle that tries every order of the sheet cut into
 * convex parts (tests/oracles/layers.ts). CREASEWAY_SEED=n runs others, CREASEWAY_SOAK=1 all 400.
 */
import { describe, expect, test } from 'vitest';
import { crossingsOfPose } from '../../../src/core/contact/crossings.ts';
import { layerOrders } from '../../../src/core/layer/order.ts';
import { LayerProblem } from '../../../src/core/layer/problem.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { layerOracle } from '../../oracles/layers.ts';
import { flatTab, partsOfTab, sheetOfTab, type TabAndSlit, tabInSpace } from '../../support/slits.ts';

const soak = process.env.CREASEWAY_SOAK === '1';
const firstSeed = Number(process.env.CREASEWAY_SEED ?? 1);
const count = soak ? 200 : 40;

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

const plain = { width: 4, height: 4, low: 1.5, high: 2.5, lengths: [3], degrees: [180], tabSlit: null };

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
