/**
 * True-up: drawings are imprecise, and rigid paper forgives nothing. A drawing on an even grid goes onto that grid
 * (grid.ts). Else it moves vertices as little as possible (least sum
 * of squares) until every corner and hole closes at its finished angles and lines that run straight on through a
 * vertex, outline included, are straight to rounding.
 */
import type { Finding } from '../finding/finding.ts';
import { finding } from '../finding/finding.ts';
import type { StillOff } from '../finding/values/sheet.ts';
import type { FindingValues } from '../finding/values.ts';
import { GIVEN_ANGLES, TRUE } from '../numeric/tolerance.ts';
import { commonGrid, onGrid } from './grid.ts';
import { nearRelations, offUpright, ownDirection, type Relation } from './relations.ts';
import { type Settled, settle } from './settle.ts';
import type { Sheet } from './sheet.ts';
import type { Condition, Conditions } from './true-conditions.ts';
import { trueConditions } from './true-conditions.ts';

interface TruedUp {
  /** The trued sheet with the same numbering; the sheet given when it could not be trued within the limit. */
  readonly sheet: Sheet;
  /** How far the worst vertex moved (or would have to), sheet units. */
  readonly moved: number;
  readonly findings: Finding[];
}

/**
 * Trues a sheet up.
 * @param limit the furthest that a vertex may move, sheet units
 */
export function trueUp(sheet: Sheet, limit: number): TruedUp {
  const conditions = trueConditions(sheet, limit);
  const least = settle(sheet, conditions.must);
  if (conditions.must.length > 0 && least.problem.furthest().moved <= TRUE && least.worst <= TRUE)
    return { sheet, moved: least.problem.furthest().moved, findings: [] };
  const { problem, worst, missed } = withRelations(sheet, conditions, least, limit);

  const { moved, vertex } = problem.furthest();
  const inUnit = moved * sheet.frame.scale;
  const value = { value: moved, limit, vertices: vertex < 0 ? [] : [vertex] };
  const refused = (why: FindingValues['vertex-moved']): TruedUp => ({
    ...{ sheet, moved, findings: [finding('vertex-moved', 'error', why, value)] },
  });
  if (!(worst <= GIVEN_ANGLES)) return refused({ how: 'in-vain' });
  if (moved > limit) return refused({ how: 'too-far', moved: inUnit, limit: limit * sheet.frame.scale });
  if (moved <= TRUE && missed.length === 0) return { sheet, moved, findings: [] };
  const gridded = trueToGrid(sheet, conditions.must, moved, limit);
  if (gridded) return gridded;
  const told = {
    how: 'moved',
    moved: moved > TRUE ? inUnit : null,
    rounding: worst > TRUE ? (worst * 180) / Math.PI : null,
    stillOff: missed,
  } as const;
  return { sheet: problem.result(), moved, findings: [finding('vertex-moved', 'note', told, value)] };
}

/** What the drawing nearly has is looked for within this many times the least movement that makes it fold true. */
const NEARLY_HAS = 2.5;

interface Wished extends Settled {
  /** Relations that do not hold along with the others, each with what it is left with. */
  readonly missed: readonly StillOff[];
}

/** The conditions with all relations that hold along with them within the limit; and those that do not. */
function withRelations(
  sheet: Sheet,
  { must, might, lines }: Conditions,
  least: Settled,
  limit: number,
): Wished {
  const drawnOff = least.problem.furthest().moved || limit / NEARLY_HAS;
  const slack = Math.min(limit, NEARLY_HAS * drawnOff);
  // where angles as given leave something over, no more than that may be left
  const enough = Math.max(TRUE, 2 * least.worst);
  const drawn = ownDirection(sheet, lines, slack);
  // a drawing that lies as upright as its corners are drawn was meant to
  const upright = Math.abs(offUpright(drawn)) <= 2 * drawnOff;
  const holds = ({ problem, worst }: Settled) => {
    problem.layNearest(!upright);
    return worst <= enough && problem.furthest().moved <= limit;
  };
  const direction = upright ? drawn - offUpright(drawn) : drawn;
  const relations = [...halvedAngles(might), ...nearRelations(sheet, lines, slack, direction)];
  const together = settle(sheet, [...must, ...relations.flatMap(({ conditions }) => conditions)]);
  if (holds(together)) return { ...together, missed: [] };
  let best = least;
  let kept = must;
  const missed: Relation[] = [];
  for (const relation of relations) {
    const tried = settle(sheet, [...kept, ...relation.conditions]);
    if (holds(tried)) [best, kept] = [tried, [...kept, ...relation.conditions]];
    else missed.push(relation);
  }
  best.problem.layNearest(!upright);
  return { ...best, missed: missed.map((relation) => missedBy(relation, best, sheet)) };
}

const halvedAngles = (conditions: readonly Condition[]): Relation[] =>
  conditions.length > 0 ? [{ name: 'halved angles', conditions }] : [];

/** A relation that does not hold, with by how much: in the drawing's unit, of angles in degrees. */
function missedBy({ name, conditions }: Relation, { problem }: Settled, { frame }: Sheet): StillOff {
  const off = problem.worstOf(conditions);
  return { name, by: off * (name === 'halved angles' ? 180 / Math.PI : frame.scale) };
}

/** A grid may ask for this much more than the least movement. */
const GRID_COSTS = 1.2;

/** The sheet on the even grid that it was drawn on, if there is one about as near as the least movement. */
function trueToGrid(
  sheet: Sheet,
  conditions: readonly Condition[],
  least: number,
  limit: number,
): TruedUp | null {
  const parts = commonGrid(sheet, Math.min(limit, 2 * least));
  if (parts === null) return null;
  const { sheet: trued, moved } = onGrid(sheet, parts);
  const holds = conditions.every((condition) =>
    condition.evaluate(trued.vertexX, trued.vertexY).every((value) => Math.abs(value) <= TRUE),
  );
  if (!holds || moved > Math.min(limit, GRID_COSTS * least)) return null;
  const told = { how: 'onto-grid', parts, moved: moved * sheet.frame.scale } as const;
  return {
    sheet: trued,
    moved,
    findings: [finding('vertex-moved', 'note', told, { value: moved, limit })],
  };
}
