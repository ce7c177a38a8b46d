/** From the loose strokes of a drawing, in any order and not quite exact, to a sheet. */
import type { Finding } from '../finding/finding.ts';
import { finding } from '../finding/finding.ts';
import { hullPerimeter } from '../numeric/plane.ts';
import { SNAP } from '../numeric/tolerance.ts';
import type { Arrangement, Strokes } from './arrange.ts';
import { arrange } from './arrange.ts';
import { assembleSheet } from './assemble.ts';
import { type BuildContext, placeOfStroke, sheetPlace } from './build-context.ts';
import {
  danglingCreases,
  disconnectedPaper,
  openOutline,
  reportOverlaps,
  reportShortStrokes,
  reportSnaps,
} from './build-findings.ts';
import { KIND, lineKinds } from './kind.ts';
import { findPaper, outerBoundary } from './paper.ts';
import type { Faces } from './rings.ts';
import { facesOf } from './rings.ts';
import type { Segment } from './segment.ts';
import type { Sheet } from './sheet.ts';
import { NONE } from './sheet.ts';
import type { Lines } from './straighten.ts';
import { joinStraightLines } from './straighten.ts';

interface BuildOptions {
  /** Ends nearer than this become one vertex; sheet units, SNAP where left out. */
  readonly snap?: number;
}

interface Built {
  /** Null when no paper could be found; a finding then says why. */
  readonly sheet: Sheet | null;
  readonly findings: Finding[];
  /** For each crease the index of the segment that it came from. */
  readonly segmentOfCrease: Int32Array;
}

/** More strokes than this are refused at once. */
const MOST_SEGMENTS = 1_000_000;

/** More crossings than this are refused: no fold pattern has them, and memory would run out. */
const MOST_CROSSINGS = 3_000_000;

/** Coordinates beyond this size overflow when squared. */
const LARGEST_NUMBER = 1e100;

/**
 * Builds the sheet of a drawing: snaps ends, splits at crossings, joins repeats, finds the outline, trims what lies
 * off the paper, takes out needless points, and reports all of it. Runs in n log n for drawings whose lines are
 * short against the sheet.
 * @param segments strokes in the drawing's own unit, y up, in any order
 */
export function buildSheet(segments: readonly Segment[], options: BuildOptions = {}): Built {
  const refuse = (...findings: Finding[]): Built => ({
    sheet: null,
    findings,
    segmentOfCrease: new Int32Array(0),
  });
  if (segments.length === 0) {
    return refuse(finding('sheet-empty', 'error', { how: 'no-lines' }));
  }
  if (segments.length > MOST_SEGMENTS) {
    const facts = { value: segments.length, limit: MOST_SEGMENTS };
    const told = { how: 'lines', count: facts.value, most: facts.limit } as const;
    return refuse(finding('file-too-large', 'error', told, facts));
  }
  const bad = segments.findIndex((s) => !isUsable(s));
  if (bad >= 0) return refuse(invalidNumber(segments[bad]!, bad));
  const frame = frameOf(segments);
  if (frame.scale === 0) {
    return refuse(finding('sheet-empty', 'error', { how: 'points-only' }));
  }
  const strokes = toStrokes(segments, frame);
  // a quarter of the hull is the side of a square sheet, and does not change when the sheet is turned
  const snap = (options.snap ?? SNAP) * sizeOf(strokes);
  const arrangement = arrange(strokes, snap, MOST_CROSSINGS);
  if (!arrangement.complete) {
    const limit = MOST_CROSSINGS;
    return refuse(finding('file-too-large', 'error', { how: 'crossings', most: limit }, { limit }));
  }
  return finish(segments, strokes, arrangement, frame, snap);
}

