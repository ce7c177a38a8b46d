/** Layer orders carried along the steps of made-up wallets come out as a stack of paper folded by hand would. */
import { describe, expect, it } from 'vitest';
import type { LayerOrder } from '../../../src/core/layer/problem.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { layersOfStep } from '../../../src/core/run/step-layers.ts';
import { panelContaining } from '../../../src/core/sheet/walk.ts';
import { buildModel, foldThrough, stagesOf } from '../../support/folded-models.ts';
import { disguise, type Model, wallet } from '../../support/models.ts';

/**
 * Ranks of the cells of a wallet from below to above, after each step, by hand: at each fold everything beyond the
 * crease turns over, layer by layer, and comes to lie over all that stays, or under it.
 */
function ranksByHand(model: Model): { middles: [number, number][]; ranks: number[][] } {
  const cuts = (axis: 0 | 1) => {
    const places = new Set([0, Math.max(...model.outline.map((corner) => corner[axis]))]);
    for (const { from, to } of model.creases) if (from[axis] === to[axis]) places.add(from[axis]);
    return [...places].sort((a, b) => a - b);
  };
  const [x, y] = [cuts(0), cuts(1)];
  const cells = y.slice(1).flatMap((_, row) => x.slice(1).map((__, column) => ({ row, column })));
  const middles = cells.map(({ row, column }): [number, number] => [
    (x[column]! + x[column + 1]!) / 2,
    (y[row]! + y[row + 1]!) / 2,
  ]);
  let rank = cells.map(() => 0);
  const folded = { row: new Set<number>(), column: new Set<number>() };
  const ranks: number[][] = [];
  for (let step = 0; step < model.creases[0]!.steps.length; step++) {
    const made = model.creases.find(
      ({ from, steps }) =>
        steps[step] !== 0 && (step === 0 || steps[step - 1] === 0) && (from[0] === 0 || from[1] === 0),
    )!;
    const line: 'row' | 'column' = made.from[0] === 0 && made.to[0] !== 0 ? 'row' : 'column';
    const place = line === 'row' ? made.from[1] : made.from[0];
    const before = (line === 'row' ? y : x).indexOf(place) - 1;
    // the paper beside the crease lies face down after an odd number of folds
    const turned = [...folded[line]].filter((one) => one < before).length % 2 === 1;
    const up = made.steps[step]! > 0 !== turned;
    const [low, high] = [Math.min(...rank), Math.max(...rank)];
    rank = rank.map((one, k) => {
      if (cells[k]![line] <= before) return one;
      return up ? high + 1 + (high - one) : low - 1 - (one - low);
    });
    folded[line].add(before);
    ranks.push(rank);
  }
  return { middles, ranks };
}

/**
 * Does every fold take all layers that reach across its line? If not, paper lies over a crease that folds without it,
 * which a hand cannot do.
 */
function takesAllLayers(model: Model): boolean {
  return [0, 1].every((axis) => {
    const places = [0, Math.max(...model.outline.map((corner) => corner[axis]!))];
    const made = new Map<number, number>();
    for (const { from, to, steps } of model.creases) {
      if (from[axis] !== to[axis]) continue;
      places.push(from[axis]!);
      made.set(
        from[axis]!,
        steps.findIndex((angle) => angle !== 0),
      );
    }
    const cuts = [...new Set(places)].sort((a, b) => a - b);
    return [...made].every(([line, step]) => {
      // where each cut lies just before: turned back at every crease made earlier
      const at = [0];
      let way = 1;
      for (let k = 1; k < cuts.length; k++) {
        at.push(at[k - 1]! + way * (cuts[k]! - cuts[k - 1]!));
        if ((made.get(cuts[k]!) ?? step) < step) way = -way;
      }
      const index = cuts.indexOf(line);
      const beyond = at.slice(index + 1).map((place) => place - at[index]!);
      const stays = at.slice(0, index).map((place) => place - at[index]!);
      const clear = (side: number[]) => side.every((one) => one >= 0) || side.every((one) => one <= 0);
      return clear(beyond) && clear(stays) && Math.sign(beyond[0]!) !== Math.sign(stays.at(-1)!);
    });
  });
}

describe('wallets of random folds, step after step', () => {
  const seeds = Array.from({ length: 200 }, (_, k) => k + 1).filter((seed) =>
    takesAllLayers(wallet(seededRandom(seed * 7919))),
  );
  for (const seed of seeds.slice(0, 14))
    it(`seed ${seed}`, () => {
      const random = seededRandom(seed * 7919);
      const model = wallet(random);
      const drawn = disguise(model, random);
      const built = buildModel(model, drawn);
      const { sheet, still } = built;
      const tracks = foldThrough(sheet, stagesOf(model, built));
      const { middles, ranks } = ranksByHand(model);
      const cellOf = new Map(
        middles.map((middle, cell) => {
          const [px, py] = drawn.place(middle);
          const { x, y, scale } = sheet.frame;
          return [panelContaining(sheet, (px - x) / scale, (py - y) / scale), cell] as const;
        }),
      );
      expect(cellOf.size).toBe(middles.length);
      let before: LayerOrder = [];
      tracks.forEach(({ poses }, step) => {
        const layers = layersOfStep(
          { step, title: '', stepKind: 'fold', sheet, sheetSize: 150, still, poses, before, asked: [] },
          () => () => false,
        );
        expect(layers.conflict).toBeNull();
        expect(layers.asks).toBe(false);
        const facesUp = facing(model, step);
        for (const [f, g, side] of layers.order) {
          const [p, q] = [cellOf.get(f)!, cellOf.get(g)!];
          const above = ranks[step]![p]! > ranks[step]![q]!;
          expect(side, `step ${step}, panels ${f} and ${g}`).toBe(above === facesUp(middles[q]!) ? 1 : -1);
        }
        before = layers.order;
      });
    });
});

/** Does the side that faced up at the start still look up? Each fold passed on the way from the still panel turns it. */
function facing(model: Model, step: number): (at: readonly [number, number]) => boolean {
  const [sx, sy] = model.still;
  return ([x, y]) => {
    const rows = new Set<number>();
    const columns = new Set<number>();
    for (const { from, to, steps } of model.creases) {
      if (steps[step] === 0) continue;
      if (from[1] === to[1] && (from[1] - sy) * (from[1] - y) < 0) rows.add(from[1]);
      if (from[0] === to[0] && (from[0] - sx) * (from[0] - x) < 0) columns.add(from[0]);
    }
    return (rows.size + columns.size) % 2 === 0;
  };
}
