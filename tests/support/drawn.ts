/** The square of 150 mm to be drawn on, told places as a hand tells them; what lies on it read back in mm. */
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import type { Point } from '../../src/core/numeric/vector.ts';
import type { Desk } from '../../src/desk/desk.ts';
import { deskInHand } from './hand-solver.ts';
import { letter } from './letter.ts';

export const emptySquare: Lesson = { ...letter, pattern: { ...letter.pattern, lines: [] }, steps: [] };

/** Ends in mm, the left or lower one first. */
export type DrawnLine = readonly [x1: number, y1: number, x2: number, y2: number];

export const upright = (x: number): DrawnLine => [x, 0, x, 150];
export const across = (y: number): DrawnLine => [0, y, 150, y];
export const rounded = (value: number) => Math.round(value * 1e6) / 1e6 + 0;

/** A desk with a lesson on it, the drawing tools in hand. */
export async function drawingDesk(lesson: Lesson = emptySquare): Promise<Desk> {
  const { desk } = deskInHand(lesson);
  await desk.drawing.begin();
  return desk;
}

/** The lines of the lesson on the table, from left to right. */
export const linesOn = (desk: Desk): DrawnLine[] =>
  desk.store.document
    .lesson!.pattern.lines.map(({ from, to }) => [from, to].toSorted((a, b) => a[0] - b[0] || a[1] - b[1]))
    .map(([a, b]): DrawnLine => [rounded(a![0]), rounded(a![1]), rounded(b![0]), rounded(b![1])])
    .toSorted((a, b) => a[0] - b[0] || a[1] - b[1] || a[2] - b[2]);

/** Takes the tool of a key in hand and tells it places by numbers. */
export function useTool(desk: Desk, key: string, ...places: Point[]): void {
  desk.commands.press(key, false);
  for (const [x, y] of places) desk.drawing.hands.pressAt(x, y);
}
