/**
 * Contact of paper that bends on its way: a strip of four panels, flat along the floor from 0 to 2, up by 1, back over it
 * by 1, and on by 2. By plane geometry its last panel, turned down by t, meets the floor where tan t >= 1.
 */
import { expect, test } from 'vitest';
import { addBendLines } from '../../../src/core/pose/bend-lines.ts';
import { type LookTask, lookAtStep } from '../../../src/core/run/look.ts';
import { panelContaining } from '../../../src/core/sheet/walk.ts';
import { runStep } from '../../support/folded-models.ts';
import { PatternMaker, radians } from '../../support/patterns.ts';
import { hingedStrip, runOf } from '../../support/strips.ts';

const strip = hingedStrip([2, 1, 1, 2], 1);
const bent = addBendLines(strip.sheet, (length) => length);
const own = strip.sheet.creaseKind.length;
const [floor, last] = [strip.panels[0]!, strip.panels[3]!];
const noClock = () => () => false;

/** The bend line of the last panel. */
const bendLine = Array.from({ length: bent.bendLines }, (_, k) => own + k).find(
  (crease) => bent.panelOf[bent.sheet.halfEdgePanel[2 * crease]!] === last,
)!;

/** @param turns of the last panel, degrees @param bends of its bend line along the way, degrees, by the share gone */
function look(turns: readonly number[], bends: (at: number) => number, assumed = false) {
  const poses = runOf(
    strip,
    turns.map((turn) => [90, 90, turn]),
  ).map(({ at, angle }) => {
    const all = new Float64Array(own + bent.bendLines);
    all.set(angle);
    all[bendLine] = bends(at) * radians;
    return { at, angle: all };
  });
  const stage = { target: new Float64Array(own).fill(Number.NaN) };
  const task: LookTask = {
    plan: { sheet: strip.sheet, sheetSize: 200, thickness: 0.1, still: floor, never: [] },
    step: { title: 'turned', kind: 'fold', stage, asked: [], assumed },
    ...{ number: 0, track: { sheet: bent.sheet, panelOf: bent.panelOf, poses } },
    ...{ state: null, before: [] },
  };
  const { findings, replies } = lookAtStep(task, noClock);
  const crossing = findings.filter(({ code }) => code === 'panels-cross');
  return {
    contact: replies.contact,
    told: crossing.map(({ severity, panels }) => [severity, ...panels.slice(0, 2).sort((a, b) => a - b)]),
  };
}

const pair = [floor, last].sort((a, b) => a - b);
const bendsOnTheWay = (at: number) => 15 * Math.sin(Math.PI * at);

test('paper that is flat again at the end: what it runs through on the way is told', () => {
  expect(look([0, 75, 0], bendsOnTheWay)).toEqual({ contact: 'no', told: [['error', ...pair]] });
  expect(look([0, 30, 0], bendsOnTheWay)).toEqual({ contact: 'yes', told: [] });
});

test('on a way that nobody asked for a crossing is a warning, at rest an error', () => {
  expect(look([0, 75, 0], bendsOnTheWay, true).told).toEqual([['warning', ...pair]]);
  const { contact, told } = look([0, 75], bendsOnTheWay, true);
  expect(contact).toBe('no');
  expect(told).toContainEqual(['error', ...pair]);
});

test('paper that stays bent: what it runs through is told, on the panels of the lesson', () => {
  // the last panel has a fold along its middle as well, which ends at the crease it hangs on: three creases that meet
  // do not turn, so that panels bend
  const maker = new PatternMaker();
  const [low, high] = [0, 1].map((y) => [0, 2, 3, 4, 6].map((x) => maker.point(x, y))) as [
    number[],
    number[],
  ];
  const [middle, tip] = [maker.point(4, 0.5), maker.point(6, 0.5)];
  for (const row of [low, high]) for (let k = 0; k < 4; k++) maker.line(row[k]!, row[k + 1]!, 'edge');
  maker.line(low[0]!, high[0]!, 'edge');
  const turned = [
    ...[1, 2].map((k) => [maker.line(low[k]!, high[k]!, 'unassigned', Number.NaN), 90] as const),
    ...[
      [low[3]!, middle],
      [middle, high[3]!],
    ].map(([a, b]) => [maker.line(a!, b!, 'unassigned', Number.NaN), 75] as const),
    [maker.line(middle, tip, 'unassigned', Number.NaN), 30] as const,
  ];
  maker.line(low[4]!, tip, 'edge');
  maker.line(tip, high[4]!, 'edge');
  const sheet = maker.sheet();
  const target = new Float64Array(sheet.creaseKind.length).fill(Number.NaN);
  for (const [crease, degrees] of turned) target[crease] = degrees * radians;
  const track = runStep(sheet, new Float64Array(target.length), { target }, true);
  expect(track.report.outcome).toBe('bends');
  expect(track.report.bendAtEnd).toBeGreaterThan(1);
  const at = (x: number, y: number) => panelContaining(sheet, x / 6, y / 6);
  const still = at(1, 0.5);
  const task: LookTask = {
    plan: { sheet, sheetSize: 200, thickness: 0.1, still, never: [] },
    step: { title: 'turned', kind: 'fold', stage: { target }, asked: [], assumed: false },
    ...{ number: 0, track, state: null, before: [] },
  };
  const { replies, findings } = lookAtStep(task, noClock);
  expect(replies.contact).toBe('no');
  const told = findings.filter(({ code, severity }) => code === 'panels-cross' && severity === 'error');
  const both = [still, at(5, 0.25), at(5, 0.75)].sort((a, b) => a - b);
  expect(told.map(({ panels }) => [...panels].sort((a, b) => a - b))).toContainEqual(both);
});
