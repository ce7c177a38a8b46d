/**
 * Locks of the five sample models and of made-up ones. Lengths come from plain geometry beside each check; the demo
 * models' own figures (25 mm in 37.5 mm, 22 mm, 30 mm) were worked out with the scenarios, not by this code.
 */
import { describe, expect, it } from 'vitest';
import { lidFit } from '../../../src/core/layer/lock/lid.ts';
import { type Lock, locksOf } from '../../../src/core/layer/lock/locks.ts';
import { LayerProblem } from '../../../src/core/layer/problem.ts';
import { stacksOf } from '../../../src/core/layer/stacks.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import type { Segment } from '../../../src/core/sheet/segment.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { panelContaining } from '../../../src/core/sheet/walk.ts';
import { wayOut } from '../../../src/words/english/locks.ts';
import { words } from '../../../src/words/words.ts';
import { buildModel } from '../../support/folded-models.ts';
import { sampleLesson } from '../../support/lessons.ts';
import { between, disguise, hingedCase } from '../../support/models.ts';

/** Locks of every layer order of the finished state. */
function locksOfAll(sheet: Sheet, still: number): Lock[][] {
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  const placement = placePanels(sheet, angle, still);
  const problem = new LayerProblem(sheet, angle, placement);
  return [...problem.states()].map((order) =>
    locksOf(sheet, angle, placement, stacksOf(problem.planes, order)),
  );
}

const panelAt = (sheet: Sheet, x: number, y: number) =>
  panelContaining(sheet, (x - sheet.frame.x) / sheet.frame.scale, (y - sheet.frame.y) / sheet.frame.scale);

