/**
 * Names of panels. A teacher gives a panel a name, kept by a point of it on the flat sheet; until then a panel is told by
 * the place of its middle on the sheet.
 */
import { tidy } from '../numeric/tidy.ts';
import { inPattern, onSheet } from '../sheet/frame.ts';
import { insidePoint } from '../sheet/inside-point.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { panelContaining } from '../sheet/walk.ts';
import type { Lesson, PartName } from './lesson.ts';

/** The names that a lesson gives, by panel. Of two names of one panel the later counts. */
export function partNames({ parts = [] }: Pick<Lesson, 'parts'>, sheet: Sheet): ReadonlyMap<number, string> {
  const named = parts.map(({ at, name }) => [panelContaining(sheet, ...onSheet(sheet, at)), name] as const);
  return new Map(named.filter(([panel]) => panel >= 0));
}

/** The lesson with a panel named; an empty name takes the old one away. */
export function withPartName(lesson: Lesson, sheet: Sheet, panel: number, name: string): Lesson {
  const { parts = [], ...rest } = lesson;
  const others = parts.filter(({ at }) => panelContaining(sheet, ...onSheet(sheet, at)) !== panel);
  const [x, y] = inPattern(sheet, insidePoint(sheet, panel));
  const own: PartName[] = name.trim() ? [{ at: [tidy(x), tidy(y)], name: name.trim() }] : [];
  const now = [...others, ...own];
  return now.length > 0 ? { ...rest, parts: now } : rest;
}

/** What a panel is told by. */
export interface PartCalled {
  /** The teacher's. */
  readonly name: string | undefined;
  readonly panel: number;
  readonly place: PlaceOnSheet;
}

export const calledPart = (lesson: Pick<Lesson, 'parts'>, sheet: Sheet, panel: number): PartCalled => ({
  ...{ name: partNames(lesson, sheet).get(panel), panel, place: placeOnSheet(sheet, panel) },
});

/** Which of three equal parts of the sheet a panel's middle lies in, each way. */
export interface PlaceOnSheet {
  readonly across: 'left' | 'middle' | 'right';
  readonly up: 'lower' | 'middle' | 'upper';
}

export function placeOnSheet(sheet: Sheet, panel: number): PlaceOnSheet {
  const [x, y] = insidePoint(sheet, panel);
  return {
    across: thirdOf(sheet.vertexX, x, ['left', 'middle', 'right']),
    up: thirdOf(sheet.vertexY, y, ['lower', 'middle', 'upper']),
  };
}

function thirdOf<T>(all: Float64Array, value: number, [low, middle, high]: readonly [T, T, T]): T {
  let [least, most] = [Infinity, -Infinity];
  for (const one of all) {
    least = Math.min(least, one);
    most = Math.max(most, one);
  }
  const share = (value - least) / (most - least || 1);
  return share < 1 / 3 ? low : share > 2 / 3 ? high : middle;
}
