/**
 * A square folded through all layers a few times, then some of the layers folded along one more line: those that hang
 * together beyond it. The line may well be barred: layers between which, or through which, nothing can swing. Elementary
 * reflections throughout.
 */
import type { HeldPair, Pattern } from '../oracles/layers.ts';
import { distanceTo, foldPart, type Part, type Point } from './simple-folds.ts';

export interface FoldOfSomeLayers {
  /** Every panel of the sheet that all folds together crease. */
  readonly faces: Pattern['faces'];
  readonly vertices: Pattern['vertices'];
  /** Degrees of the crease between two vertices before and after the last fold. */
  readonly before: Pattern['degreesOf'];
  readonly after: Pattern['degreesOf'];
  /** Per panel: does it move in the last fold. */
  readonly moves: readonly boolean[];
  /** Order of all pairs before it. */
  readonly stacked: readonly HeldPair[];
  /** For each panel that moves and each that stays: the side from which it comes. */
  readonly comes: readonly HeldPair[];
}

interface Piece {
  readonly part: Part;
  readonly rank: number;
  readonly moves: boolean;
}

interface Crease {
  readonly a: Point;
  readonly b: Point;
  readonly before: number;
  readonly after: number;
}

const square: readonly Point[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

/** An oracle that tries every order gets through so many panels. */
const MOST_PANELS = 11;

export function foldOfSomeLayers(random: () => number): FoldOfSomeLayers {
  for (;;) {
    // pleats, all lines running one way, leave short layers between long ones; any lines else
    const turn = random() < 0.7 ? 2 * Math.PI * random() : null;
    let stack: readonly Part[] = [{ flat: square, folded: square, over: false }];
    const old: Made[] = [];
    for (let fold = 1 + Math.floor(3 * random()); fold > 0; fold--)
      stack = foldedThrough(stack, randomLine(stack, turn, random), random() < 0.5, old);
    const toFront = random() < 0.5;
    const made: Made[] = [];
    const pieces = somePieces(stack, randomLine(stack, turn, random), random, made);
    if (!pieces || pieces.length > MOST_PANELS) continue;
    const creases: Crease[] = [
      ...old.map(({ degrees, ...line }) => ({ ...line, before: degrees, after: degrees })),
      ...made.map(({ degrees, ...line }) => ({ ...line, before: 0, after: toFront ? degrees : -degrees })),
    ];
    return { ...graphOf(pieces, creases), ...ordersOf(pieces, toFront) };
  }
}

/** A crease, and the degrees it is folded to. */
interface Made {
  readonly a: Point;
  readonly b: Point;
  readonly degrees: number;
}

/** Signed distance from a line, and the direction in which it grows. */
interface Line {
  readonly side: (p: Point) => number;
  readonly normal: Point;
}

function randomLine(stack: readonly Part[], direction: number | null, random: () => number): Line {
  const flip = random() < 0.5 ? Math.PI : 0;
  const turn = direction === null ? 2 * Math.PI * random() : direction + flip;
  const normal: Point = [Math.cos(turn), Math.sin(turn)];
  const along = stack.flatMap(({ folded }) => folded.map(([x, y]) => normal[0] * x + normal[1] * y));
  const [low, high] = [Math.min(...along), Math.max(...along)];
  const offset = low + (0.15 + 0.7 * random()) * (high - low);
  return { normal, side: ([x, y]) => normal[0] * x + normal[1] * y - offset };
}

/** The stack with all of it on one side of a line turned over, on top of the rest or under it. */
function foldedThrough(
  stack: readonly Part[],
  { side, normal }: Line,
  toFront: boolean,
  old: Made[],
): Part[] {
  const [stays, moved]: [Part[], Part[]] = [[], []];
  for (const part of stack) {
    const made: Made[] = [];
    for (const piece of foldPart(part, side, normal, made))
      (piece.over === part.over ? stays : moved).push(piece);
    for (const one of made) old.push({ ...one, degrees: toFront ? one.degrees : -one.degrees });
  }
  moved.reverse();
  return toFront ? [...stays, ...moved] : [...moved, ...stays];
}

/** The parts, those cut in two that the line folds in one body of layers; null where it folds none. */
function somePieces(
  stack: readonly Part[],
  { side, normal }: Line,
  random: () => number,
  made: Made[],
): Piece[] | null {
  const cut = stack.map((part) => {
    const kinds: Made[] = [];
    const both = foldPart(part, side, normal, kinds);
    const stays = both.find(({ over }) => over === part.over);
    return { part, kinds, stays, moved: both.find(({ over }) => over !== part.over) };
  });
  const bodies = bodiesOf(cut.map(({ moved }) => moved));
  const hinged = [...new Set(cut.flatMap(({ stays, moved }, k) => (stays && moved ? [bodies[k]!] : [])))];
  if (hinged.length === 0) return null;
  const body = hinged[Math.floor(random() * hinged.length)]!;
  return cut.flatMap(({ part, kinds, stays, moved }, rank): Piece[] => {
    if (!moved || bodies[rank] !== body) return [{ part, rank, moves: false }];
    made.push(...kinds);
    const turned = { part: moved, rank, moves: true };
    return stays ? [{ part: stays, rank, moves: false }, turned] : [turned];
  });
}

/** A number for each part that moves: parts that hang together by an edge share it. */
function bodiesOf(moved: readonly (Part | undefined)[]): number[] {
  const body = moved.map((_, k) => k);
  for (let again = true; again; ) {
    again = false;
    moved.forEach((p, i) => {
      moved.forEach((q, j) => {
        if (!p || !q || body[i] === body[j] || !shareEdge(p.flat, q.flat)) return;
        const [from, to] = [Math.max(body[i]!, body[j]!), Math.min(body[i]!, body[j]!)];
        body.forEach((own, k) => {
          if (own === from) body[k] = to;
        });
        again = true;
      });
    });
  }
  return body;
}

const same = (p: Point, q: Point) => Math.hypot(p[0] - q[0], p[1] - q[1]) < 1e-9;

function shareEdge(p: readonly Point[], q: readonly Point[]): boolean {
  return p.some((a, i) =>
    q.some((c, j) => same(a, q[(j + 1) % q.length]!) && same(p[(i + 1) % p.length]!, c)),
  );
}

function graphOf(pieces: readonly Piece[], creases: readonly Crease[]) {
  const vertices: Point[] = [];
  const vertexAt = (p: Point): number => {
    const found = vertices.findIndex((other) => same(other, p));
    return found < 0 ? vertices.push(p) - 1 : found;
  };
  const faces = pieces.map(({ part }) =>
    part.flat.map(vertexAt).filter((v, k, all) => v !== all[(k + 1) % all.length]),
  );
  const degrees = (when: 'before' | 'after') => (a: number, b: number) => {
    const [p, q] = [vertices[a]!, vertices[b]!];
    const middle: Point = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    const on = creases.find((crease) => distanceTo(crease.a, crease.b, middle) < 1e-9);
    if (!on) throw new Error('A crease that no fold made.');
    return on[when];
  };
  return { vertices, faces, before: degrees('before'), after: degrees('after') };
}

function ordersOf(pieces: readonly Piece[], toFront: boolean) {
  const stacked: HeldPair[] = [];
  const comes: HeldPair[] = [];
  pieces.forEach((f, i) => {
    pieces.forEach((g, j) => {
      // what has turned over in the last fold lay the other way round before it
      const overBefore = g.part.over !== g.moves;
      if (i < j && f.rank !== g.rank) stacked.push([i, j, f.rank > g.rank !== overBefore ? 1 : -1]);
      if (f.moves && !g.moves) comes.push([i, j, toFront !== g.part.over ? 1 : -1]);
    });
  });
  return { moves: pieces.map(({ moves }) => moves), stacked, comes };
}
