/** From a graph that is given as such (vertices, edges, faces) to a sheet that keeps its numbering. */
import Flatbush from 'flatbush';
import type { Finding } from '../finding/finding.ts';
import { finding } from '../finding/finding.ts';
import type { GraphClash } from '../finding/values/sheet.ts';
import type { FindingValues } from '../finding/values.ts';
import { cross, isOn } from '../numeric/predicates.ts';
import { assembleSheet, boxOfLines } from './assemble.ts';
import { buildSheet } from './build.ts';
import { danglingCreases, disconnectedPaper } from './build-findings.ts';
import type { LineKind } from './kind.ts';
import { KIND } from './kind.ts';
import { findPaper, outerBoundary } from './paper.ts';
import type { Net } from './rings.ts';
import { facesOf } from './rings.ts';
import type { Sheet } from './sheet.ts';
import { NONE } from './sheet.ts';

export interface Graph {
  readonly vertices: readonly (readonly [number, number])[];
  readonly edges: readonly (readonly [number, number])[];
  readonly kinds: readonly LineKind[];
  /** Finished fold angles, radians, valley positive; NaN where none is given. */
  readonly angles: readonly number[];
  /** Vertices round each face. */
  readonly faces?: readonly (readonly number[])[];
}

/**
 * Makes the sheet of a graph. Vertices, edges and (where they fit) faces keep their numbers. A graph whose edges
 * cross, overlap or repeat is built anew from its lines, with numbers of its own, and a warning says so.
 */
export function sheetFromGraph(graph: Graph): { sheet: Sheet | null; findings: Finding[] } {
  const trouble = invalidGraph(graph);
  if (trouble !== null) return { sheet: null, findings: [trouble] };
  const raw: Net = {
    x: Float64Array.from(graph.vertices, (v) => v[0]),
    y: Float64Array.from(graph.vertices, (v) => v[1]),
    from: Int32Array.from(graph.edges, (e) => e[0]),
    to: Int32Array.from(graph.edges, (e) => e[1]),
  };
  const box = boxOfLines(raw, () => true);
  if (box.size === 0) return rebuilt(graph, { how: 'one-place' });
  const net: Net = {
    ...raw,
    x: raw.x.map((x) => (x - box.x) / box.size),
    y: raw.y.map((y) => (y - box.y) / box.size),
  };
  const clash = firstClash(net);
  if (clash !== null) return rebuilt(graph, clash);
  const kind = Uint8Array.from(graph.kinds, (k) => KIND[k]);
  const angle = Float64Array.from(graph.angles, (a, e) =>
    kind[e] === KIND.edge || kind[e] === KIND.cut ? Number.NaN : a,
  );
  const early: Finding[] = [];
  const faces = facesOf(net);
  if (!kind.includes(KIND.edge)) {
    for (const e of outerBoundary(faces)) {
      kind[e] = KIND.edge;
      angle[e] = Number.NaN;
    }
    early.push(finding('outline-missing', 'note', { how: 'taken-in-file' }));
  }
  const paper = findPaper(net, faces, kind);
  if (paper.regions !== 1) return rebuilt(graph, { how: 'several-sheets', count: paper.regions });
  for (let e = 0; e < kind.length; e++) {
    const left = paper.isPaper[faces.face[2 * e]!] === 1;
    const right = paper.isPaper[faces.face[2 * e + 1]!] === 1;
    if (!left && !right) return rebuilt(graph, { how: 'off-paper', edge: e });
    if (left && right && kind[e] === KIND.edge) kind[e] = KIND.cut;
  }
  const sheet = assembleSheet(net, kind, angle, { x: box.x, y: box.y, scale: box.size });
  if (sheet === null) return rebuilt(graph, { how: 'no-paper' });
  const ordered = numberPanelsAs(sheet, graph, early);
  return { sheet: ordered, findings: [...early, ...danglingCreases(ordered), ...disconnectedPaper(ordered)] };
}

function invalidGraph(graph: Graph): Finding | null {
  const wrong = (values: FindingValues['number-invalid']) => finding('number-invalid', 'error', values);
  const { vertices, edges, kinds, angles } = graph;
  if (edges.length === 0) return finding('sheet-empty', 'error', { how: 'no-edges' });
  if (kinds.length !== edges.length || angles.length !== edges.length) {
    const lengths = { edges: edges.length, kinds: kinds.length, angles: angles.length };
    return wrong({ how: 'lists-differ', ...lengths });
  }
  const vertex = vertices.findIndex((v) => !(Math.abs(v[0]) <= 1e100 && Math.abs(v[1]) <= 1e100));
  if (vertex >= 0) return wrong({ how: 'of-vertex', vertex });
  const edge = edges.findIndex((e) => !e.every((v) => Number.isInteger(v) && v >= 0 && v < vertices.length));
  if (edge >= 0) return wrong({ how: 'vertex-missing', edge, vertices: vertices.length });
  return null;
}