describe('sample models', () => {
  it('ticket wallet: a tab of 25 mm in a pocket of 37.5 mm in 4 of the 12 orders, the strip with it in 2', () => {
    const { sheet } = sampleLesson('ticket-wallet');
    const all = locksOfAll(sheet, panelAt(sheet, 6, 6));
    const [body, pocket] = [panelAt(sheet, 10, 6), panelAt(sheet, 10, 2)];
    const [leftBody, leftPocket] = [panelAt(sheet, 2, 6), panelAt(sheet, 2, 2)];
    const strip = panelAt(sheet, 10, 0.5);
    const slid = all.flatMap((locks) =>
      locks.filter(
        ({ grade, tab, pocket: into }) =>
          grade === 'friction' &&
          tab.includes(body) &&
          tab.includes(pocket) &&
          into.includes(leftBody) &&
          into.includes(leftPocket),
      ),
    );
    expect(all.length).toBe(12);
    expect(slid.length).toBe(4);
    expect(slid.filter(({ tab }) => tab.includes(strip)).length).toBe(2);
    for (const lock of slid) {
      // left flap 4 + right flap 3 - width 5 = 2 twelfths; pocket from 1 to 4
      expect(lock.depth * 150).toBeCloseTo(25, 9);
      expect(lock.pocketDepth * 150).toBeCloseTo(37.5, 9);
      expect(lock.closedSides).toBe(2);
      expect(wayOut(lock)).toBe('sideways');
      expect(lock.first.panels).toEqual(
        [panelAt(sheet, 6, 0.5), panelAt(sheet, 6, 2), panelAt(sheet, 6, 6), panelAt(sheet, 6, 11.5)].sort(
          (a, b) => a - b,
        ),
      );
    }
    // what slides is not told once more as covered
    for (const locks of all)
      for (const covered of locks.filter(({ grade }) => grade !== 'friction'))
        for (const { grade, tab } of locks)
          if (grade === 'friction') for (const panel of covered.tab) expect(tab).not.toContain(panel);
    expect(words.lock.sentence(slid[0]!, 150)).toMatch(
      /25\.0 mm into a pocket 37\.5 mm deep.*held by friction/,
    );
  });

  it('pencil case: in one of 5 orders the flap sits behind both front gussets, to be pulled up 30 mm with the lid', () => {
    const { sheet } = sampleLesson('pencil-case');
    const all = locksOfAll(sheet, panelAt(sheet, 3, 2));
    const counts = all.map((locks) => locks.length).sort();
    // outside the front wall nothing, within both gussets the wall alone, else behind one gusset or both
    expect(counts).toEqual([0, 1, 1, 1, 2]);
    expect(
      all
        .flat()
        .map(({ by, grade }) => `${grade} ${by}`)
        .sort(),
    ).toEqual([...Array(4).fill('friction layers'), 'friction wall']);
    const flap = panelAt(sheet, 3, 6.5);
    for (const lock of all.find((locks) => locks.length === 2)!) {
      expect(lock.grade).toBe('friction');
      expect(lock.tab).toContain(flap);
      expect(lock.pocket).toContain(panelAt(sheet, 3, 0.5));
      expect(lock.depth * 210).toBeCloseTo(30, 9);
      expect(wayOut(lock)).toBe('upward');
      expect(lock.first.panels).toContain(panelAt(sheet, 3, 5));
    }
  });

  it('planter sleeve: each tip either way, so 1, 4, 6, 4, 1 orders with 0 to 4 tips over the rim, 22 mm deep', () => {
    const { sheet } = sampleLesson('planter-sleeve');
    const all = locksOfAll(sheet, panelAt(sheet, 0.5, 0.5));
    // a tip folded in behind its gusset is kept only until the wall, all the rest, swings off it
    const over = all.map((locks) =>
      locks.filter(({ grade, firstShare }) => grade === 'fold' && firstShare < 0.5),
    );
    expect([0, 1, 2, 3, 4].map((n) => over.filter((locks) => locks.length === n).length)).toEqual([
      1, 4, 6, 4, 1,
    ]);
    const t = 0.3 * Math.tan((15 * Math.PI) / 180);
    // distance of the corner (0, 0) from the line (t, t)-(0.3 - t, 0)
    const depth = (t * (0.3 - t)) / Math.hypot(0.3 - 2 * t, t);
    for (const lock of over.find((locks) => locks.length === 4)!) {
      expect(lock.depth).toBeCloseTo(depth, 9);
      expect(lock.depth * 200).toBeCloseTo(22.0, 1);
      expect(lock.opens).toBeNull();
      expect(lock.first.panels.length).toBe(2);
    }
  });

  it('cuffed tray: the cuffs hold the four gussets; twist coaster: no lock', () => {
    const tray = sampleLesson('cuffed-tray').sheet;
    const [locks] = locksOfAll(tray, panelAt(tray, 4, 4));
    expect(locks!.map(({ grade }) => grade)).toEqual(['fold', 'fold', 'fold', 'fold']);
    for (const { first, depth } of locks!) {
      expect(first.panels.length).toBe(3);
      expect(depth * 150).toBeCloseTo(18.75, 9);
    }
    const coaster = sampleLesson('twist-coaster').sheet;
    expect(locksOfAll(coaster, panelAt(coaster, 5, 5))).toEqual([[]]);
  });
});