function finish(
  segments: readonly Segment[],
  strokes: Strokes,
  arrangement: Arrangement,
  frame: Sheet['frame'],
  snap: number,
): Built {
  const context: BuildContext = { segments, strokes, arrangement, frame, snap };
  const { x, y, from, to, stroke } = arrangement;
  const kind = Uint8Array.from(stroke, (s) => strokes.kind[s]!);
  const angle = Float64Array.from(stroke, (s) => strokes.angle[s]!);
  const lines: Lines = { x, y, from, to, kind, angle, stroke };
  const faces = facesOf(lines);
  const early: Finding[] = [];
  if (!kind.includes(KIND.edge)) early.push(declareOutline(faces, kind, angle));
  const paper = findPaper(lines, faces, kind);
  if (paper.regions === 0) {
    const failed = [...early.filter((f) => f.severity === 'error'), ...openOutline(context, lines)];
    return { sheet: null, findings: failed.slice(0, 1), segmentOfCrease: new Int32Array(0) };
  }
  if (paper.regions > 1) early.push(severalOutlines(paper.regions));
  const onPaper = (e: number) => paper.isPaper[faces.face[2 * e]!]! + paper.isPaper[faces.face[2 * e + 1]!]!;
  const slits = from.length === 0 ? 0 : rawEdgesInside(kind, onPaper);
  if (slits > 0) early.push(slitNote(slits));
  const kept = joinStraightLines(keepLines(lines, (e) => onPaper(e) > 0));
  const { net, vertexOfPoint } = dropUnusedPoints(kept);
  const sheet = assembleSheet(net, kept.kind, kept.angle, frame);
  if (sheet === null) return { sheet, findings: openOutline(context, lines), segmentOfCrease: kept.stroke };
  const findings = [
    ...early,
    ...strayLines(context, lines, sheet, onPaper),
    ...reportShortStrokes(context, sheet),
    ...reportOverlaps(context, sheet, vertexOfPoint),
    ...reportSnaps(context, sheet, vertexOfPoint),
    ...danglingCreases(sheet),
    ...disconnectedPaper(sheet),
  ];
  return { sheet, findings, segmentOfCrease: kept.stroke };
}

function isUsable(s: Segment): boolean {
  return [s.x1, s.y1, s.x2, s.y2].every((c) => Math.abs(c) <= LARGEST_NUMBER) && !Number.isNaN(s.angle ?? 0);
}

function invalidNumber(segment: Segment, index: number): Finding {
  const place = segment.source ?? ({ how: 'stroke', index } as const);
  return finding('number-invalid', 'error', { how: 'of-line', place }, { value: index });
}

/** The box of the raw edges, or of everything where there are none, to bring coordinates near 0..1. */
function frameOf(segments: readonly Segment[]): Sheet['frame'] {
  const edges = segments.filter((s) => s.kind === 'edge');
  let [left, bottom, right, top] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const s of edges.length > 0 ? edges : segments) {
    left = Math.min(left, s.x1, s.x2);
    right = Math.max(right, s.x1, s.x2);
    bottom = Math.min(bottom, s.y1, s.y2);
    top = Math.max(top, s.y1, s.y2);
  }
  return { x: left, y: bottom, scale: Math.max(right - left, top - bottom) };
}

function toStrokes(segments: readonly Segment[], frame: Sheet['frame']): Strokes {
  const pick = (read: (s: Segment) => number) => Float64Array.from(segments, read);
  const place = (value: number, start: number) => {
    const inside = (value - start) / frame.scale;
    // products of such numbers would underflow, and exact predicates with them
    return Math.abs(inside) < 1e-30 ? 0 : inside;
  };
  return {
    x1: pick((s) => place(s.x1, frame.x)),
    y1: pick((s) => place(s.y1, frame.y)),
    x2: pick((s) => place(s.x2, frame.x)),
    y2: pick((s) => place(s.y2, frame.y)),
    kind: Uint8Array.from(segments, (s) => KIND[s.kind]),
    angle: pick((s) => (s.kind === 'edge' || s.kind === 'cut' ? Number.NaN : (s.angle ?? Number.NaN))),
  };
}

/** A quarter of the hull of the raw edges (of everything where there are none). */
function sizeOf(strokes: Strokes): number {
  const hasEdges = strokes.kind.includes(KIND.edge);
  const px: number[] = [];
  const py: number[] = [];
  for (let i = 0; i < strokes.kind.length; i++) {
    if (hasEdges && strokes.kind[i] !== KIND.edge) continue;
    px.push(strokes.x1[i]!, strokes.x2[i]!);
    py.push(strokes.y1[i]!, strokes.y2[i]!);
  }
  return hullPerimeter(Float64Array.from(px), Float64Array.from(py)) / 4;
}

