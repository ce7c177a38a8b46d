/** Tabs that cannot slide, since folds tie them to their pocket: they stay until its cuff, or its cover, is swung away. */
import { flatDot, type Point } from '../../numeric/vector.ts';
import { gather, hangTogether } from './gather.ts';
import { endsOf } from './lines.ts';
import { CUFF_REACHES, gradeOf, type Lock, liesOnTop, ROLLED_IN } from './lock.ts';
import { extent, inPlane, square, trianglesOf } from './measure.ts';
import { cuffOf, type Mover, movedFirst } from './movers.ts';
import { type Parts, panelsOf } from './parts.ts';
import { areaUnder, nameOf, type Tuck } from './pockets.ts';
import { Remembered } from './remembered.ts';
import type { Folded } from './sides.ts';

export function foldLocks(folded: Folded, parts: Parts, tucks: readonly Tuck[], sheetSize: number): Lock[] {
  const together = hangTogether(parts, [...new Set(tucks.map(({ tab }) => tab))]);
  return gather(folded, tucks, (one, other) => together(one.tab, other.tab)).flatMap((own) => {
    const first = cuffOf(folded, parts, own);
    return first ? [foldLock(folded, parts, own, first, sheetSize)] : [];
  });
}

/**
 * A lock that opens only when its cuff is swung away; or a cover too long for a cuff, that lies there by its weight.
 * @param closedSides sides on which paper closes the pocket
 */
export const foldLock = (
  folded: Folded,
  parts: Parts,
  own: readonly Tuck[],
  first: Mover,
  sheetSize: number,
  closedSides = 1,
): Lock =>
  locks.of(folded, `${sheetSize};${closedSides};${nameOf(own)}`, () =>
    gradeFoldLock(folded, parts, own, first, sheetSize, closedSides),
  );

const locks = new Remembered<Lock>();

function gradeFoldLock(
  folded: Folded,
  parts: Parts,
  own: readonly Tuck[],
  first: Mover,
  sheetSize: number,
  closedSides: number,
): Lock {
  const cuff = new Set(first.panels.map((panel) => parts.partOf[panel]!));
  const { group } = own[0]!;
  const plane = folded.stacks.planes.groups[group]!;
  const out = jointNormal(folded, own[0]!);
  const covered = own.flatMap(({ tab, below, above, cells }) =>
    areaUnder(folded, parts, group, [tab, cuff.has(above) ? above : below], cells),
  );
  const pocket = own.flatMap(({ below, above, cells }) =>
    areaUnder(folded, parts, group, [below, above], cells),
  );
  const figures = { depth: extent(covered, out), frictionLength: extent(covered, square(out)) };
  const grade = own.some((tuck) => isCuff(folded, parts, tuck, cuff, sheetSize))
    ? 'fold'
    : own.every(({ below, above }) => liesOnTop(plane, cuff.has(above) && !cuff.has(below)))
      ? 'gravity'
      : 'none';
  return {
    ...figures,
    grade: gradeOf(grade, figures, sheetSize),
    by: grade === 'fold' ? 'layers' : 'cover',
    ...ownPanels(parts, own),
    pocketDepth: extent(pocket, out),
    closedSides,
    opens: null,
    ...movedFirst(folded, first),
  };
}

/** Does the cover stay by itself: short enough to be stiff, or rolled round the whole tab? */
function isCuff(
  folded: Folded,
  parts: Parts,
  { group, tab, below, above, joints }: Tuck,
  cuff: ReadonlySet<number>,
  sheetSize: number,
): boolean {
  const plane = folded.stacks.planes.groups[group]!;
  const out = jointNormal(folded, { group, joints });
  const line = flatDot(out, inPlane(plane, endsOf(folded, joints[0]!)[0]!));
  const farthest = (part: number, sign: number) =>
    Math.max(
      ...trianglesOf(folded, parts, plane, part)
        .flat()
        .map((at) => sign * (flatDot(out, at) - line)),
    );
  const cover = cuff.has(above) ? above : below;
  const side = farthest(cover, 1) > farthest(cover, -1) ? 1 : -1;
  const reach = farthest(cover, side);
  const bare = farthest(tab, side) - reach;
  return reach * sheetSize <= CUFF_REACHES || bare * sheetSize <= ROLLED_IN;
}

/** Panels tucked in, and panels of the pocket that are not tucked in themselves. */
export function ownPanels(parts: Parts, own: readonly Tuck[]): Pick<Lock, 'tab' | 'pocket'> {
  const tabs = own.map(({ tab }) => tab);
  const layers = own.flatMap(({ below, above }) => [below, above]);
  return {
    tab: panelsOf(parts, tabs),
    pocket: panelsOf(
      parts,
      layers.filter((part) => !tabs.includes(part)),
    ),
  };
}

/** Direction square to the fold that joins a pocket, unit length. */
export function jointNormal(folded: Folded, { group, joints }: Pick<Tuck, 'group' | 'joints'>): Point {
  const plane = folded.stacks.planes.groups[group]!;
  const [a, b] = endsOf(folded, joints[0]!).map((end) => inPlane(plane, end)) as [Point, Point];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return [(b[1] - a[1]) / length, (a[0] - b[0]) / length];
}