describe('made-up models', () => {
  /** A band folded up as a pocket over a whole strip, then both ends folded behind, the right into the left. */
  function twoFoldWallet(random: () => number) {
    const width = between(random, 3, 6);
    const left = width * between(random, 0.55, 0.95);
    const right = width * between(random, 0.55, 0.95);
    const pocket = between(random, 0.8, 2);
    const body = pocket * between(random, 1.2, 2.5);
    const [all, top] = [left + width + right, pocket + body];
    const line = (x1: number, y1: number, x2: number, y2: number, degrees: number): Segment => {
      const kind = degrees === 0 ? 'edge' : degrees > 0 ? 'valley' : 'mountain';
      return { x1, y1, x2, y2, kind, ...(degrees === 0 ? {} : { angle: (degrees * Math.PI) / 180 }) };
    };
    const folds = [left, left + width].flatMap((x) => [
      line(x, 0, x, pocket, 180),
      line(x, pocket, x, top, -180),
    ]);
    const segments = [
      ...[line(0, 0, all, 0, 0), line(all, 0, all, top, 0), line(all, top, 0, top, 0), line(0, top, 0, 0, 0)],
      ...[line(0, pocket, all, pocket, 180), ...folds],
    ];
    return { sheet: buildSheet(segments).sheet!, left, right, width, pocket, all, top };
  }

  for (let seed = 1; seed <= 8; seed++)
    it(`two-fold wallet, seed ${seed}`, () => {
      const { sheet, left, right, width, pocket, all, top } = twoFoldWallet(seededRandom(seed * 31));
      const tab = panelAt(sheet, all - right / 2, top - 0.1);
      const into = [panelAt(sheet, left / 2, top - 0.1), panelAt(sheet, left / 2, pocket / 2)];
      const orders = locksOfAll(sheet, panelAt(sheet, left + width / 2, top - 0.1));
      const slid = orders
        .flat()
        .filter(({ grade }) => grade === 'friction')
        .filter((lock) => lock.tab.includes(tab) && into.every((panel) => lock.pocket.includes(panel)));
      expect(slid.length).toBeGreaterThan(0);
      for (const lock of slid) {
        // out by the shorter way: sideways by the overlap of the flaps, or up by the pocket's height
        const overlap = left + right - width;
        expect(lock.depth * sheet.frame.scale).toBeCloseTo(Math.min(overlap, pocket), 9);
        expect(lock.pocketDepth * sheet.frame.scale).toBeCloseTo(pocket, 9);
      }
      // without either flap in the other's pocket nothing holds
      expect(orders.some((locks) => !locks.some(({ grade }) => grade === 'friction'))).toBe(true);
    });

  const cases = Array.from({ length: 60 }, (_, k) => k + 1).filter((seed) =>
    hingedCase(seededRandom(seed)).creases.some(({ steps }) => steps.length === 4),
  );
  for (const seed of cases.slice(0, 8))
    it(`hinged case with a flap, seed ${seed}`, () => {
      const random = seededRandom(seed);
      const model = hingedCase(random);
      const drawn = disguise(model, random);
      const { sheet, still } = buildModel(model, drawn);
      const both = locksOfAll(sheet, still).find(
        (locks) => locks.filter(({ grade }) => grade === 'friction').length === 2,
      );
      // top of the drawing less the flap's crease, which is the last one across
      const [top, edge] = [
        Math.max(...model.outline.map(([, y]) => y)),
        Math.max(...model.creases.filter(({ from, to }) => from[1] === to[1]).map(({ from }) => from[1])),
      ];
      for (const lock of both!.filter(({ grade }) => grade === 'friction')) {
        expect((lock.depth * sheet.frame.scale) / drawn.unit).toBeCloseTo(top - edge, 6);
        expect(wayOut(lock)).toBe('upward');
      }
    });
});

/** A sheet of the given columns and rows: first folded between the columns, as given, then all together across. */
function foldedGrid(columns: readonly number[], rows: readonly number[], degrees: readonly number[]): Sheet {
  const at = (lengths: readonly number[]) => {
    const places = [0];
    for (const length of lengths) places.push(places.at(-1)! + length);
    return places;
  };
  const [x, y] = [at(columns), at(rows)];
  const [right, top] = [x.at(-1)!, y.at(-1)!];
  const line = (x1: number, y1: number, x2: number, y2: number, angle: number): Segment => ({
    ...{ x1, y1, x2, y2 },
    ...(angle === 0
      ? { kind: 'edge' as const }
      : { kind: angle > 0 ? ('valley' as const) : ('mountain' as const), angle: (angle * Math.PI) / 180 }),
  });
  const rim = [
    line(0, 0, right, 0, 0),
    line(right, 0, right, top, 0),
    line(right, top, 0, top, 0),
    line(0, top, 0, 0, 0),
  ];
  const upright = x
    .slice(1, -1)
    .flatMap((px, c) => rows.map((_, r) => line(px, y[r]!, px, y[r + 1]!, degrees[c]!)));
  // a fold across is a mountain on every layer that lies turned over
  const level = y
    .slice(1, -1)
    .flatMap((py) => columns.map((_, c) => line(x[c]!, py, x[c + 1]!, py, c % 2 ? -180 : 180)));
  return buildSheet([...rim, ...upright, ...level]).sheet!;
}

