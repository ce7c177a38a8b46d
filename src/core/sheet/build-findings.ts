/** What is worth telling about a drawing once its sheet is built. Lengths told are in the drawing's unit. */
import type { Finding } from '../finding/finding.ts';
import { finding } from '../finding/finding.ts';
import type { PatternPlace } from '../finding/values/place.ts';
import type { FindingValues } from '../finding/values.ts';
import { Groups } from '../numeric/plane.ts';
import { HALF_TURN, ROUNDING } from '../numeric/tolerance.ts';
import { type BuildContext, placeOfStroke, sheetPlace } from './build-context.ts';
import { KIND, kindJoinsPanels, lineKinds } from './kind.ts';
import type { Net } from './rings.ts';
import type { Sheet } from './sheet.ts';
import { NONE } from './sheet.ts';
import { shortEnds } from './short-ends.ts';
import { creaseCount, creasesAround, panelArea, panelCount, vertexCount } from './walk.ts';

type Pair<T> = [T, T];

/** Up to this many of a kind are told one by one; more are told together. */
const ONE_BY_ONE = 12;

/** A place in the drawing's own coordinates. */
function placeIn({ frame }: Pick<Sheet, 'frame'>, x: number, y: number): PatternPlace {
  return { at: [frame.x + frame.scale * x, frame.y + frame.scale * y], size: frame.scale };
}

/** Points that were moved to meet: each told alone, or many together. */
export function reportSnaps(context: BuildContext, sheet: Sheet, vertexOfPoint: Int32Array): Finding[] {
  const { arrangement, frame, snap } = context;
  // below this a difference is only rounding of the coordinates as they were given
  const noise =
    ROUNDING + (8 * Number.EPSILON * Math.max(Math.abs(frame.x), Math.abs(frame.y))) / frame.scale;
  const snapped: number[] = [];
  for (let p = 0; p < arrangement.moved.length; p++) {
    if (arrangement.moved[p]! > noise && vertexOfPoint[p] !== NONE) snapped.push(p);
  }
  if (snapped.length === 0) return [];
  snapped.sort((p, q) => arrangement.moved[q]! - arrangement.moved[p]!);
  const limit = snap * frame.scale;
  const report = (points: number[], told: FindingValues['crease-snapped']): Finding => {
    const vertices = points.map((p) => vertexOfPoint[p]!);
    return finding('crease-snapped', 'note', told, {
      value: arrangement.moved[points[0]!]! * frame.scale,
      limit,
      vertices,
      at: vertices.map((v) => [sheet.vertexX[v]!, sheet.vertexY[v]!] as const),
    });
  };
  const gap = (point: number) => arrangement.moved[point]! * frame.scale;
  if (snapped.length > ONE_BY_ONE)
    return [report(snapped, { how: 'many', count: snapped.length, gap: gap(snapped[0]!) })];
  return snapped.map((p) => {
    const place = placeIn(context, arrangement.x[p]!, arrangement.y[p]!);
    return report([p], { how: 'one', place, gap: gap(p) });
  });
}

/** Lines drawn on each other: one finding for each pair of kinds, and one note for plain repeats. */
export function reportOverlaps(context: BuildContext, sheet: Sheet, vertexOfPoint: Int32Array): Finding[] {
  const { strokes, arrangement, segments } = context;
  const groups = new Map<string, (typeof arrangement.overlaps)[number][]>();
  for (const overlap of arrangement.overlaps) {
    const { winner, loser } = overlap;
    const differ =
      strokes.kind[winner] !== strokes.kind[loser]
        ? 'kind'
        : anglesDiffer(strokes.angle, winner, loser)
          ? 'angle'
          : 'same';
    const key = differ === 'kind' ? `${strokes.kind[winner]} ${strokes.kind[loser]}` : differ;
    const list = groups.get(key);
    if (list === undefined) groups.set(key, [overlap]);
    else list.push(overlap);
  }
  return [...groups].map(([key, list]) => {
    const first = list[0]!;
    const names = [placeOfStroke(segments, first.winner), placeOfStroke(segments, first.loser)] as const;
    const lines = { count: list.length, first: names };
    const kindOf = (stroke: number) => lineKinds[strokes.kind[stroke]!]!;
    const [won, lost] = [kindOf(first.winner), kindOf(first.loser)];
    const serious = key !== 'same' && won !== 'edge' && lost !== 'flat';
    const told: FindingValues['crease-overlap'] =
      key === 'same' || key === 'angle' ? { how: key, ...lines } : { how: 'kind', ...lines, won, lost };
    const vertices = [...new Set(list.flatMap(({ a, b }) => [vertexOfPoint[a]!, vertexOfPoint[b]!]))].filter(
      (v) => v >= 0,
    );
    const at = list
      .slice(0, 1000)
      .map(({ a, b }) =>
        sheetPlace(
          context,
          sheet,
          (arrangement.x[a]! + arrangement.x[b]!) / 2,
          (arrangement.y[a]! + arrangement.y[b]!) / 2,
        ),
      );
    return finding('crease-overlap', serious ? 'warning' : 'note', told, {
      value: list.length,
      limit: 0,
      vertices,
      at,
    });
  });
}

function anglesDiffer(angle: Float64Array, i: number, j: number): boolean {
  return Math.abs(angle[i]! - angle[j]!) > HALF_TURN;
}

