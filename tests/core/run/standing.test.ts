/** When all is well and when not, by the rule that only a yes to every question of every step may be praised. */

import { describe, expect, it } from 'vitest';
import { finding } from '../../../src/core/finding/finding.ts';
import { creasesShort, shortFindings } from '../../../src/core/run/short.ts';
import { standingOf } from '../../../src/core/run/standing.ts';
import { stoppedTrack } from '../../../src/core/run/step.ts';
import type { MotionKnown, StepKnown } from '../../../src/core/run/step-known.ts';
import { noLayers } from '../../../src/core/run/step-layers.ts';
import { isRefused, isSound, isYes, replies, worstOf, worstReply } from '../../../src/core/run/verdict.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { radians } from '../../support/patterns.ts';
import { hingedStrip } from '../../support/strips.ts';

const strip = hingedStrip([1, 1, 1], 1);
const { report } = stoppedTrack(strip.sheet, [{ at: 0, angle: new Float64Array(10) }]);

const met = (depth: number) => {
  const where = { along: { how: 'rest' }, place: { at: [0, 0], size: 1 } } as const;
  return { ...where, first: 1, deepest: 1, depth, judgedAs: null };
};

/** A step whose answers are all yes but for what is given. */
function step(
  change: Partial<MotionKnown['report']> = {},
  contact: 'yes' | 'tight' | 'no' = 'yes',
): StepKnown {
  const tight = [0.4, 0.2].map((depth) => finding('panels-tight', 'warning', met(depth), { value: depth }));
  return {
    motion: {
      report: { ...report, outcome: 'rigid', ...change },
      end: { closes: true, deviation: 0, alone: false },
    },
    look: {
      ...noLayers,
      findings: contact === 'tight' ? tight : [],
      replies: { layers: 'yes', contact },
    },
  };
}

describe('one lesson', () => {
  const good = step();
  it('stands soundly where every answer is yes and it ends where the pattern does', () => {
    expect(standingOf([good, good], [], [])).toMatchObject({ is: 'sound', worst: null, bends: 0, tight: 0 });
    expect(
      standingOf([good], [finding('angle-assumed', 'note', { how: 'lines', count: 1 })], []),
    ).toMatchObject({ is: 'sound' });
    expect(standingOf([good], [], [3])).toMatchObject({ is: 'short', worst: null });
  });

  it('is open as long as anything is not looked at', () => {
    const unseen = { motion: good.motion, look: null };
    expect(standingOf([good, unseen], [], [])).toMatchObject({
      is: 'open',
      worst: { step: 1, question: 'contact', reply: 'not-looked' },
    });
    expect(standingOf([{ motion: null, look: null }], [], [])).toMatchObject({ is: 'open' });
    expect(standingOf([good], null, [])).toMatchObject({ is: 'open' });
    expect(standingOf([], null, [])).toMatchObject({ is: 'open' });
    expect(standingOf([], [], [])).toMatchObject({ is: 'nothing' });
  });

  it('is refused by a no, by what broke or gave up, and by an error of the sheet', () => {
    const crosses = step({}, 'no');
    const broke = { motion: good.motion, look: { broke: 'could not be loaded' } };
    expect(standingOf([good, crosses], [], [])).toMatchObject({
      is: 'refused',
      worst: { step: 1, question: 'contact', reply: 'no' },
    });
    expect(standingOf([broke], [], [])).toMatchObject({
      is: 'refused',
      worst: { step: 0, question: 'contact', reply: 'broke' },
    });
    expect(standingOf([{ motion: { broke: 'died' }, look: null }, good], [], [])).toMatchObject({
      is: 'refused',
      worst: { step: 0, question: 'closes', reply: 'broke' },
    });
    expect(
      standingOf([good], [finding('vertex-closure', 'error', { how: 'pose-through-itself', vertex: 0 })], []),
    ).toMatchObject({
      is: 'refused',
    });
    const stopped = step({ outcome: 'stopped' });
    expect(standingOf([stopped, broke], [], []).worst).toEqual({
      step: 1,
      question: 'contact',
      reply: 'broke',
    });
    expect(standingOf([stopped], [], []).worst).toEqual({ step: 0, question: 'moves', reply: 'gave-up' });
  });

  it('never says bends or tight without the most of its degrees or mm', () => {
    const bends = step({ outcome: 'bends', bendDegrees: 12 });
    const standing = standingOf([bends, step({}, 'tight'), good], [], []);
    expect(standing).toMatchObject({ is: 'sound', bends: 12, tight: 0.4 });
    expect(standing.verdict).toMatchObject({ moves: 'bends', contact: 'tight', closes: 'yes' });
  });

  it('asks what was reached to a degree', () => {
    const off = (deviation: number, closes = true): StepKnown => ({
      ...good,
      motion: { report: { ...report, outcome: 'rigid' }, end: { closes, deviation, alone: false } },
    });
    expect(standingOf([off(0.99)], [], []).is).toBe('sound');
    expect(standingOf([off(1.01)], [], []).worst).toEqual({ step: 0, question: 'reaches', reply: 'no' });
    expect(standingOf([off(0, false)], [], []).worst).toEqual({ step: 0, question: 'closes', reply: 'no' });
  });
});

it('answers from the best to the worst', () => {
  expect(replies.map(isYes)).toEqual([true, true, true, false, false, false, false]);
  for (const [k, reply] of replies.entries())
    for (const better of replies.slice(0, k + 1)) {
      expect(worstReply([better, reply])).toBe(reply);
      expect(worstReply([reply, better])).toBe(reply);
    }
  expect(worstReply([])).toBe('yes');
  const all = worstOf([]);
  expect([isSound(all), isRefused(all)]).toEqual([false, false]);
});

describe('creases that the last step leaves short', () => {
  const [one, two] = strip.creases as [number, number];
  const sheet = {
    ...strip.sheet,
    creaseAngle: strip.sheet.creaseAngle.map((value, crease) =>
      crease === one ? Math.PI / 2 : crease === two ? -Math.PI / 2 : value,
    ),
    creaseKind: strip.sheet.creaseKind.map((kind, crease) =>
      crease === one ? 1 : crease === two ? 0 : kind,
    ),
  };
  const end = (a: number, b: number) => {
    const angle = new Float64Array(sheet.creaseKind.length);
    [angle[one], angle[two]] = [a * radians, b * radians];
    return angle;
  };

  it('by more than a degree, the furthest first', () => {
    expect(creasesShort(sheet, end(90, -90))).toEqual([]);
    expect(creasesShort(sheet, end(89.1, -90.9))).toEqual([]);
    expect(creasesShort(sheet, end(88.9, -45))).toEqual([two, one]);
    expect(creasesShort(sheet, end(0, -91.1))).toEqual([one, two]);
  });

  it('in words with the degrees, less what was said of creases that no step folds', () => {
    expect(shortFindings(sheet, end(90, -90), [])).toEqual([]);
    const [both] = shortFindings(sheet, end(60, -45), []);
    expect(both).toMatchObject({ code: 'crease-left-short', severity: 'warning', creases: [two, one] });
    expect(both!.value).toBeCloseTo(45, 9);
    expect(both!.limit).toBeCloseTo(1, 9);
    expect(sentenceOf(both!)).toContain(`creases ${two}, ${one} up to 45° away`);
    const told = finding('crease-never-used', 'warning', { how: 'drawn' }, { creases: [two] });
    const [rest] = shortFindings(sheet, end(60, -45), [told]);
    expect(sentenceOf(rest!)).toContain(`crease ${one} 30° away`);
    expect(rest!.at).toHaveLength(1);
  });
});
