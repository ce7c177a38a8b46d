import type { LayerOrder } from '../layer/problem.ts';
import { tidy, tidyDegrees } from '../numeric/tidy.ts';
import { type Placement, vertexPositions } from '../pose/place.ts';
import { kindFolds, lineKinds } from '../sheet/kind.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { halfEdgeOrigin, panelRing } from '../sheet/walk.ts';
import { layOutJson } from './json-layout.ts';

/** A pose to be written: fold angle per crease in radians, and where its panels are. */
interface PoseToWrite {
  readonly angle: Float64Array;
  readonly placement: Placement;
  /** Which panel lies over which, where it is known. */
  readonly order?: LayerOrder;
}

interface FoldFacts {
  readonly title?: string;
  /** Length of the input's unit in mm, if it is known and has a name in the standard. */
  readonly millimetres?: number | null;
}

const letters = { mountain: 'M', valley: 'V', unassigned: 'U', flat: 'F', edge: 'B', cut: 'C' } as const;
const unitNames: readonly (readonly [number, string])[] = [
  [1, 'mm'],
  [10, 'cm'],
  [1000, 'm'],
  [25.4, 'in'],
  [25.4 / 72, 'pt'],
];

/**
 * A FOLD 1.2 file of the pattern, or of a pose: then its own frame holds the folded shape in 3D and the angles of
 * the pose, and a second frame the flat pattern with the finished angles. Coordinates in the input's unit, order of
 * vertices, edges and faces as in the sheet. Panels with holes are written by their outer ring.
 */
export function writeFold(sheet: Sheet, facts: FoldFacts = {}, pose?: PoseToWrite): string {
  const { x, y, scale } = sheet.frame;
  const flat = Array.from(sheet.vertexX, (value, v) => [
    tidy(x + scale * value),
    tidy(y + scale * sheet.vertexY[v]!),
  ]);
  const unit = unitNames.find(([length]) => length === facts.millimetres)?.[1] ?? 'unit';
  const file = {
    file_spec: 1.2,
    file_creator: 'Creaseway',
    file_classes: ['singleModel'],
    file_title: facts.title,
    frame_unit: unit,
    frame_classes: [pose ? 'foldedForm' : 'creasePattern'],
    frame_attributes: [pose ? '3D' : '2D'],
    vertices_coords: pose ? folded(sheet, pose) : flat,
    edges_vertices: Array.from(sheet.creaseFrom, (from, crease) => [from, sheet.creaseTo[crease]!]),
    edges_assignment: Array.from(sheet.creaseKind, (kind) => letters[lineKinds[kind]!]),
    edges_foldAngle: foldAngles(sheet, pose?.angle ?? sheet.creaseAngle),
    faces_vertices: sheet.panelRings.map((rings) =>
      panelRing(sheet, rings[0]!).map((half) => halfEdgeOrigin(sheet, half)),
    ),
    faceOrders: pose?.order && faceOrders(pose.order),
  };
  if (!pose) return layOutJson(file);
  const pattern = {
    frame_parent: 0,
    frame_inherit: true,
    frame_classes: ['creasePattern'],
    frame_attributes: ['2D'],
    vertices_coords: flat,
    edges_foldAngle: foldAngles(sheet, sheet.creaseAngle),
  };
  return layOutJson({ ...file, file_frames: [pattern] });
}

function folded(sheet: Sheet, pose: PoseToWrite): number[][] {
  const { x, y, scale } = sheet.frame;
  const positions = vertexPositions(sheet, pose.placement);
  return Array.from(sheet.vertexX, (_, v) => [
    tidy(x + scale * positions[3 * v]!),
    tidy(y + scale * positions[3 * v + 1]!),
    tidy(scale * positions[3 * v + 2]!),
  ]);
}

function foldAngles(sheet: Sheet, angle: Float64Array): (number | null)[] {
  return Array.from(sheet.creaseKind, (kind, crease) => {
    if (!kindFolds(kind)) return 0;
    const value = angle[crease]!;
    return Number.isNaN(value) ? null : tidyDegrees(value);
  });
}

/** One entry a pair; 0 (not known) for a pair that lies one way in one place and the other way in another. */
function faceOrders(order: LayerOrder): [number, number, number][] {
  const sides = new Map<string, [number, number, number]>();
  for (const [f, g, side] of order) {
    const known = sides.get(`${f},${g}`);
    if (known && known[2] !== side) known[2] = 0;
    else if (!known) sides.set(`${f},${g}`, [f, g, side]);
  }
  return [...sides.values()];
}
