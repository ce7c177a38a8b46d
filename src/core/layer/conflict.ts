/** Why a pose has no layer order: few conditions that cannot hold together. */
import type { LayerWhy } from '../finding/values/layer.ts';
import { seededRandom } from '../numeric/random.ts';
import { NONE } from '../sheet/sheet.ts';
import type { AskedCondition } from './asked.ts';
import { ConditionTable, EVEN_WIDTH, MIXED_WIDTH, NO_LITERAL } from './condition-table.ts';
import type { Literal, Overlaps } from './overlaps.ts';
import { OutOfTime, Search, type SmallConditions } from './search.ts';
import { StateSearch } from './solver.ts';

/** Conditions that cannot hold together, as few as were found. */
export interface LayerConflict {
  readonly panels: number[];
  readonly creases: number[];
  readonly why: LayerWhy;
}

/** One condition: three literals that are not all alike, or up to four whose exclusive or is false. */
interface Condition {
  readonly mixed: boolean;
  readonly of: readonly Literal[];
  /** Creases that it comes from. */
  readonly creases: readonly number[];
  /** The crease whose way of folding it says. */
  readonly direction: boolean;
  readonly asked: AskedCondition | null;
}

/**
 * What contradicts itself, cut down until nothing can be left out or time is up: asked orders are left out first,
 * then the ways creases fold, then the rest, so that what is named is at fault.
 */
export function whyNone(
  overlaps: Overlaps,
  table: ConditionTable,
  asked: readonly AskedCondition[],
  timeIsUp: () => boolean,
): LayerConflict {
  const crossing = table.never[0];
  if (crossing) return crossingPanels(crossing.panels, crossing.creases);
  const random = seededRandom(1);
  const all = conditionsOf(table, asked);
  let best: readonly Condition[] | null = null;
  const geometry = new ConditionTable(table.eachMixed);
  for (const { of, creases } of all.filter((one) => !one.mixed && rankOf(one) === GEOMETRY)) {
    const [a, b, c, d] = [0, 1, 2, 3].map((k) => of[k] ?? NO_LITERAL) as [number, number, number, number];
    geometry.addEven(a, b, c, d, creases[0] ?? NONE, creases[1] ?? NONE);
  }
  const possible = possibleWith(overlaps.list.length, geometry, timeIsUp);
  for (let tries = 0; tries < TRIES && !timeIsUp() && !(best && sizeOf(best) <= FEW); tries++) {
    // another order of conditions makes the search run another way, and end at others
    const found = cutDown(tries === 0 ? all : shuffled(all, random), possible, timeIsUp);
    if (found && !(best && sizeOf(best) <= sizeOf(found))) best = found;
  }
  return best ? named(overlaps, best) : notFound;
}

const notFound: LayerConflict = {
  panels: [],
  creases: [],
  why: { how: 'out-of-time' },
};

/** How often a shorter contradiction is looked for. */
const TRIES = 2;
/** Creases and orders that a reader can take in; with more another try is made. */
const FEW = 6;

/** What a reader has to take in: creases and asked orders, then panels. */
function sizeOf(conditions: readonly Condition[]): number {
  const named = conditions.filter((one) => one.direction || one.asked).length;
  return named + conditions.length / 1e6;
}

/**
 * First what was asked and the ways creases fold are cut down, with the geometry whole: each that stays is needed.
 * Then the geometry, so that few panels are named.
 */
function cutDown(
  all: readonly Condition[],
  possible: (given: readonly Condition[]) => boolean,
  timeIsUp: () => boolean,
): Condition[] | null {
  const used = contradictory(all, timeIsUp);
  if (!used) return null;
  let given = used.filter((one) => rankOf(one) < GEOMETRY).sort((a, b) => rankOf(a) - rankOf(b));
  const before = given.length;
  for (const condition of given) {
    if (timeIsUp()) return used;
    const fewer = given.filter((one) => one !== condition);
    if (!possible(fewer)) given = fewer;
  }
  const geometry = all.filter((one) => rankOf(one) === GEOMETRY);
  let left = given.length < before ? contradictory([...given, ...geometry], timeIsUp) : used;
  if (!left) return used;
  for (const condition of left.filter((one) => rankOf(one) === GEOMETRY)) {
    if (timeIsUp()) break;
    if (left.includes(condition))
      left =
        contradictory(
          left.filter((one) => one !== condition),
          timeIsUp,
        ) ?? left;
  }
  return left;
}