/** Says what keeps a graph from being planar as it stands, or null. */
function firstClash(net: Net): GraphClash | null {
  const { x, y, from, to } = net;
  const index = new Flatbush(from.length);
  for (let e = 0; e < from.length; e++) {
    const [a, b] = [from[e]!, to[e]!];
    if (a === b || (x[a] === x[b] && y[a] === y[b])) return { how: 'no-length', edge: e };
    index.add(Math.min(x[a]!, x[b]!), Math.min(y[a]!, y[b]!), Math.max(x[a]!, x[b]!), Math.max(y[a]!, y[b]!));
  }
  index.finish();
  let clash: GraphClash | null = null;
  const on = (line: number, p: number): boolean => {
    const [a, b] = [from[line]!, to[line]!];
    return p !== a && p !== b && isOn(x[a]!, y[a]!, x[b]!, y[b]!, x[p]!, y[p]!);
  };
  for (let e = 0; e < from.length && clash === null; e++) {
    const [a, b] = [from[e]!, to[e]!];
    index.search(
      Math.min(x[a]!, x[b]!),
      Math.min(y[a]!, y[b]!),
      Math.max(x[a]!, x[b]!),
      Math.max(y[a]!, y[b]!),
      (f) => {
        if (f <= e) return false;
        const [c, d] = [from[f]!, to[f]!];
        const meet = on(e, c) || on(e, d) || on(f, a) || on(f, b);
        const same = (a === c && b === d) || (a === d && b === c);
        if (same || meet || cross(x[a]!, y[a]!, x[b]!, y[b]!, x[c]!, y[c]!, x[d]!, y[d]!)) {
          clash = { how: same ? 'same' : 'meet', edges: [e, f] };
        }
        return false;
      },
    );
  }
  return clash;
}

/** Builds the lines of a graph anew, as if drawn. */
function rebuilt(graph: Graph, clash: GraphClash): { sheet: Sheet | null; findings: Finding[] } {
  const segments = graph.edges.map(([a, b], e) => ({
    x1: graph.vertices[a]![0],
    y1: graph.vertices[a]![1],
    x2: graph.vertices[b]![0],
    y2: graph.vertices[b]![1],
    kind: graph.kinds[e]!,
    angle: Number.isNaN(graph.angles[e]!) ? undefined : graph.angles[e]!,
    source: { how: 'edge' as const, index: e },
  }));
  const { sheet, findings } = buildSheet(segments);
  return { sheet, findings: [finding('crease-overlap', 'warning', { how: 'rebuilt', clash }), ...findings] };
}

/** Numbers panels as the file numbers its faces, when each face is one panel. */
function numberPanelsAs(sheet: Sheet, graph: Graph, findings: Finding[]): Sheet {
  if (graph.faces === undefined) return sheet;
  const halfEdge = new Map<number, number>();
  const key = (a: number, b: number) => a * graph.vertices.length + b;
  graph.edges.forEach(([a, b], e) => {
    halfEdge.set(key(a, b), 2 * e);
    halfEdge.set(key(b, a), 2 * e + 1);
  });
  const given = new Int32Array(sheet.panelRings.length).fill(NONE);
  let fits = graph.faces.length === sheet.panelRings.length;
  graph.faces.forEach((face, number) => {
    const panel = fits ? panelOfFace(sheet, face, (a, b) => halfEdge.get(key(a, b))) : NONE;
    if (panel === NONE || given[panel] !== NONE) fits = false;
    else given[panel] = number;
  });
  if (!fits) {
    findings.push(finding('line-ignored', 'note', { how: 'faces' }));
    return sheet;
  }
  const panelRings = sheet.panelRings.slice();
  given.forEach((number, panel) => {
    // a panel begins where its face does
    const [a, b] = graph.faces![number]!;
    const first = halfEdge.get(key(a!, b!));
    const [outer, ...holes] = sheet.panelRings[panel]!;
    const starts = first !== undefined && sheet.halfEdgePanel[first] === panel;
    panelRings[number] = [starts ? first : outer!, ...holes];
  });
  return {
    ...sheet,
    panelRings,
    halfEdgePanel: sheet.halfEdgePanel.map((panel) => (panel === NONE ? NONE : given[panel]!)),
  };
}

/** The panel that has every side of a listed face on its left (or, listed clockwise, on its right); else NONE. */
function panelOfFace(
  sheet: Sheet,
  face: readonly number[],
  find: (a: number, b: number) => number | undefined,
): number {
  const sides = face.map((v, k) => find(v, face[(k + 1) % face.length]!));
  for (const back of [0, 1]) {
    const panels = new Set(sides.map((h) => (h === undefined ? NONE : sheet.halfEdgePanel[h ^ back]!)));
    if (panels.size === 1 && !panels.has(NONE)) return [...panels][0]!;
  }
  return NONE;
}
