/**
 * What a flat fold did, read off its poses and the stack it ended in, and whether a sentence about it is true. Knows nothing
 * of how sentences are made: corners before and after, edges that panels share, and places tried one beside the other.
 */
export type Space = readonly [number, number, number];
type Point = readonly [number, number];

export interface FoldDone {
  /** Per panel its corners where they lie before and after, in one order, x to the right, z toward the eye. */
  readonly before: readonly (readonly Space[])[];
  readonly after: readonly (readonly Space[])[];
  /** Per panel: its corners as numbers; two panels hang together where they share two in a row. */
  readonly corners: readonly (readonly number[])[];
  /** Does the first panel lie nearer to the eye than the second, afterwards? */
  readonly inFront: (first: number, second: number) => boolean;
}

export interface Facts {
  /** From the fold toward the paper that moves, unit length. */
  readonly toward: Point;
  /** The middle of the paper that moves less that of the whole model, before, in shares of the model's size. */
  readonly off: Point;
  /** Along the fold: how many layers lie there, how many of them move. */
  readonly places: readonly { readonly move: number; readonly all: number }[];
  /** Where the moved paper comes to lie, of the paper it hangs on. */
  readonly lies: ReadonlySet<'in front' | 'behind' | 'beside'>;
}

/** Places tried along each edge of the fold; fewer than three in a row are an accident of rounding. */
const TRIED = 1500;
const IN_A_ROW = 3;

export function factsOf({ before, after, corners, inFront }: FoldDone): Facts {
  const all = [...before.keys()];
  const moved = all.filter((p) => before[p]!.some((at, k) => far(at, after[p]![k]!) > 1e-6));
  const hinges = moved.flatMap((p) =>
    all
      .filter((q) => !moved.includes(q))
      .flatMap((q) => sharedEdges(corners, p, q).map((k) => ({ p, q, k }))),
  );
  const isMoved = new Set(moved);
  const places: Facts['places'][number][] = [];
  const lies = new Set<'in front' | 'behind' | 'beside'>();
  const normals: Point[] = [];
  for (const { p, q, k } of hinges) {
    const ring = before[p]!;
    const [a, b] = [ring[k]!, ring[(k + 1) % ring.length]!];
    if (far(a, b) < 1e-3) continue;
    const inward = inwardOf(ring, a, b);
    normals.push(inward);
    const seen = Array.from({ length: TRIED }, (_, n) => {
      const t = (n + 0.5) / TRIED;
      const x = a[0] + t * (b[0] - a[0]) + 5e-5 * inward[0];
      const y = a[1] + t * (b[1] - a[1]) + 5e-5 * inward[1];
      const here = all.filter((one) => goesRound(before[one]!, x, y));
      return { move: here.filter((one) => isMoved.has(one)).length, all: here.length };
    });
    const same = (n: number, m: number) => seen[n]?.move === seen[m]?.move && seen[n]?.all === seen[m]?.all;
    seen.forEach((one, n) => {
      if (Array.from({ length: IN_A_ROW - 1 }, (_, d) => d + 1).every((d) => same(n, n + d)))
        places.push(one);
    });
    const [back, front] = [inwardOf(after[p]!, a, b), inwardOf(after[q]!, a, b)];
    const folded = back[0] * front[0] + back[1] * front[1] > 0;
    lies.add(folded ? (inFront(p, q) ? 'in front' : 'behind') : 'beside');
  }
  const [x, y] = [0, 1].map((c) => normals.reduce((sum, one) => sum + one[c]!, 0)) as [number, number];
  const length = Math.hypot(x, y);
  const reach = (panels: readonly number[], c: 0 | 1) => {
    const values = panels.flatMap((p) => before[p]!.map((at) => at[c]));
    return [Math.min(...values), Math.max(...values)] as const;
  };
  const off = ([0, 1] as const).map((c) => {
    const [[low, high], [least, most]] = [reach(moved, c), reach(all, c)];
    return (low + high - least - most) / 2 / (most - least);
  }) as [number, number];
  return { toward: [x / length, y / length], off, places, lies };
}

const sides: Record<string, Point> = {
  left: [-1, 0],
  right: [1, 0],
  top: [0, 1],
  bottom: [0, -1],
};

