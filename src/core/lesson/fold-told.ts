/** What is told of a fold: which part of the model it takes, and which way that goes. Plain data; words make it a sentence. */
import type { Turning, Whereabouts } from './moved-part.ts';

type Side = -1 | 0 | 1;

/** A part of a model by its name, else by the side on which its reader sees it; with both sides 0 there is no word for it. */
export interface PartTold {
  readonly name?: string | undefined;
  /** The fold parts off what lies on the other side of the model: a flap there. */
  readonly flap: boolean;
  /** -1: left, 1: right. */
  readonly x: Side;
  /** -1: bottom, 1: top. */
  readonly y: Side;
}

export function partTold({ off, toward }: Whereabouts): PartTold {
  const at = off.map((share) => sideOf(share, SIDE)) as [Side, Side];
  const to = (toward?.map((share) => sideOf(share, SLANT)) ?? at) as [Side, Side];
  if (at.some((side, k) => side * to[k]! < 0)) return { flap: true, x: at[0], y: at[1] };
  const isSlanting = to[0] !== 0 && to[1] !== 0;
  const isAtOneSide = (at[0] === 0) !== (at[1] === 0);
  const [x, y] = isSlanting && isAtOneSide ? at : ([to[0] || at[0], to[1] || at[1]] as const);
  return { flap: false, x, y };
}

const sideOf = (share: number, least: number): Side =>
  Math.abs(share) < least ? 0 : (Math.sign(share) as Side);

/** A part counts as lying to one side when its middle is off by more than this share of the model. */
const SIDE = 0.12;
/** A fold that runs at less than a quarter of a right angle to an edge counts as along it: sine. */
const SLANT = 0.38;

/** Where a fold ends: upright, or after so many degrees. */
type FoldEnd = { readonly at: 'stands' | 'hangs' } | { readonly by: number };

/** Which way a fold goes; `some`: not alike at all creases; `both`: some of it over and some behind. */
export type WayTold =
  | { readonly how: 'over' | 'behind' | 'unfold' | 'some' | 'both' }
  | { readonly how: 'up' | 'down' | 'open'; readonly end: FoldEnd };

/** A fold of nearly a half turn lies flat; one of nearly a quarter stands upright, degrees. */
const NEAR = 3;

/** Over, behind, or by an angle; what does not go alike at all creases is not told as if it did. */
export function wayTold(turns: readonly (Turning | null)[]): WayTold {
  const ways = turns.map((one): WayTold => (one ? wayAt(one) : { how: 'some' }));
  const [first] = ways;
  if (!first) return { how: 'some' };
  const told = new Set(ways.map((way) => JSON.stringify(way)));
  if (told.size === 1) return first;
  const both = told.size === 2 && ways.every(({ how }) => how === 'over' || how === 'behind');
  return { how: both ? 'both' : 'some' };
}

export function wayAt({ from, to }: Turning): WayTold {
  const [was, is] = [from, to].map((angle) => (angle * 180) / Math.PI) as [number, number];
  const end: FoldEnd =
    Math.abs(Math.abs(is) - 90) < NEAR
      ? { at: is > 0 ? 'stands' : 'hangs' }
      : { by: Math.round(Math.abs(is - was)) };
  if (Math.abs(is) < NEAR) return { how: 'unfold' };
  if (was * is > 0 && Math.abs(is) < Math.abs(was)) return { how: 'open', end };
  if (180 - Math.abs(is) < NEAR) return { how: is > 0 ? 'over' : 'behind' };
  return { how: is > was ? 'up' : 'down', end };
}
