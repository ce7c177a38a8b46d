/** Reads the open JSON interchange standard for folded structures (FOLD 1.2). */
import { type Finding, finding } from '../finding/finding.ts';
import type { FilePlace } from '../finding/values/place.ts';
import { LEVEL } from '../numeric/tolerance.ts';
import { sheetFromGraph } from '../sheet/from-graph.ts';
import { KIND, type LineKind } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { STROKE_LIMIT } from './limits.ts';
import { checkNumber, Refusal, refusal, shownIn, unreadable } from './refusal.ts';

type Frame = Readonly<Record<string, unknown>>;

interface FoldFile {
  readonly sheet: Sheet;
  readonly title: string;
  /** Length of the file's unit in mm, or null where the file does not say. */
  readonly millimetres: number | null;
  readonly findings: Finding[];
}

/** Letters of `edges_assignment`. */
const kindOfAssignment: ReadonlyMap<unknown, LineKind> = new Map([
  ['B', 'edge'],
  ['M', 'mountain'],
  ['V', 'valley'],
  ['F', 'flat'],
  ['J', 'flat'],
  ['U', 'unassigned'],
  ['C', 'cut'],
]);

/** Words of `frame_unit` (FOLD 1.2) with their length in mm; "unit" is as good as none. */
const millimetresOfUnit: ReadonlyMap<unknown, number | null> = new Map([
  ['unit', null],
  ['in', 25.4],
  ['pt', 25.4 / 72],
  ['m', 1000],
  ['cm', 10],
  ['mm', 1],
  ['um', 1e-3],
  ['nm', 1e-6],
]);

export function looksLikeFold(value: unknown): boolean {
  const keys = ['vertices_coords', 'edges_vertices', 'file_frames', 'file_spec'];
  return isRecord(value) && keys.some((key) => Object.hasOwn(value, key));
}

/**
 * Reads the flat pattern of a FOLD object: the first frame whose vertices all lie in one plane, a frame that calls
 * itself a crease pattern before others. Vertex, edge and face numbers are kept. Throws a Refusal for data that
 * does not fit together, and for a shape that is folded flat.
 */
export function readFold(value: unknown): FoldFile {
  if (!isRecord(value)) throw unreadable({ how: 'fold-object' });
  const frame = flatFrame(value);
  const vertices = readVertices(frame);
  const edges = readEdges(frame, vertices.length);
  const faces = readFaces(frame, vertices.length);
  const findings: Finding[] = [];
  const { kinds, angles } = readFolds(frame, edges, faces, findings);
  const millimetres = readUnit(frame);
  const built = sheetFromGraph({ vertices, edges, kinds, angles, ...(faces ? { faces } : {}) });
  if (saysOf(frame, 'foldedForm') && liesFolded(built, kinds)) throw unreadable({ how: 'fold-folded' });
  const title = [frame.frame_title, value.file_title].find((text) => typeof text === 'string' && text !== '');
  return {
    sheet: built.sheet ?? refuse(built.findings),
    title: (title as string | undefined) ?? '',
    millimetres,
    findings: [...findings, ...built.findings],
  };
}

/** Throws a Refusal with the error that keeps lines from being a sheet; notes beside it are no reason. */
function refuse(findings: readonly Finding[]): never {
  const reason = findings.find(({ severity }) => severity === 'error');
  throw reason ? new Refusal(reason) : refusal('sheet-empty', { how: 'no-edges' });
}

/**
 * Does a frame that calls itself a folded form lie folded flat? Then its lines cover each other, or folds lie on its
 * rim, or raw edges inside. Programs write the same word for a shape that is not folded yet.
 */
function liesFolded(built: ReturnType<typeof sheetFromGraph>, kinds: readonly LineKind[]): boolean {
  const { sheet, findings } = built;
  if (!sheet || findings.some(({ code }) => code === 'crease-overlap')) return true;
  return kinds.some((kind, edge) => {
    if (kind === 'edge') return sheet.creaseKind[edge] !== KIND.edge;
    const onRim = [2 * edge, 2 * edge + 1].some((half) => sheet.halfEdgePanel[half] === NONE);
    return onRim && (kind === 'mountain' || kind === 'valley');
  });
}

function readUnit(frame: Frame): number | null {
  const unit = frame.frame_unit ?? 'unit';
  const millimetres = millimetresOfUnit.get(unit);
  if (millimetres !== undefined) return millimetres;
  throw unreadable({
    how: 'fold-unit',
    shown: shownIn(unit),
    units: [...millimetresOfUnit.keys()].map(String),
  });
}

/** What is read of a frame, and so what it inherits. */
const readEntries = [
  'frame_classes',
  'frame_title',
  'frame_unit',
  'vertices_coords',
  'edges_vertices',
  'edges_assignment',
  'edges_foldAngle',
  'faces_vertices',
];