/** Turns the outer boundary of a drawing without raw edges into raw edges, and says so. */
function declareOutline(faces: Faces, kind: Uint8Array, angle: Float64Array): Finding {
  const boundary = outerBoundary(faces);
  for (const e of boundary) {
    kind[e] = KIND.edge;
    angle[e] = Number.NaN;
  }
  return boundary.length > 0
    ? finding('outline-missing', 'note', { how: 'taken-in-drawing' })
    : finding('outline-missing', 'error', { how: 'none' });
}

function severalOutlines(regions: number): Finding {
  const told = { how: 'largest-taken', count: regions } as const;
  return finding('outline-several', 'error', told, { value: regions, limit: 1 });
}

/** Raw edges with paper on both sides part the paper without a gap: they are cuts. */
function rawEdgesInside(kind: Uint8Array, onPaper: (e: number) => number): number {
  let count = 0;
  for (let e = 0; e < kind.length; e++) {
    if (kind[e] !== KIND.edge || onPaper(e) !== 2) continue;
    kind[e] = KIND.cut;
    count++;
  }
  return count;
}

function slitNote(count: number): Finding {
  return finding('outline-several', 'note', { how: 'cuts', count }, { value: count });
}

function keepLines(lines: Lines, keep: (e: number) => boolean): Lines {
  const chosen = Int32Array.from(lines.from.keys()).filter(keep);
  return {
    x: lines.x,
    y: lines.y,
    from: chosen.map((e) => lines.from[e]!),
    to: chosen.map((e) => lines.to[e]!),
    kind: Uint8Array.from(chosen, (e) => lines.kind[e]!),
    angle: Float64Array.from(chosen, (e) => lines.angle[e]!),
    stroke: chosen.map((e) => lines.stroke[e]!),
  };
}

/** Renumbers points so that only those with lines are left, in order of first use. */
function dropUnusedPoints(lines: Lines) {
  const vertexOfPoint = new Int32Array(lines.x.length).fill(NONE);
  const points: number[] = [];
  for (let e = 0; e < lines.from.length; e++) {
    for (const p of [lines.from[e]!, lines.to[e]!]) {
      if (vertexOfPoint[p] !== NONE) continue;
      vertexOfPoint[p] = points.length;
      points.push(p);
    }
  }
  const net = {
    x: Float64Array.from(points, (p) => lines.x[p]!),
    y: Float64Array.from(points, (p) => lines.y[p]!),
    from: lines.from.map((p) => vertexOfPoint[p]!),
    to: lines.to.map((p) => vertexOfPoint[p]!),
  };
  return { net, vertexOfPoint };
}

/** Strokes that lie off the paper in part or altogether. */
function strayLines(
  context: BuildContext,
  lines: Lines,
  sheet: Sheet,
  onPaper: (e: number) => number,
): Finding[] {
  const off = new Map<number, [number, number]>();
  const on = new Set<number>();
  for (let e = 0; e < lines.from.length; e++) {
    const s = lines.stroke[e]!;
    if (onPaper(e) > 0) on.add(s);
    else if (!off.has(s)) {
      const [a, b] = [lines.from[e]!, lines.to[e]!];
      off.set(
        s,
        sheetPlace(context, sheet, (lines.x[a]! + lines.x[b]!) / 2, (lines.y[a]! + lines.y[b]!) / 2),
      );
    }
  }
  const trimmed = [...off.keys()].filter((s) => on.has(s));
  const gone = [...off.keys()].filter((s) => !on.has(s));
  const report = (how: 'cut-off' | 'left-out', strokes: number[]): Finding[] => {
    const [first] = strokes;
    if (first === undefined) return [];
    const told = { count: strokes.length, first: placeOfStroke(context.segments, first) };
    const facts = { value: strokes.length, limit: 0, at: strokes.map((s) => off.get(s)!) };
    const values = how === 'cut-off' ? { how, ...told } : { how, ...told, kind: ofWhat(context, first) };
    return [finding('crease-outside', 'warning', values, facts)];
  };
  return [...report('cut-off', trimmed), ...report('left-out', gone)];
}

function ofWhat(context: BuildContext, stroke: number): 'crease' | 'edge' | 'cut' {
  const kind = lineKinds[context.strokes.kind[stroke]!];
  return kind === 'edge' || kind === 'cut' ? kind : 'crease';
}