/** Is there a state with the geometry of a table and some of what was asked or how creases fold? Yes if time is up. */
function possibleWith(unknowns: number, geometry: ConditionTable, timeIsUp: () => boolean) {
  return (given: readonly Condition[]): boolean => {
    try {
      const search = new StateSearch(
        unknowns,
        geometry,
        given.map(({ of }) => of),
      );
      return search.first(timeIsUp) !== null;
    } catch (error) {
      if (error instanceof OutOfTime) return true;
      throw error;
    }
  };
}

function shuffled<T>(list: readonly T[], random: () => number): T[] {
  const mixed = [...list];
  for (let k = mixed.length - 1; k > 0; k--) {
    const j = Math.floor(random() * (k + 1));
    [mixed[k], mixed[j]] = [mixed[j]!, mixed[k]!];
  }
  return mixed;
}

const GEOMETRY = 2;
const rankOf = ({ asked, direction }: Condition) => (asked ? 0 : direction ? 1 : GEOMETRY);

function conditionsOf(table: ConditionTable, asked: readonly AskedCondition[]): Condition[] {
  const all: Condition[] = asked.map((one) => ({
    mixed: false,
    of: one.of,
    creases: [],
    direction: false,
    asked: one,
  }));
  for (let row = 0; row < table.evenCount; row++) {
    const at = EVEN_WIDTH * row;
    const of = [...table.even.subarray(at, at + 4)].filter((literal) => literal !== NO_LITERAL);
    const creases = [...table.even.subarray(at + 4, at + 6)].filter((crease) => crease !== NONE);
    const direction = of.length === 1 && table.even[at + 5] === NONE && creases.length === 1;
    all.push({ mixed: false, of, creases, direction, asked: null });
  }
  const { rows, count } = table.mixed();
  for (let row = 0; row < count; row++) {
    const of = [...rows.subarray(MIXED_WIDTH * row, MIXED_WIDTH * (row + 1))];
    all.push({ mixed: true, of, creases: [], direction: false, asked: null });
  }
  return all;
}

/** The conditions that a search without success made use of; null where there is a state, or no time. */
function contradictory(conditions: readonly Condition[], timeIsUp: () => boolean): Condition[] | null {
  const even = conditions.filter(({ mixed }) => !mixed);
  const mixed = conditions.filter((one) => one.mixed);
  const search = new Search(smallOf(mixed, even), true);
  for (const found of search.solutions()) if (found || timeIsUp()) return null;
  const used = search.culprits();
  return [...used.even.map((row) => even[row]!), ...used.mixed.map((row) => mixed[row]!)];
}

function smallOf(mixed: readonly Condition[], even: readonly Condition[]): SmallConditions {
  const number = new Map<number, number>();
  const renamed = (literal: Literal) => {
    const unknown = literal >> 1;
    if (!number.has(unknown)) number.set(unknown, number.size);
    return 2 * number.get(unknown)! + (literal & 1);
  };
  const evenLiterals = even.flatMap(({ of }) => of.map(renamed));
  const mixedLiterals = mixed.flatMap(({ of }) => of.map(renamed));
  const evenStart = new Int32Array(even.length + 1);
  for (const [row, { of }] of even.entries()) evenStart[row + 1] = evenStart[row]! + of.length;
  return {
    unknowns: number.size,
    mixed: Int32Array.from(mixedLiterals),
    even: Int32Array.from(evenLiterals),
    evenStart,
  };
}

const ascending = (numbers: Iterable<number>) => [...new Set(numbers)].sort((a, b) => a - b);

function crossingPanels(panels: readonly number[], creases: readonly number[]): LayerConflict {
  const at = { panels: ascending(panels), creases: ascending(creases) };
  return { ...at, why: { how: 'crossing', ...at } };
}

/** The panels, creases and asked orders that conditions speak of. */
function named(overlaps: Overlaps, conditions: readonly Condition[]): LayerConflict {
  const panels = ascending(
    conditions.flatMap(({ of }) =>
      of.flatMap((literal) => {
        const { first, second } = overlaps.list[literal >> 1]!;
        return [first, second];
      }),
    ),
  );
  const turned = ascending(conditions.flatMap((one) => (one.direction ? one.creases : [])));
  const places = turned.length > 0 ? turned : ascending(conditions.flatMap((one) => one.creases));
  const asked = conditions.flatMap((one) => (one.asked ? [one.asked.name] : []));
  const creases = conditions.every((one) => one.asked || one.mixed) ? [] : places;
  const at = { panels, creases };
  const why: LayerWhy =
    asked.length > 0
      ? { how: 'asked', asked, ...at }
      : { how: turned.length > 0 ? 'turned' : 'geometry', ...at };
  return { ...at, why };
}