/** The frames of a file in order, inherited entries filled in; the file itself is the first. */
function framesOf(file: Frame): Frame[] {
  const frames = [file, ...listedFrames(file)];
  const whole = new Map<number, Frame>();
  const inherits = (at: number) => at > 0 && frames[at]!.frame_inherit === true;
  const resolve = (index: number): Frame => {
    const heirs = new Set<number>();
    let at = index;
    for (; !whole.has(at) && inherits(at); at = parentOf(frames, at)) {
      if (heirs.has(at)) throw unreadable({ how: 'fold-frame-itself', frame: at });
      heirs.add(at);
    }
    let frame = whole.get(at) ?? entriesOf(frames[at]!, {});
    for (const heir of [at, ...[...heirs].reverse()]) {
      if (heir !== at) frame = entriesOf(frames[heir]!, frame);
      whole.set(heir, frame);
    }
    return frame;
  };
  return frames.map((_, index) => resolve(index));
}

function listedFrames(file: Frame): Frame[] {
  const list = file.file_frames ?? [];
  if (!Array.isArray(list)) throw unreadable({ how: 'fold-no-list', list: 'file_frames' });
  const place = list.findIndex((frame) => !isRecord(frame));
  if (place >= 0) throw unreadable({ how: 'fold-frame', place: entry('file_frames', place) });
  return list;
}

function parentOf(frames: readonly Frame[], at: number): number {
  const parent = frames[at]!.frame_parent ?? 0;
  if (typeof parent === 'number' && frames[parent]) return parent;
  throw unreadable({ how: 'fold-frame-missing', frame: at, parent: shownIn(parent) });
}

/** The entries of a frame, those that it lacks taken from its parent. */
function entriesOf(frame: Frame, parent: Frame): Frame {
  const own = readEntries.map((name) => [name, Object.hasOwn(frame, name) ? frame[name] : parent[name]]);
  return Object.fromEntries(own);
}

const saysOf = (frame: Frame, word: string): boolean =>
  Array.isArray(frame.frame_classes) && frame.frame_classes.includes(word);

/** The frame to read: a crease pattern, else what calls itself nothing, else what is called folded but lies flat. */
function flatFrame(file: Frame): Frame {
  const frames = framesOf(file).filter((frame) => Array.isArray(frame.vertices_coords));
  if (frames.length === 0) throw unreadable({ how: 'fold-no-coords' });
  const flatLists = new Map<unknown, boolean>();
  const flat = frames.filter(({ vertices_coords: list }) => {
    if (!flatLists.has(list)) flatLists.set(list, isFlat(list as readonly unknown[]));
    return flatLists.get(list);
  });
  const chosen =
    flat.find((frame) => saysOf(frame, 'creasePattern')) ??
    flat.find((frame) => !saysOf(frame, 'foldedForm')) ??
    flat[0];
  if (!chosen) throw unreadable({ how: 'fold-folded' });
  return chosen;
}

/** Do all points lie at one height, dust beside the size of the pattern excepted? */
function isFlat(points: readonly unknown[]): boolean {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (const point of points) {
    if (!Array.isArray(point)) continue;
    for (const axis of [0, 1, 2]) {
      const value = typeof point[axis] === 'number' ? point[axis] : 0;
      low[axis] = Math.min(low[axis]!, value);
      high[axis] = Math.max(high[axis]!, value);
    }
  }
  const [width, length, depth] = high.map((value, axis) => value - low[axis]!);
  return !(depth! > LEVEL * Math.max(width!, length!));
}

function readVertices(frame: Frame): [number, number][] {
  const list = frame.vertices_coords as readonly unknown[];
  limit(list.length, 'vertices');
  return list.map((point, index) => {
    const place = entry('vertices_coords', index);
    if (!Array.isArray(point) || point.length < 2 || point.length > 3) {
      throw unreadable({ how: 'fold-point', place });
    }
    if (point.length === 3) checkNumber(point[2], place);
    return [checkNumber(point[0], place), checkNumber(point[1], place)];
  });
}

function readEdges(frame: Frame, vertices: number): [number, number][] {
  const list = frame.edges_vertices;
  if (!Array.isArray(list) || list.length === 0) {
    throw refusal('sheet-empty', { how: 'no-edges-vertices' });
  }
  limit(list.length, 'edges');
  return list.map((edge, index) => {
    const place = entry('edges_vertices', index);
    if (!Array.isArray(edge) || edge.length !== 2) throw unreadable({ how: 'fold-edge', place });
    return [checkIndex(edge[0], vertices, place), checkIndex(edge[1], vertices, place)];
  });
}

