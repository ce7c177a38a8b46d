/** Tabs that cannot slide, since folds tie them to their pocket: they stay until its cuff is swung away. */
import { gather, hangTogether } from './gather.ts';
import { endsOf } from './lines.ts';
import { gradeOf, type Lock } from './lock.ts';
import { extent, inPlane, square, type Way } from './measure.ts';
import { cuffOf, type Mover, movedFirst } from './movers.ts';
import { type Parts, panelsOf } from './parts.ts';
import { areaUnder, type Tuck } from './pockets.ts';
import type { Folded } from './sides.ts';

export function foldLocks(folded: Folded, parts: Parts, tucks: readonly Tuck[], sheetSize: number): Lock[] {
  const together = hangTogether(parts, [...new Set(tucks.map(({ tab }) => tab))]);
  return gather(folded, tucks, (one, other) => together(one.tab, other.tab)).flatMap((own) => {
    const first = cuffOf(folded, parts, own);
    return first ? [foldLock(folded, parts, own, first, sheetSize)] : [];
  });
}

/**
 * A lock that opens only when its cuff is swung away.
 * @param closedSides sides on which paper closes the pocket
 */
export function foldLock(
  folded: Folded,
  parts: Parts,
  own: readonly Tuck[],
  first: Mover,
  sheetSize: number,
  closedSides = 1,
): Lock {
  const cuff = new Set(first.panels.map((panel) => parts.partOf[panel]!));
  const { group } = own[0]!;
  const out = jointNormal(folded, own[0]!);
  const covered = own.flatMap(({ tab, below, above, cells }) =>
    areaUnder(folded, parts, group, [tab, cuff.has(above) ? above : below], cells),
  );
  const pocket = own.flatMap(({ below, above, cells }) =>
    areaUnder(folded, parts, group, [below, above], cells),
  );
  const figures = { depth: extent(covered, out), frictionLength: extent(covered, square(out)) };
  return {
    ...figures,
    grade: gradeOf('fold', figures, sheetSize),
    by: 'layers',
    ...ownPanels(parts, own),
    pocketDepth: extent(pocket, out),
    closedSides,
    opens: null,
    ...movedFirst(folded, first),
  };
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
export function jointNormal(folded: Folded, { group, joints }: Tuck): Way {
  const plane = folded.stacks.planes.groups[group]!;
  const [a, b] = endsOf(folded, joints[0]!).map((end) => inPlane(plane, end)) as [Way, Way];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return [(b[1] - a[1]) / length, (a[0] - b[0]) / length];
}
