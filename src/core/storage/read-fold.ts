/** Reads the open JSON interchange standard for folded structures (FOLD 1.2). */
import { type Finding, finding } from '../finding/finding.ts';
import type { FilePlace } from '../finding/values/place.ts';
import { FILE_ROUNDING } from '../numeric/tolerance.ts';
import { sheetFromGraph } from '../sheet/from-graph.ts';
import type { LineKind } from '../sheet/kind.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { STROKE_LIMIT } from './limits.ts';
import { checkNumber, refusal, shownIn, unreadable } from './refusal.ts';

type Frame = Readonly<Record<string, unknown>>;

interface FoldFile {
  readonly sheet: Sheet | null;
  readonly title: string;
  /** Length of the file's unit in mm, or null where the file does not say. */
  readonly millimetres: number | null;
  readonly findings: Finding[];
}

const kindOfAssignment: Readonly<Record<string, LineKind>> = {
  B: 'edge',
  M: 'mountain',
  V: 'valley',
  F: 'flat',
  J: 'flat',
  U: 'unassigned',
  C: 'cut',
};

const millimetresOfUnit: Readonly<Record<string, number>> = {
  in: 25.4,
  pt: 25.4 / 72,
  m: 1000,
  cm: 10,
  mm: 1,
  um: 1e-3,
  nm: 1e-6,
};

export function looksLikeFold(value: unknown): boolean {
  const keys = ['vertices_coords', 'edges_vertices', 'file_frames', 'file_spec'];
  return isRecord(value) && keys.some((key) => key in value);
}

/**
 * Reads the flat pattern of a FOLD object: the first frame whose vertices all lie in the plane, a frame that calls
 * itself a crease pattern before others. Vertex, edge and face numbers are kept. Throws a Refusal for data that
 * does not fit together.
 */
export function readFold(value: unknown): FoldFile {
  if (!isRecord(value)) throw unreadable({ how: 'fold-object' });
  const frame = flatFrame(value);
  const vertices = readVertices(frame);
  const edges = readEdges(frame, vertices.length);
  const faces = readFaces(frame, vertices.length);
  const findings: Finding[] = [];
  const { kinds, angles } = readFolds(frame, edges, faces, findings);
  const built = sheetFromGraph({ vertices, edges, kinds, angles, ...(faces ? { faces } : {}) });
  const title = [frame.frame_title, value.file_title].find((text) => typeof text === 'string' && text !== '');
  const unit = typeof frame.frame_unit === 'string' ? frame.frame_unit : '';
  return {
    sheet: built.sheet,
    title: (title as string | undefined) ?? '',
    millimetres: millimetresOfUnit[unit] ?? null,
    findings: [...findings, ...built.findings],
  };
}

/** The frames of a file in order, inherited entries filled in; the file itself is the first. */
function framesOf(file: Frame): Frame[] {
  const listed = Array.isArray(file.file_frames) ? file.file_frames.filter(isRecord) : [];
  const frames: Frame[] = [file, ...listed];
  const whole = new Map<number, Frame>();
  const resolve = (index: number): Frame => {
    const chain: number[] = [];
    for (let at = index; !whole.has(at); ) {
      if (chain.includes(at)) throw unreadable({ how: 'fold-frame-itself', frame: at });
      chain.push(at);
      const frame = frames[at]!;
      if (at === 0 || frame.frame_inherit !== true) break;
      const parent = frame.frame_parent ?? 0;
      if (typeof parent !== 'number' || !frames[parent]) {
        throw unreadable({ how: 'fold-frame-missing', frame: at, parent: shownIn(parent) });
      }
      at = parent;
    }
    for (const at of chain.reverse()) {
      const frame = frames[at]!;
      const parent =
        at > 0 && frame.frame_inherit === true
          ? whole.get((frame.frame_parent as number | undefined) ?? 0)
          : {};
      whole.set(at, { ...parent, ...frame });
    }
    return whole.get(index)!;
  };
  return frames.map((_, index) => resolve(index));
}

function flatFrame(file: Frame): Frame {
  const frames = framesOf(file).filter((frame) => Array.isArray(frame.vertices_coords));
  if (frames.length === 0) throw unreadable({ how: 'fold-no-coords' });
  const pattern = (frame: Frame) =>
    Array.isArray(frame.frame_classes) && frame.frame_classes.includes('creasePattern');
  const flat = frames.filter(isFlat);
  const chosen = flat.find(pattern) ?? flat[0];
  if (!chosen) throw unreadable({ how: 'fold-folded' });
  return chosen;
}

/** Are all third coordinates equal to within rounding of the file's numbers? */
function isFlat(frame: Frame): boolean {
  const points = frame.vertices_coords as readonly unknown[];
  let size = 0;
  let depth = 0;
  for (const point of points) {
    if (!Array.isArray(point)) continue;
    size = Math.max(size, sizeOf(point[0]), sizeOf(point[1]));
    depth = Math.max(depth, sizeOf(point[2]));
  }
  return !(depth > FILE_ROUNDING * size);
}

/** Size of a number, 0 for anything else: whatever is no number is refused later. */
function sizeOf(value: unknown): number {
  return typeof value === 'number' ? Math.abs(value) : 0;
}

function readVertices(frame: Frame): [number, number][] {
  const list = frame.vertices_coords as readonly unknown[];
  limit(list.length, 'vertices');
  return list.map((point, index) => {
    const place = entry('vertices_coords', index);
    if (!Array.isArray(point) || point.length < 2) throw unreadable({ how: 'fold-point', place });
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
  const kind = typeof letter === 'string' ? kindOfAssignment[letter.toUpperCase()] : undefined;
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
