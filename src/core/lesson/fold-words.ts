/** The words for a fold: which part of the model it takes, and which way that goes. */
import type { Turning, Whereabouts } from './moved-part.ts';

/**
 * A part of a model, by the side on which its reader sees it: the left side, the top right corner. A fold that parts off
 * what lies on the other side of the model takes a flap there.
 */
export function nameOf({ off, toward }: Whereabouts): string {
  const at = off.map((share) => (Math.abs(share) < SIDE ? 0 : Math.sign(share)));
  const to = toward?.map((share) => (Math.abs(share) < SLANT ? 0 : Math.sign(share))) ?? at;
  if (at.some((side, k) => side * to[k]! < 0)) return flapNamed(at[0]!, at[1]!);
  const isSlanting = to[0] !== 0 && to[1] !== 0;
  const isAtOneSide = (at[0] === 0) !== (at[1] === 0);
  const [x, y] = (isSlanting && isAtOneSide ? at : to.map((side, k) => side || at[k])) as [number, number];
  const [across, along] = [x < 0 ? 'left' : 'right', y < 0 ? 'bottom' : 'top'];
  if (x && y) return `the ${along} ${across} corner`;
  if (x) return `the ${across} side`;
  return y ? `the ${along}` : 'it';
}

function flapNamed(x: number, y: number): string {
  const across = x === 0 ? '' : x < 0 ? ' left' : ' right';
  return y === 0 ? `the flap on the${across}` : `the flap at the ${y < 0 ? 'bottom' : 'top'}${across}`;
}

/** A part counts as lying to one side when its middle is off by more than this share of the model. */
const SIDE = 0.12;
/** A fold that runs at less than a quarter of a right angle to an edge counts as along it: sine. */
const SLANT = 0.38;

/** A verb and what follows the part. */
export interface Way {
  readonly verb: 'Fold' | 'Unfold' | 'Open';
  /** Empty, or begins with a blank. */
  readonly way: string;
}

/** A fold of nearly a half turn lies flat; one of nearly a quarter stands upright, degrees. */
const NEAR = 3;

/** Over, behind, or by an angle; what does not go alike at all creases is not told as if it did. */
export function wayOf(turns: readonly (Turning | null)[]): Way {
  const ways = turns.map((one): Way => (one ? wayAt(one) : { verb: 'Fold', way: '' }));
  const [first] = ways;
  if (!first) return { verb: 'Fold', way: '' };
  if (ways.every(({ verb, way }) => verb === first.verb && way === first.way)) return first;
  const told = new Set(ways.map(({ verb, way }) => verb + way));
  const both = told.size === 2 && told.has('Fold over') && told.has('Fold behind');
  return { verb: 'Fold', way: both ? ', some of it over and some behind' : '' };
}

export function wayAt({ from, to }: Turning): Way {
  const [was, is] = [from, to].map((angle) => (angle * 180) / Math.PI) as [number, number];
  const ends = Math.abs(Math.abs(is) - 90) < NEAR ? (is > 0 ? 'until it stands' : 'until it hangs') : null;
  const by = `${Math.abs(is - was).toFixed(0)} degrees`;
  if (Math.abs(is) < NEAR) return { verb: 'Unfold', way: '' };
  if (was * is > 0 && Math.abs(is) < Math.abs(was)) return { verb: 'Open', way: ` ${ends ?? `by ${by}`}` };
  if (180 - Math.abs(is) < NEAR) return { verb: 'Fold', way: is > 0 ? ' over' : ' behind' };
  return { verb: 'Fold', way: ` ${is > was ? 'up' : 'down'} ${ends ?? `by ${by}`}` };
}
