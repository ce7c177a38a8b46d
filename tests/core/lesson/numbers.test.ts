/** Sheet to lesson to sheet keeps every number, however the sheet was numbered. */
import { describe, expect, test } from 'vitest';
import { lessonOfSheet } from '../../../src/core/lesson/lesson-of-sheet.ts';
import { nameless } from '../../../src/core/lesson/plain-sides.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { sheetFromGraph } from '../../../src/core/sheet/from-graph.ts';
import { lineKinds } from '../../../src/core/sheet/kind.ts';
import type { Segment } from '../../../src/core/sheet/segment.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { halfEdgeOrigin, panelRing } from '../../../src/core/sheet/walk.ts';
import { readLesson } from '../../../src/core/storage/lesson/read.ts';
import { writeLesson } from '../../../src/core/storage/lesson/write.ts';
import { parseJson } from '../../../src/core/storage/parse-json.ts';

const soak = process.env.CREASEWAY_SOAK !== undefined;
const SHEETS = soak ? 500 : 100;
type Random = () => number;

/** A turned square with chords, loose strokes that end inside, slits and, now and then, a hole. */
function drawing(random: Random): Segment[] {
  const [turn, size, dx, dy] = [6 * random(), 10 ** (4 * random() - 1), 50 * random(), 50 * random()];
  const place = (u: number, v: number) =>
    [
      dx + size * (u * Math.cos(turn) - v * Math.sin(turn)),
      dy + size * (u * Math.sin(turn) + v * Math.cos(turn)),
    ] as const;
  const stroke = (a: readonly number[], b: readonly number[], kind: Segment['kind']): Segment => {
    const [[x1, y1], [x2, y2]] = [place(a[0]!, a[1]!), place(b[0]!, b[1]!)];
    const angle = kind === 'valley' ? 2 * random() : kind === 'mountain' ? -2 * random() : undefined;
    return { x1, y1, x2, y2, kind, ...(angle === undefined ? {} : { angle }) };
  };
  const ring = (corners: readonly (readonly number[])[], kind: Segment['kind']) =>
    corners.map((corner, k) => stroke(corner, corners[(k + 1) % corners.length]!, kind));
  const kinds = ['valley', 'mountain', 'unassigned', 'flat'] as const;
  const chords = Array.from({ length: 2 + Math.floor(5 * random()) }, () => {
    const kind = kinds[Math.floor(4 * random())]!;
    return random() < 0.5
      ? stroke([0, random()], [1, random()], kind)
      : stroke([random(), 0], [random(), 1], kind);
  });
  const loose = random() < 0.5 ? [stroke([0, 0.1], [0.3 + 0.3 * random(), 0.2], 'valley')] : [];
  const slit = random() < 0.5 ? [stroke([0.42, 0.37], [0.55, 0.43], 'cut')] : [];
  const hole =
    random() < 0.3
      ? ring(
          [
            [0.7, 0.7],
            [0.72, 0.71],
            [0.71, 0.73],
          ],
          'edge',
        )
      : [];
  const outline = ring(
    [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ],
    'edge',
  );
  return [...outline, ...chords, ...loose, ...slit, ...hole];
}

function shuffled(count: number, random: Random): number[] {
  const order = [...Array(count).keys()];
  for (let k = count - 1; k > 0; k--) {
    const other = Math.floor((k + 1) * random());
    [order[k], order[other]] = [order[other]!, order[k]!];
  }
  return order;
}

