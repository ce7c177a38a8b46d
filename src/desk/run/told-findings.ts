/** Findings as the screen tells them: panels by their names, places in mm, those alike at several places as one. */
import type { Finding } from '../../core/finding/finding.ts';
import type { Place } from '../../core/finding/values/place.ts';
import { partNames } from '../../core/lesson/part-names.ts';
import { onSheet } from '../../core/sheet/frame.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { type Calling, called } from '../../words/calling.ts';
import { sentenceOf } from '../../words/findings.ts';
import { words } from '../../words/words.ts';
import type { State } from '../store.ts';

/** How sentences about the lesson on the table call its panels and tell its places. */
export function callingOf({ lesson, sheet }: Pick<State['document'], 'lesson' | 'sheet'>): Calling {
  const names = lesson && sheet ? partNames(lesson, sheet) : new Map<number, string>();
  const nameOf = (panel: number) => names.get(panel);
  if (!lesson || !sheet) return { nameOf, place: null, length: null };
  const { size } = lesson.sheet;
  const length = (value: number) => words.lengthInMillimetres((size * value) / sheet.frame.scale);
  return { nameOf, place: placeTeller(size, sheet), length };
}

/** @param size length of the longer side, mm */
function placeTeller(size: number, sheet: Sheet): (at: Place) => string {
  const [left, low] = [sheet.vertexX, sheet.vertexY].map((all) => all.reduce((a, b) => Math.min(a, b), 1));
  return (at) => {
    const [x, y] = onSheet(sheet, at);
    return words.placeInMillimetres(size * (x - left!), size * (y - low!));
  };
}

export interface ToldFinding {
  /** The first of those that are alike. */
  readonly finding: Finding;
  readonly sentence: string;
  /** The sentence tells a place. */
  readonly isPlaced: boolean;
  /** What all of them concern. */
  readonly where: Pick<Finding, 'vertices' | 'creases' | 'panels'>;
}

export function toldFindings(findings: readonly Finding[], how: Calling): ToldFinding[] {
  const alike = new Map<string, Finding[]>();
  for (const found of findings) {
    const key = `${found.code} ${found.severity} ${called({ ...how, place: () => '' }, () => sentenceOf(found))}`;
    alike.set(key, [...(alike.get(key) ?? []), found]);
  }
  return [...alike.values()].map((all) => {
    const [finding] = all as [Finding, ...Finding[]];
    const [here, ...elsewhere] = all.map((one) => placeIn(one, how)).filter((place) => place !== null);
    const sentence = called(how, () => sentenceOf(finding));
    const union = (of: 'vertices' | 'creases' | 'panels') => [...new Set(all.flatMap((one) => one[of]))];
    return {
      finding,
      sentence: elsewhere.length === 0 ? sentence : `${sentence} ${words.sameAt(elsewhere)}`,
      isPlaced: here !== undefined,
      where: { vertices: union('vertices'), creases: union('creases'), panels: union('panels') },
    };
  });
}

/** The first place that a finding's sentence tells. */
function placeIn(found: Finding, how: Calling): string | null {
  const told: string[] = [];
  const listening = (at: Place) => {
    told.push(how.place?.(at) ?? `(${at.join(', ')})`);
    return '';
  };
  called({ ...how, place: listening }, () => sentenceOf(found));
  return told[0] ?? null;
}