/** Strokes shorter than the snap length, which leave nothing to fold. */
export function reportShortStrokes(context: BuildContext, sheet: Sheet): Finding[] {
  const { arrangement, segments, strokes } = context;
  const ends = arrangement.strokeEnds;
  const short: number[] = [];
  for (let s = 0; s < segments.length; s++) if (ends[2 * s] === ends[2 * s + 1]) short.push(s);
  if (short.length === 0) return [];
  const told = { count: short.length, first: placeOfStroke(segments, short[0]!) };
  const at = short.map((s) => sheetPlace(context, sheet, strokes.x1[s]!, strokes.y1[s]!));
  return [
    finding('crease-too-short', 'note', told, {
      value: short.length,
      limit: context.snap * context.frame.scale,
      at,
    }),
  ];
}

/** Why raw edges enclose nothing: the narrowest gap between two loose ends of the outline. */
export function openOutline(context: BuildContext, lines: Net & { kind: Uint8Array }): Finding[] {
  const degree = new Map<number, number>();
  for (let e = 0; e < lines.from.length; e++) {
    if (lines.kind[e] !== KIND.edge) continue;
    for (const p of [lines.from[e]!, lines.to[e]!]) degree.set(p, (degree.get(p) ?? 0) + 1);
  }
  const loose = [...degree].filter(([, count]) => count === 1).map(([p]) => p);
  const away = (p: number, q: number) => Math.hypot(lines.x[p]! - lines.x[q]!, lines.y[p]! - lines.y[q]!);
  let best: [number, number] | null = null;
  // the first few hundred loose ends are enough to point at a gap
  const few = loose.slice(0, 400);
  for (const p of few) {
    for (const q of few) if (p < q && (best === null || away(p, q) < away(...best))) best = [p, q];
  }
  if (best === null) return [finding('outline-open', 'error', { how: 'no-paper' })];
  const [p, q] = best;
  const gap = away(p, q) * context.frame.scale;
  const [from, to] = [p, q].map((end) =>
    placeIn(context, lines.x[end]!, lines.y[end]!),
  ) as Pair<PatternPlace>;
  return [
    finding(
      'outline-open',
      'error',
      { how: 'gap', from, to, gap },
      {
        value: gap,
        limit: context.snap * context.frame.scale,
        at: [
          [lines.x[p]!, lines.y[p]!],
          [lines.x[q]!, lines.y[q]!],
        ],
      },
    ),
  ];
}

/** Creases that end in the middle of a panel: folds cannot, marks may. */
export function danglingCreases(sheet: Sheet): Finding[] {
  const found: Finding[] = [];
  const marks: number[] = [];
  const short = new Map(shortEnds(sheet).map(({ vertex, gap }) => [vertex, gap]));
  for (let v = 0; v < vertexCount(sheet); v++) {
    const around = creasesAround(sheet, v);
    if (around.length !== 1) continue;
    const crease = around[0]! >> 1;
    const kind = lineKinds[sheet.creaseKind[crease]!]!;
    if (kind === 'cut' || kind === 'edge') continue;
    if (kind === 'flat') {
      marks.push(v);
      continue;
    }
    const place: readonly [number, number] = [sheet.vertexX[v]!, sheet.vertexY[v]!];
    const gap = short.get(v);
    const where = {
      place: placeIn(sheet, ...place),
      ...(gap !== undefined && { gap: gap * sheet.frame.scale }),
    };
    const facts = { vertices: [v], creases: [crease], at: [place], ...(gap !== undefined && { value: gap }) };
    found.push(
      kind === 'unassigned'
        ? finding('crease-dangling', 'warning', { how: 'undecided', ...where }, facts)
        : finding('crease-dangling', 'error', { how: 'fold', kind, ...where }, facts),
    );
  }
  if (marks.length > 0) {
    const creases = marks.map((v) => creasesAround(sheet, v)[0]! >> 1);
    const at = marks.map((v) => [sheet.vertexX[v]!, sheet.vertexY[v]!] as const);
    found.push(
      finding(
        'crease-dangling',
        'note',
        { how: 'marks', count: marks.length },
        { vertices: marks, creases, at },
      ),
    );
  }
  return found;
}

/** Paper that cuts part into pieces: named are the panels that hang together with the fewest others. */
export function disconnectedPaper(sheet: Sheet): Finding[] {
  const groups = new Groups(panelCount(sheet));
  for (let e = 0; e < creaseCount(sheet); e++) {
    const left = sheet.halfEdgePanel[2 * e]!;
    const right = sheet.halfEdgePanel[2 * e + 1]!;
    if (kindJoinsPanels(sheet.creaseKind[e]!) && left !== NONE && right !== NONE) groups.join(left, right);
  }
  const area = new Map<number, number>();
  for (let p = 0; p < panelCount(sheet); p++) {
    area.set(groups.find(p), (area.get(groups.find(p)) ?? 0) + panelArea(sheet, p));
  }
  if (area.size < 2) return [];
  const [largest] = [...area].reduce((best, one) => (one[1] > best[1] ? one : best));
  const panels = Array.from({ length: panelCount(sheet) }, (_, p) => p).filter(
    (p) => groups.find(p) !== largest,
  );
  const pieces = area.size;
  return [finding('sheet-disconnected', 'error', { pieces }, { value: pieces, limit: 1, panels })];
}
