/** Flaps each over the next, in a ring that holds itself: none comes out unless an edge is lifted. */

import { Groups } from '../../numeric/plane.ts';
import { SAME_DEPTH } from '../../numeric/tolerance.ts';
import { circlesOf } from './circles.ts';
import type { Keeper } from './keepers.ts';
import { gradeOf, type Lock } from './lock.ts';
import { extent, square } from './measure.ts';
import { movedFirst } from './movers.ts';
import { type Parts, panelsOf } from './parts.ts';
import type { Folded } from './sides.ts';

/** Flaps of one plane, each over the next. */
interface Ring {
  /** Per flap: by what it is held in the ring. */
  readonly holds: readonly (readonly Keeper[])[];
  /** All parts of its flaps in its plane. */
  readonly parts: ReadonlySet<number>;
}

export function ringsOf({ stacks: { planes } }: Folded, parts: Parts, keepers: readonly Keeper[]): Ring[] {
  // all parts of one flap that lie in one plane move together
  const flaps = new Groups(parts.partOf.length);
  for (const { kept, flap, group } of keepers)
    for (const panel of flap.panels)
      if (planes.groupOf[panel] === group) flaps.join(kept, parts.partOf[panel]!);
  return circlesOf(keepers.map(({ keeper, kept }) => [flaps.find(keeper), flaps.find(kept)] as const)).map(
    (circle): Ring => {
      const inside = keepers.filter(
        ({ keeper, kept }) => circle.has(flaps.find(keeper)) && circle.has(flaps.find(kept)),
      );
      const holds = [...circle]
        .sort((a, b) => a - b)
        .map((flap) => inside.filter(({ kept }) => flaps.find(kept) === flap));
      return { holds, parts: new Set(parts.partOf.filter((part) => circle.has(flaps.find(part)))) };
    },
  );
}

/** A ring is as deep as the flap that slips out most easily, which stands for the tab. */
export function ringLocks(folded: Folded, parts: Parts, rings: readonly Ring[], sheetSize: number): Lock[] {
  return rings.map(({ holds, parts: members }) => {
    const figures = holds.map((own) => {
      const all = own.map(coverFigures);
      return {
        flap: own[0]!.flap,
        depth: Math.max(...all.map(({ depth }) => depth)),
        frictionLength: Math.max(...all.map(({ frictionLength }) => frictionLength)),
      };
    });
    const { flap, depth } = figures.reduce((least, one) =>
      one.depth < least.depth - SAME_DEPTH ? one : least,
    );
    const frictionLength = Math.min(...figures.map((one) => one.frictionLength));
    const tab = flap.panels.filter((panel) => members.has(parts.partOf[panel]!));
    return {
      grade: gradeOf('ring', { depth, frictionLength }, sheetSize),
      by: 'ring',
      tab,
      pocket: panelsOf(parts, [...members]).filter((panel) => !tab.includes(panel)),
      ...{ depth, frictionLength, pocketDepth: depth },
      closedSides: 1,
      opens: null,
      ...movedFirst(folded, flap),
    };
  });
}

/** How far a flap is covered: square to its own hinge or to its keeper's, whichever is less; and how wide at most. */
export function coverFigures({ region, flap, cover }: Keeper): Pick<Lock, 'depth' | 'frictionLength'> {
  const ways = [flap.toward, ...(cover ? [cover.toward] : [])];
  return {
    depth: Math.min(...ways.map((way) => extent(region, way))),
    frictionLength: Math.max(...ways.map((way) => extent(region, square(way)))),
  };
}