function readFaces(frame: Frame, vertices: number): number[][] | undefined {
  const list = frame.faces_vertices;
  if (!Array.isArray(list) || list.length === 0) return undefined;
  limit(list.length, 'faces');
  return list.map((face, index) => {
    const place = entry('faces_vertices', index);
    if (!Array.isArray(face) || face.length < 3) throw unreadable({ how: 'fold-face', place });
    return face.map((vertex) => checkIndex(vertex, vertices, place));
  });
}

/** Kinds, and finished angles in radians (NaN where there is none), of all edges. */
function readFolds(
  frame: Frame,
  edges: readonly (readonly [number, number])[],
  faces: readonly (readonly number[])[] | undefined,
  findings: Finding[],
): { kinds: LineKind[]; angles: number[] } {
  const letters = listOf(frame, 'edges_assignment', edges.length);
  const degrees = listOf(frame, 'edges_foldAngle', edges.length);
  const onRim = letters ? null : rimByFaces(edges, faces);
  const kinds: LineKind[] = [];
  const angles: number[] = [];
  let assumed = 0;
  let contradicting = 0;
  edges.forEach((_, edge) => {
    let kind: LineKind = letters ? kindOfLetter(letters[edge], edge) : onRim?.[edge] ? 'edge' : 'unassigned';
    let angle = Number.NaN;
    const given = degrees?.[edge];
    if (degrees && given !== null && given !== undefined) {
      const place = entry('edges_foldAngle', edge);
      const value = checkNumber(given, place);
      if (Math.abs(value) > 180) throw refusal('number-invalid', { how: 'angle', place, angle: value });
      if (kind !== 'edge' && kind !== 'cut') {
        angle = (value * Math.PI) / 180;
        const told = value > 0 ? 'valley' : value < 0 ? 'mountain' : letters ? kind : 'flat';
        if (kind !== told && kind !== 'unassigned') contradicting++;
        if (kind !== 'unassigned' || !letters) kind = told;
      }
    } else if (kind === 'mountain' || kind === 'valley') {
      angle = kind === 'valley' ? Math.PI : -Math.PI;
      assumed++;
    } else if (kind === 'flat') angle = 0;
    kinds.push(kind);
    angles.push(angle);
  });
  if (assumed > 0)
    findings.push(finding('angle-assumed', 'note', { how: 'edges', count: assumed }, { value: assumed }));
  if (contradicting > 0) {
    const values = { how: 'in-file', count: contradicting } as const;
    findings.push(finding('kind-flipped', 'warning', values, { value: contradicting }));
  }
  return { kinds, angles };
}

function kindOfLetter(letter: unknown, edge: number): LineKind {
  const kind = typeof letter === 'string' ? kindOfAssignment.get(letter.toUpperCase()) : undefined;
  if (kind) return kind;
  const place = entry('edges_assignment', edge);
  throw unreadable({ how: 'fold-letter', place, shown: shownIn(letter) });
}

/** Without assignments: an edge of exactly one face is a raw edge. Null when there are no faces either. */
function rimByFaces(
  edges: readonly (readonly [number, number])[],
  faces: readonly (readonly number[])[] | undefined,
): boolean[] | null {
  if (!faces) return null;
  const key = (a: number, b: number) => `${Math.min(a, b)} ${Math.max(a, b)}`;
  const count = new Map<string, number>();
  for (const face of faces) {
    face.forEach((vertex, i) => {
      const pair = key(vertex, face[(i + 1) % face.length]!);
      count.set(pair, (count.get(pair) ?? 0) + 1);
    });
  }
  return edges.map(([a, b]) => count.get(key(a, b)) === 1);
}

function listOf(frame: Frame, name: string, length: number): readonly unknown[] | null {
  const list = frame[name];
  if (list === undefined || list === null) return null;
  if (!Array.isArray(list)) throw unreadable({ how: 'fold-no-list', list: name });
  if (list.length !== length)
    throw unreadable({ how: 'fold-list-length', list: name, length: list.length, edges: length });
  return list;
}

function checkIndex(value: unknown, count: number, place: FilePlace): number {
  if (typeof value === 'number' && Number.isInteger(value) && value >= 0 && value < count) return value;
  throw unreadable({ how: 'fold-index', place, shown: shownIn(value), most: count - 1 });
}

function limit(count: number, of: 'vertices' | 'edges' | 'faces'): void {
  if (count <= STROKE_LIMIT) return;
  const facts = { value: count, limit: STROKE_LIMIT };
  throw refusal('file-too-large', { how: 'fold', of, count, most: STROKE_LIMIT }, facts);
}

const entry = (list: string, at: number): FilePlace => ({ how: 'entry', list, entry: at });

function isRecord(value: unknown): value is Frame {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