/** The same sheet with other numbers, and with vertices of degree two on some of its creases. */
function renumbered(sheet: Sheet, random: Random): Sheet {
  const vertices = Array.from(sheet.vertexX, (x, v) => [x, sheet.vertexY[v]!] as [number, number]);
  const middleOf = new Map<number, number>();
  sheet.creaseFrom.forEach((from, crease) => {
    if (random() > 0.2) return;
    const to = sheet.creaseTo[crease]!;
    middleOf.set(crease, vertices.length);
    // a half of a straight line is exactly on it
    vertices.push([(vertices[from]![0] + vertices[to]![0]) / 2, (vertices[from]![1] + vertices[to]![1]) / 2]);
  });
  const parts = [...sheet.creaseFrom].flatMap((from, crease) => {
    const [to, middle] = [sheet.creaseTo[crease]!, middleOf.get(crease)];
    const ends: [number, number][] =
      middle === undefined
        ? [[from, to]]
        : [
            [from, middle],
            [middle, to],
          ];
    return ends.map((pair) => ({ crease, ends: random() < 0.5 ? pair : ([pair[1], pair[0]] as const) }));
  });
  const [newVertex, newEdge] = [shuffled(vertices.length, random), shuffled(parts.length, random)];
  const placed: [number, number][] = [];
  newVertex.forEach((to, from) => {
    placed[to] = vertices[from]!;
  });
  const edges = newEdge.map((k) => parts[k]!);
  const faces = shuffled(sheet.panelRings.length, random).map((panel) =>
    panelRing(sheet, sheet.panelRings[panel]![0]!).flatMap((half) => {
      const middle = middleOf.get(half >> 1);
      const corners = [halfEdgeOrigin(sheet, half), ...(middle === undefined ? [] : [middle])];
      return corners.map((vertex) => newVertex[vertex]!);
    }),
  );
  return sheetFromGraph({
    vertices: placed,
    edges: edges.map(({ ends }) => [newVertex[ends[0]]!, newVertex[ends[1]]!] as const),
    kinds: edges.map(({ crease }) => lineKinds[sheet.creaseKind[crease]!]!),
    angles: edges.map(({ crease }) => sheet.creaseAngle[crease]!),
    faces,
  }).sheet!;
}

function expectSame(again: Sheet, sheet: Sheet, label: string): void {
  expect([...again.creaseFrom], label).toEqual([...sheet.creaseFrom]);
  expect([...again.creaseTo], label).toEqual([...sheet.creaseTo]);
  expect([...again.creaseKind], label).toEqual([...sheet.creaseKind]);
  expect([...again.halfEdgePanel], label).toEqual([...sheet.halfEdgePanel]);
  const off = [...again.vertexX].map((x, v) =>
    Math.hypot(x - sheet.vertexX[v]!, again.vertexY[v]! - sheet.vertexY[v]!),
  );
  expect(Math.max(...off), label).toBeLessThan(1e-9);
  expect(again.vertexX.length, label).toBe(sheet.vertexX.length);
  const turned = [...again.creaseAngle].map((angle, e) => Math.abs(angle - sheet.creaseAngle[e]!) || 0);
  expect(Math.max(...turned), label).toBeLessThan(1e-9);
}

/** Through the file, as it is kept. */
function thereAndBack(sheet: Sheet): Sheet {
  const text = writeLesson(lessonOfSheet(sheet, { title: 'Numbers', names: nameless }));
  return sheetOfLesson(readLesson(parseJson(text)).lesson!).sheet!;
}

describe('sheet to lesson to sheet', () => {
  test(`is the identity on ${SHEETS} random sheets, as drawn and numbered otherwise`, () => {
    for (let seed = 1; seed <= SHEETS; seed++) {
      const random = seededRandom(seed);
      const { sheet } = buildSheet(drawing(random));
      expectSame(thereAndBack(sheet!), sheet!, `seed ${seed}, as drawn`);
      const other = renumbered(sheet!, random);
      expect(other, `seed ${seed}`).not.toBeNull();
      expectSame(thereAndBack(other), other, `seed ${seed}, renumbered`);
    }
  });

  test('an edit of a line ends what was said of numbers; a kind that changes does not', () => {
    const random = seededRandom(7);
    const sheet = renumbered(buildSheet(drawing(random)).sheet!, random);
    const lesson = lessonOfSheet(sheet, { title: 'Edited', names: nameless });
    expect(lesson.pattern.numbers).toBeDefined();
    const first = lesson.pattern.lines.findIndex(({ kind }) => kind === 'valley');
    const lines = lesson.pattern.lines.map((line, k) => (k === first ? { ...line, angle: 12 } : line));
    const changed = sheetOfLesson({ ...lesson, pattern: { ...lesson.pattern, lines } }).sheet!;
    expect([...changed.creaseFrom]).toEqual([...sheet.creaseFrom]);
    const fewer = lesson.pattern.lines.filter((_, k) => k !== first);
    const erased = sheetOfLesson({ ...lesson, pattern: { ...lesson.pattern, lines: fewer } }).sheet!;
    expect(erased.creaseFrom.length).toBeLessThan(sheet.creaseFrom.length);
  });
});
