/** Numbers of vertices, creases and panels that go with them through an edit of the pattern, as far as they are still there. */
import { SNAP } from '../numeric/tolerance.ts';
import { onSheet } from '../sheet/frame.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import type { Lesson, PatternNumbers } from './lesson.ts';
import { numbersOf, sheetByNumbers } from './numbers.ts';
import { sheetOfLesson } from './sheet-of-lesson.ts';

/**
 * The numbers of a redrawn lesson that differ least from those before; null where its strokes are numbered by themselves,
 * as after a line that runs through corners was drawn.
 * @param redrawn without numbers @param places of the corners of the sheet before, now
 */
export function carriedNumbers(
  before: Sheet,
  redrawn: Lesson,
  places: readonly (readonly [number, number])[],
): PatternNumbers | null {
  const after = sheetOfLesson(redrawn).sheet;
  if (!after) return null;
  const vertexOf = places.map((place) => vertexAt(after, onSheet(after, place)));
  const byEnds = new Map(
    Array.from(after.creaseFrom, (from, crease) => [key(from, after.creaseTo[crease]!), crease]),
  );
  const creaseOf = Array.from(
    before.creaseFrom,
    (from, crease) => byEnds.get(key(vertexOf[from]!, vertexOf[before.creaseTo[crease]!]!)) ?? NONE,
  );
  const isTurned = (crease: number) =>
    after.creaseFrom[creaseOf[crease]!] !== vertexOf[before.creaseFrom[crease]!];
  const panelOf = Array.from(before.panelRings.keys(), () => NONE as number);
  before.halfEdgePanel.forEach((panel, half) => {
    const now = creaseOf[half >> 1]!;
    if (panel === NONE || now === NONE || panelOf[panel] !== NONE) return;
    const there = after.halfEdgePanel[2 * now + ((half & 1) ^ (isTurned(half >> 1) ? 1 : 0))]!;
    if (!panelOf.includes(there)) panelOf[panel] = there;
  });

  const own = numbersOf(after);
  const [vertices, creases, panels] = [
    ordered(vertexOf, own.vertices.length),
    ordered(creaseOf, own.creases.length),
    ordered(panelOf, own.panels.length),
  ];
  const newVertex = inverse(vertices);
  const { outline, lines } = redrawn.pattern;
  const ends = [...outline, ...lines.flatMap(({ from, to }) => [from, to])];
  // to the last digit, by which strokes are known
  const asDrawn = ([x, y]: readonly [number, number]) =>
    ends.find(([ex, ey]) => Math.hypot(ex - x, ey - y) <= SNAP * after.frame.scale) ?? [x, y];
  const turned = new Set(creaseOf.flatMap((now, crease) => (now !== NONE && isTurned(crease) ? [now] : [])));
  const numbers: PatternNumbers = {
    vertices: vertices.map((v) => asDrawn(own.vertices[v]!)),
    creases: creases.map((crease) => {
      const [from, to] = own.creases[crease]!.map((v) => newVertex[v]!) as [number, number];
      return turned.has(crease) ? [to, from] : [from, to];
    }),
    panels: panels.map((panel) => own.panels[panel]!.map((v) => newVertex[v]!)),
  };
  return sheetByNumbers({ ...redrawn, pattern: { ...redrawn.pattern, numbers } }) ? numbers : null;
}

const key = (a: number, b: number) => (a < b ? `${a} ${b}` : `${b} ${a}`);

/** The vertex at a place of a sheet, or NONE. */
export function vertexAt(sheet: Sheet, [x, y]: readonly [number, number]): number {
  const found = sheet.vertexX.findIndex((vx, v) => Math.hypot(vx - x, sheet.vertexY[v]! - y) <= SNAP);
  return found < 0 ? NONE : found;
}

/** All of `count` things: each in the place that it had, places that fell free taken by what is left. */
function ordered(nowOf: readonly number[], count: number): number[] {
  const list = Array.from({ length: count }, (_, k) => nowOf[k] ?? NONE);
  const placed = new Set(list.filter((one) => one !== NONE));
  const left = Array.from({ length: count }, (_, k) => k).filter((one) => !placed.has(one));
  return list.map((one) => (one === NONE ? left.shift()! : one));
}

function inverse(list: readonly number[]): number[] {
  const found: number[] = [];
  list.forEach((one, k) => {
    found[one] = k;
  });
  return found;
}