describe('layers that are folded over together hold nothing', () => {
  it('a sheet folded in half twice', () => {
    const sheet = foldedGrid([1, 1], [1, 1], [180]);
    expect(locksOfAll(sheet, panelAt(sheet, 0.5, 0.5)).flat()).toEqual([]);
  });

  it('a pleated strip folded across: no layer of the one half is tucked into the other', () => {
    const sheet = foldedGrid([3, 1, 3], [2, 2], [180, -180]);
    const column = [1, 3.5, 5].map((x) => [panelAt(sheet, x, 1), panelAt(sheet, x, 3)] as const);
    const [left, pleat, right] = column as [(typeof column)[0], (typeof column)[0], (typeof column)[0]];
    const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
    const placement = placePanels(sheet, angle, left[0]);
    const problem = new LayerProblem(sheet, angle, placement);
    const nested = [left[0], pleat[0], right[0], right[1], pleat[1], left[1]].join();
    const stacks = [...problem.states()]
      .map((order) => stacksOf(problem.planes, order))
      .filter(({ over }) =>
        over[0]!.some((stack) => [stack.join(), [...stack].reverse().join()].includes(nested)),
      );
    expect(stacks.length).toBeGreaterThan(0);
    for (const one of stacks) expect(locksOf(sheet, angle, placement, one)).toEqual([]);
  });
});

describe('a lid from the same pattern', () => {
  it('sheet sizes for a tray of 150 mm, by the scenario notes: 4 extra layers on each long side, room c a side', () => {
    const { sheet } = sampleLesson('cuffed-tray');
    const base = panelAt(sheet, 4, 4);
    const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
    const placement = placePanels(sheet, angle, base);
    const problem = new LayerProblem(sheet, angle, placement);
    const stacks = stacksOf(problem.planes, problem.first()!);
    for (const [thickness, room, lid] of [
      [0.07, 0.3, 152.6],
      [0.07, 0.5, 153.4],
      [0.105, 0.3, 153.3],
      [0.105, 0.5, 154.1],
      [0.15, 0.3, 154.2],
      [0.15, 0.5, 155],
      [0.2, 0.3, 155.2],
      [0.2, 0.5, 156],
    ] as const) {
      const fit = lidFit({ sheet, placement, stacks }, base, 150, lid, thickness)!;
      // sizes are given to 0.1 mm of sheet, a quarter of which is room on a long side
      expect(Math.abs(fit.room[0]! - room)).toBeLessThan(0.0251);
    }
    const friction = lidFit({ sheet, placement, stacks }, base, 150, 153, 0.07)!;
    expect(friction.grade).toBe('friction');
    expect(lidFit({ sheet, placement, stacks }, base, 150, 151, 0.07)!.grade).toBe('none');
    expect(lidFit({ sheet, placement, stacks }, base, 150, 158, 0.07)!.grade).toBe('gravity');
    expect(words.lock.lidSentence(friction, 153)).toMatch(/rests by friction/);
  });

  it('a wallet has no walls for a lid', () => {
    const { sheet } = sampleLesson('ticket-wallet');
    const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
    const placement = placePanels(sheet, angle, 0);
    const problem = new LayerProblem(sheet, angle, placement);
    const stacks = stacksOf(problem.planes, problem.first()!);
    expect(lidFit({ sheet, placement, stacks }, 0, 150, 153, 0.1)).toBeNull();
  });
});