/** What a sentence claims; null for one that claims nothing that could be judged, or more than can be. */
export function claimsOf(sentence: string) {
  const form =
    /^(Fold|Unfold) the (flap (?:at|on) the )?(top|bottom)?(?: ?(left|right))?(?: (side|corner))?( over| behind)?(?:, (all layers together|(one|\d+) layers? of (\d+)))?\.$/;
  const found = form.exec(sentence);
  if (!found) return null;
  const [, verb, flap, along, across, what, way, layers, few, of] = found;
  const named = [along, across].filter((one) => one !== undefined);
  if (named.length === 0 || (!flap && (what === 'corner') !== (named.length === 2))) return null;
  if ((verb === 'Fold') !== (way !== undefined)) return null;
  const count = few === undefined ? null : { move: few === 'one' ? 1 : Number(few), all: Number(of) };
  return {
    ...{ named, isFlap: flap !== undefined, way: way?.trim() },
    ...{ together: layers === 'all layers together', count },
  };
}

/** Everything in a sentence that is not so; null where it is not judged. */
export function untruths(sentence: string, { toward, off, places, lies }: Facts): string[] | null {
  const claims = claimsOf(sentence);
  if (!claims) return null;
  const wrong: string[] = [];
  // a flap is where it lies; a side or a corner is what the fold parts off, and it may not lie at the other end
  const scores = claims.named.map((name) => {
    const [x, y] = sides[name]!;
    return { name, parts: x * toward[0] + y * toward[1], lies: x * off[0] + y * off[1] };
  });
  for (const { name, parts, lies: at } of scores) {
    if (claims.isFlap ? at <= ASIDE : at < -ASIDE) wrong.push(`what moves does not lie at the ${name}`);
    if (!claims.isFlap && parts < -MAINLY) wrong.push(`the fold parts off what is opposite the ${name}`);
    if (!claims.isFlap && parts <= MAINLY && at <= ASIDE) wrong.push(`nothing is at the ${name}`);
  }
  if (!claims.isFlap && scores.every(({ parts }) => parts <= MAINLY))
    wrong.push('the fold parts off another side');
  const wanted = claims.way === undefined ? 'beside' : claims.way === 'over' ? 'in front' : 'behind';
  if (lies.size !== 1 || !lies.has(wanted)) wrong.push(`comes to lie ${[...lies].join(' and ')}`);
  const parted = places.filter(({ move, all }) => move < all);
  const most = Math.max(...(parted.length > 0 ? parted : places).map(({ move }) => move));
  if (claims.together !== (parted.length === 0 && most > 1))
    wrong.push(`${parted.length} places of ${places.length} where layers stay, ${most} move`);
  if ((claims.count !== null) !== parted.length > 0) wrong.push('layers stay, or do not');
  if (claims.count && parted.length > 0) {
    const of = Math.max(...parted.filter(({ move }) => move === most).map(({ all }) => all));
    if (claims.count.move !== most || claims.count.all !== of) wrong.push(`${most} of ${of} move`);
  }
  return wrong;
}

/** A fold parts paper off toward a side when it does so within 67.5 degrees (cosine), */
const MAINLY = 0.38;
/** and paper lies at a side when its middle is off by more than this share of the model. */
const ASIDE = 0.12;

const far = (p: Space, q: Space) => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);

/** Which edges of the first panel the second has too. */
function sharedEdges(corners: FoldDone['corners'], p: number, q: number): number[] {
  const [own, other] = [corners[p]!, corners[q]!];
  return own.flatMap((a, k) => {
    const b = own[(k + 1) % own.length]!;
    return other.some((c, j) => c === b && other[(j + 1) % other.length] === a) ? [k] : [];
  });
}

/** From an edge of a convex outline into it, unit length. */
function inwardOf(ring: readonly Space[], a: Space, b: Space): Point {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const normal: Point = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
  const middle = [0, 1].map((c) => ring.reduce((sum, at) => sum + at[c]!, 0) / ring.length);
  const side = normal[0] * (middle[0]! - a[0]) + normal[1] * (middle[1]! - a[1]);
  return side > 0 ? normal : [-normal[0], -normal[1]];
}

/** Convex outlines, whichever way round. */
function goesRound(ring: readonly Space[], x: number, y: number): boolean {
  const turns = ring.map(([ax, ay], k) => {
    const [bx, by] = ring[(k + 1) % ring.length]!;
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax);
  });
  return turns.every((turn) => turn > 0) || turns.every((turn) => turn < 0);
}
