/** What is worth telling about a drawing once its sheet is built. Lengths in messages are in the drawing's unit. */
import type { Finding } from '../finding/finding.ts';
import { finding } from '../finding/finding.ts';
import { Groups } from '../numeric/plane.ts';
import { HALF_TURN, ROUNDING } from '../numeric/tolerance.ts';
import { type BuildContext, sheetPlace, strokeName } from './build-context.ts';
import { KIND, kindJoinsPanels, lineKinds } from './kind.ts';
import type { Net } from './rings.ts';
import type { Sheet } from './sheet.ts';
import { NONE } from './sheet.ts';
import { creaseCount, creasesAround, panelArea, panelCount, vertexCount } from './walk.ts';

/** Up to this many of a kind are told one by one; more are told together. */
const ONE_BY_ONE = 12;

/** A length as a person writes it: three figures. */
function text(length: number): string {
  return String(Number(length.toPrecision(3)));
}

/** A place in the drawing's own coordinates. */
function placeText(context: BuildContext, x: number, y: number): string {
  const { frame } = context;
  const digits = Math.min(12, Math.max(0, 3 - Math.floor(Math.log10(frame.scale))));
  const show = (value: number) => String(Number(value.toFixed(digits)));
  return `(${show(frame.x + frame.scale * x)}, ${show(frame.y + frame.scale * y)})`;
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
  const report = (points: number[], message: string): Finding => {
    const vertices = points.map((p) => vertexOfPoint[p]!);
    return finding('crease-snapped', 'note', message, {
      value: arrangement.moved[points[0]!]! * frame.scale,
      limit,
      vertices,
      at: vertices.map((v) => [sheet.vertexX[v]!, sheet.vertexY[v]!] as const),
    });
  };
  if (snapped.length > ONE_BY_ONE) {
    const far = text(arrangement.moved[snapped[0]!]! * frame.scale);
    return [
      report(
        snapped,
        `Lines did not quite meet in ${snapped.length} places and were joined there; the widest gap was ${far}.`,
      ),
    ];
  }
  return snapped.map((p) => {
    const where = placeText(context, arrangement.x[p]!, arrangement.y[p]!);
    return report(
      [p],
      `Lines did not quite meet at ${where} and were joined there; the gap was ${text(arrangement.moved[p]! * frame.scale)}.`,
    );
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
    const names = `${strokeName(segments, first.winner)} and ${strokeName(segments, first.loser)}`;
    const count =
      list.length === 1
        ? `Two lines lie on each other (${names})`
        : `Lines lie on each other in ${list.length} places (the first: ${names})`;
    const [won, lost] = [first.winner, first.loser].map((s) => lineKinds[strokes.kind[s]!]!);
    const serious = key !== 'same' && won !== 'edge' && lost !== 'flat';
    const message =
      key === 'same'
        ? `${count}; repeats were dropped.`
        : key === 'angle'
          ? `${count} with different finished angles; the angle of the longer line was kept.`
          : `${count}: one ${lost}, one ${won}; ${won} was kept.`;
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
    return finding('crease-overlap', serious ? 'warning' : 'note', message, {
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
  const first = strokeName(segments, short[0]!);
  const message =
    short.length === 1
      ? `${first}: the line is too short to fold and was left out.`
      : `${short.length} lines are too short to fold and were left out (the first is ${first}).`;
  const at = short.map((s) => sheetPlace(context, sheet, strokes.x1[s]!, strokes.y1[s]!));
  return [
    finding('crease-too-short', 'note', message, {
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
  if (best === null) {
    return [
      finding(
        'outline-open',
        'error',
        'The raw edges enclose no paper: draw the edge of the sheet as one closed line.',
      ),
    ];
  }
  const [p, q] = best;
  const gap = away(p, q) * context.frame.scale;
  const from = placeText(context, lines.x[p]!, lines.y[p]!);
  const to = placeText(context, lines.x[q]!, lines.y[q]!);
  const message = `The outline is open: between ${from} and ${to} a piece of ${text(gap)} is missing. Close it there.`;
  return [
    finding('outline-open', 'error', message, {
      value: gap,
      limit: context.snap * context.frame.scale,
      at: [
        [lines.x[p]!, lines.y[p]!],
        [lines.x[q]!, lines.y[q]!],
      ],
    }),
  ];
}

/** Creases that end in the middle of a panel: folds cannot, marks may. */
export function danglingCreases(sheet: Sheet): Finding[] {
  const found: Finding[] = [];
  const marks: number[] = [];
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
    const { frame } = sheet;
    const where = `(${text(frame.x + frame.scale * place[0])}, ${text(frame.y + frame.scale * place[1])})`;
    const message =
      kind === 'unassigned'
        ? `An undecided crease ends at ${where} in the middle of a panel, so it stays flat.`
        : `A ${kind} ends at ${where} in the middle of a panel and cannot fold: draw it on to the next crease or to the edge.`;
    const severity = kind === 'unassigned' ? 'warning' : 'error';
    found.push(
      finding('crease-dangling', severity, message, { vertices: [v], creases: [crease], at: [place] }),
    );
  }
  if (marks.length > 0) {
    const message = `${marks.length === 1 ? 'A mark ends' : `${marks.length} marks end`} in the middle of a panel.`;
    const creases = marks.map((v) => creasesAround(sheet, v)[0]! >> 1);
    const at = marks.map((v) => [sheet.vertexX[v]!, sheet.vertexY[v]!] as const);
    found.push(finding('crease-dangling', 'note', message, { vertices: marks, creases, at }));
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
  const message = `Cuts part the paper into ${area.size} pieces: a model is folded from one sheet. Shorten the cut that runs all the way.`;
  return [finding('sheet-disconnected', 'error', message, { value: area.size, limit: 1, panels })];
}
