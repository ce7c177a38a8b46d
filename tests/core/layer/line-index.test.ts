/** Lines found by the index against all lines held one by one against a box or a straight line; seeds 1 to 40. */
import { expect, test } from 'vitest';
import { LineIndex } from '../../../src/core/layer/line-index.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import type { Net } from '../../../src/core/sheet/rings.ts';

function randomNet(seed: number, lines: number) {
  const random = seededRandom(seed * 7919);
  const x = Float64Array.from({ length: 2 * lines }, () => 4 * random() - 2);
  const y = Float64Array.from({ length: 2 * lines }, () => 2 * random());
  // short lines, so that most are left out
  for (let e = 0; e < lines; e++) {
    x[2 * e + 1] = x[2 * e]! + 0.3 * (random() - 0.5);
    y[2 * e + 1] = y[2 * e]! + 0.3 * (random() - 0.5);
  }
  const from = Int32Array.from({ length: lines }, (_, e) => 2 * e);
  const to = Int32Array.from({ length: lines }, (_, e) => 2 * e + 1);
  return { random, net: { x, y, from, to } as unknown as Net, x, y };
}

test('all lines whose boxes meet a box, and where there are many no others', () => {
  for (let seed = 1; seed <= 40; seed++) {
    const { random, net, x, y } = randomNet(seed, 60);
    const [minX, minY] = [3 * random() - 2, random()];
    const [maxX, maxY] = [minX + random(), minY + random()];
    const meets = (e: number) =>
      Math.max(x[2 * e]!, x[2 * e + 1]!) >= minX &&
      Math.min(x[2 * e]!, x[2 * e + 1]!) <= maxX &&
      Math.max(y[2 * e]!, y[2 * e + 1]!) >= minY &&
      Math.min(y[2 * e]!, y[2 * e + 1]!) <= maxY;
    const found = [...new LineIndex(net).inBox(minX, minY, maxX, maxY)].sort((a, b) => a - b);
    expect(found, `seed ${seed}`).toEqual([...Array(60).keys()].filter(meets));
  }
});

test('along a straight line: every line that crosses it has been given by the time its place is reached', () => {
  for (let seed = 1; seed <= 40; seed++)
    for (const lines of [10, 60]) {
      const { random, net, x, y } = randomNet(seed, lines);
      const turn = seed % 4 === 0 ? (seed * Math.PI) / 8 : 2 * Math.PI * random();
      const [px, py, dx, dy] = [4 * random() - 2, 2 * random(), Math.cos(turn), Math.sin(turn)];
      const off = (v: number) => (x[v]! - px) * dy - (y[v]! - py) * dx;
      const along = (v: number) => (x[v]! - px) * dx + (y[v]! - py) * dy;
      const crossed = new Map<number, number>();
      for (let e = 0; e < lines; e++) {
        const [h, g] = [off(2 * e), off(2 * e + 1)];
        if (h > 0 === g > 0) continue;
        const t = along(2 * e) + (h / (h - g)) * (along(2 * e + 1) - along(2 * e));
        if (t >= 0) crossed.set(e, t);
      }
      const given = new Set<number>();
      let reached = 0;
      for (const { lines: some, end } of new LineIndex(net).along(px, py, dx, dy, 0, 1e-6)) {
        for (const e of some) given.add(e);
        for (const [e, t] of crossed) if (t <= end) expect(given.has(e), `seed ${seed}`).toBe(true);
        expect(end).toBeGreaterThan(reached);
        reached = end;
      }
      for (const e of crossed.keys()) expect(given.has(e), `seed ${seed}, line ${e}`).toBe(true);
    }
});
