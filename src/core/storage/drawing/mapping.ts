/** What the stroke groups of a drawing mean: the guess, the teacher's answer, and the segments that follow. */
import { type Finding, finding } from '../../finding/finding.ts';
import type { GuessReason } from '../../finding/values/file.ts';
import type { LineKind } from '../../sheet/kind.ts';
import type { Segment } from '../../sheet/segment.ts';
import { unreadable } from '../refusal.ts';
import type { Drawing, StrokeGroup } from './drawing.ts';
import { kindSaidBy } from './line-name.ts';

export type { Drawing, StrokeGroup } from './drawing.ts';

interface LineMeaning {
  readonly kind: LineKind | 'ignore';
  /** Finished fold angle, degrees, valley positive; a half turn for mountain and valley where left out. */
  readonly angle?: number;
}

/** Group key -> meaning. */
export type LineMapping = Readonly<Record<string, LineMeaning>>;

/**
 * The segments of a drawing under a mapping, in drawing units. Groups without an entry mean what their own name
 * says, and are left out when it says nothing.
 */
export function applyMapping(drawing: Drawing, mapping: LineMapping): Segment[] {
  const meanings = drawing.groups.map(
    (group) => mapping[group.key] ?? group.named ?? { kind: 'ignore' as const },
  );
  const segments: Segment[] = [];
  drawing.strokes.forEach((stroke, index) => {
    const { kind, angle } = meanings[drawing.groupOf[index]!]!;
    if (kind === 'ignore') return;
    const degrees = angle ?? (kind === 'mountain' ? -180 : kind === 'valley' ? 180 : undefined);
    segments.push({
      ...stroke,
      kind,
      ...(degrees === undefined ? {} : { angle: (degrees * Math.PI) / 180 }),
    });
  });
  return segments;
}

/** Have all groups been given their kind by names of our own form? */
export function allNamed(drawing: Drawing): boolean {
  return drawing.groups.every((group) => group.named);
}

/**
 * Fills in what each group probably means: names first, then the dash style, then place and weight; a colour never
 * says a kind. One note per group that was guessed.
 */
export function guessMapping(drawing: Drawing): { guess: LineMapping; findings: Finding[] } {
  const findings: Finding[] = [];
  const guess: Record<string, LineMeaning> = {};
  const signs = signsOf(drawing);
  for (const group of drawing.groups) {
    if (group.named) {
      guess[group.key] = group.named;
      continue;
    }
    const { kind, reason } = guessGroup(group, signs);
    guess[group.key] = { kind };
    const { count, dash, colour, layer } = group;
    const values = { count, dash, colour, layer, kind, reason };
    findings.push(finding('line-kind-guessed', 'note', values, { value: count }));
  }
  return { guess, findings };
}

/** One note when mountains or valleys without an angle are taken as half turns. */
export function assumedAngles(drawing: Drawing, mapping: LineMapping): Finding[] {
  let count = 0;
  for (const group of drawing.groups) {
    const meaning = mapping[group.key] ?? group.named;
    const folds = meaning?.kind === 'mountain' || meaning?.kind === 'valley';
    if (folds && meaning.angle === undefined) count += group.count;
  }
  if (count === 0) return [];
  return [finding('angle-assumed', 'note', { how: 'lines', count }, { value: count })];
}

/**
 * Checks a mapping from a file and fits it to the groups of a drawing. A key may be a whole group key or only some
 * of its terms, such as `dash=dashed` or `colour=#aa0000 place=inside`; the first entry that fits counts, and
 * groups that no entry fits keep the guess. Throws a Refusal for entries that mean nothing.
 */
export function completeMapping(drawing: Drawing, given: unknown, guess: LineMapping): LineMapping {
  const entries = readMapping(given);
  const complete: Record<string, LineMeaning> = {};
  for (const group of drawing.groups) {
    const fitting = entries.find(([key]) => key === group.key) ?? entries.find(([key]) => fits(key, group));
    complete[group.key] = fitting?.[1] ?? guess[group.key] ?? { kind: 'ignore' };
  }
  return complete;
}

const mappedKinds: readonly string[] = ['mountain', 'valley', 'unassigned', 'flat', 'edge', 'cut', 'ignore'];

function readMapping(given: unknown): [string, LineMeaning][] {
  if (typeof given !== 'object' || given === null || Array.isArray(given)) {
    throw unreadable({ how: 'mapping' });
  }
  return Object.entries(given).map(([key, value]) => {
    const meaning =
      typeof value === 'string' ? { kind: value } : (value as { kind?: unknown; angle?: unknown });
    const { kind, angle } = { angle: undefined, ...meaning };
    if (typeof kind !== 'string' || !mappedKinds.includes(kind)) {
      throw unreadable({ how: 'mapping-kind', key, kinds: mappedKinds });
    }
    if (angle === undefined) return [key, { kind: kind as LineMeaning['kind'] }];
    if (typeof angle !== 'number' || !(Math.abs(angle) <= 180)) {
      throw unreadable({ how: 'mapping-angle', key });
    }
    return [key, { kind: kind as LineMeaning['kind'], angle }];
  });
}

function fits(key: string, group: StrokeGroup): boolean {
  const layer = /(?:^| )layer=(.*)$/.exec(key);
  if (layer && layer[1] !== group.layer) return false;
  const terms = key
    .replace(/(?:^| )layer=.*$/, '')
    .split(' ')
    .filter(Boolean);
  const own = group.key.replace(/ layer=.*$/, '').split(' ');
  return (layer !== null || terms.length > 0) && terms.every((term) => own.includes(term));
}

/** What the drawing as a whole tells about how it should be read. */
interface Signs {
  /** Some line is broken up, so dashes tell the kinds here. */
  readonly dashed: boolean;
  /** Some group lies on the rim or is called an edge. */
  readonly rim: boolean;
  /** Width of the heaviest solid lines inside, and whether lighter ones exist too. */
  readonly heaviest: number;
  readonly lightest: number;
}

function signsOf(drawing: Drawing): Signs {
  const solid = drawing.groups.filter((group) => group.dash === 'solid');
  return {
    dashed: drawing.groups.some((group) => group.dash !== 'solid'),
    rim: drawing.groups.some((group) => group.place === 'rim' || group.named?.kind === 'edge'),
    heaviest: solid.reduce((most, { width }) => Math.max(most, width), 0),
    lightest: solid.reduce((least, { width }) => Math.min(least, width), Number.POSITIVE_INFINITY),
  };
}

function guessGroup(group: StrokeGroup, signs: Signs): { kind: LineMeaning['kind']; reason: GuessReason } {
  if (group.place === 'rim') return { kind: 'edge', reason: { how: 'rim' } };
  const said = kindSaidBy(group.layer);
  if (said) return { kind: said, reason: { how: 'layer', layer: group.layer } };
  switch (group.dash) {
    case 'dash-dot':
    case 'dash-dot-dot':
      return { kind: 'mountain', reason: { how: 'dash-dot' } };
    case 'dashed':
      return { kind: 'valley', reason: { how: 'dashed' } };
    case 'dotted':
      return { kind: 'ignore', reason: { how: 'dotted' } };
    case 'solid':
      if (!signs.rim && group.width === signs.heaviest && signs.lightest < signs.heaviest) {
        return { kind: 'edge', reason: { how: 'heaviest' } };
      }
      if (signs.dashed) return { kind: 'flat', reason: { how: 'solid-inside' } };
      return { kind: 'unassigned', reason: { how: 'colour-only' } };
  }
}
