/** Where lines meet: ends that stop short go on to the nearest crossing; each crossing by all lines through it. */
import { distance, type Point } from '../../numeric/vector.ts';
import { along, beside, directionOf, type FittedLine, pointOn, uncertainty } from './line-fit.ts';
import { angleBetween } from './ridges.ts';

export interface Crossing {
  readonly at: Point;
  /** Lines through it. */
  readonly lines: readonly number[];
}

/** A line with the crossings on it in their order; the ends are crossings too, or loose. */
export interface CrossedLine {
  readonly line: FittedLine;
  /** Of every crossing its number and its place along the line. */
  readonly stops: readonly { readonly crossing: number; readonly at: number }[];
}

/** Lines that meet under less than this have no crossing that could be relied on. */
const SHALLOW = (4 * Math.PI) / 180;

interface Meeting {
  readonly one: number;
  readonly other: number;
  readonly at: Point;
}

/**
 * @param reach how far an end may stop short of its crossing, pixels
 * @param width of lines at half height, pixels
 */
export function crossingsOf(
  lines: readonly FittedLine[],
  reach: number,
  width: number,
): { crossings: Crossing[]; crossed: CrossedLine[] } {
  const over = width + 2;
  const meetings = meetingsOf(lines, reach, over);
  const joined = gathered(meetings, lines, Math.max(3, 1.3 * width), over);
  const crossings = joined.map((group) => settled(group, lines));
  crossings.push(...looseEnds(lines, crossings, over));
  const crossed = lines.map((line, index): CrossedLine => {
    const stops = crossings
      .flatMap((crossing, number) => {
        if (!crossing.lines.includes(index)) return [];
        return [{ crossing: number, at: along(line, ...crossing.at) }];
      })
      .sort((a, b) => a.at - b.at);
    return { line, stops };
  });
  return { crossings, crossed };
}

/** How far a place along a line lies beyond its ends. */
const beyond = (line: FittedLine, at: number): number => Math.max(0, line.from - at, at - line.to);

function meetingsOf(lines: readonly FittedLine[], reach: number, over: number): Meeting[] {
  const meetings: Meeting[] = [];
  /** Of each end of each line the meeting that it goes on to, and what that costs. */
  const ends = lines.map(() => [
    { cost: Number.POSITIVE_INFINITY, meeting: null as Meeting | null },
    { cost: Number.POSITIVE_INFINITY, meeting: null as Meeting | null },
  ]);
  for (let one = 0; one < lines.length; one++)
    for (let other = 0; other < one; other++) {
      const [a, b] = [lines[one]!, lines[other]!];
      const turn = a.nx * b.ny - a.ny * b.nx;
      if (Math.abs(turn) < Math.sin(SHALLOW)) continue;
      const at: Point = [
        (a.offset * b.ny - b.offset * a.ny) / turn,
        (b.offset * a.nx - a.offset * b.nx) / turn,
      ];
      const places = [along(a, ...at), along(b, ...at)] as const;
      const gaps = [beyond(a, places[0]), beyond(b, places[1])] as const;
      if (gaps[0] > reach || gaps[1] > reach) continue;
      const meeting = { one, other, at };
      if (gaps[0] <= 1 && gaps[1] <= 1) meetings.push(meeting);
      const slack = over / Math.abs(turn);
      [one, other].forEach((number, k) => {
        const line = lines[number]!;
        const cost = gaps[0] + gaps[1];
        const isNear = [places[k]! <= line.from + slack, places[k]! >= line.to - slack];
        isNear.forEach((near, end) => {
          const known = ends[number]![end]!;
          if (near && cost < known.cost) ends[number]![end] = { cost, meeting };
        });
      });
    }
  return [...meetings, ...ends.flatMap((two) => two.flatMap(({ meeting }) => (meeting ? [meeting] : [])))];
}

/** Meetings that are one place, with the lines that run through it. */
function gathered(
  meetings: readonly Meeting[],
  lines: readonly FittedLine[],
  near: number,
  over: number,
): { at: Point; lines: number[] }[] {
  const groups: { at: Point; count: number; lines: Set<number> }[] = [];
  for (const { one, other, at } of meetings) {
    const group = groups.find((known) => distance(known.at, at) < near);
    if (!group) {
      groups.push({ at, count: 1, lines: new Set([one, other]) });
      continue;
    }
    group.lines.add(one).add(other);
    group.count++;
    group.at = [
      group.at[0] + (at[0] - group.at[0]) / group.count,
      group.at[1] + (at[1] - group.at[1]) / group.count,
    ];
  }
  return groups.map(({ at, lines: through }) => {
    lines.forEach((line, number) => {
      const place = along(line, ...at);
      if (Math.abs(beside(line, ...at)) < near / 2 && beyond(line, place) <= over) through.add(number);
    });
    return { at, lines: [...through] };
  });
}

/** The place nearest to all lines through it, each by how certain it is there. */
function settled(
  { at, lines: through }: { at: Point; lines: number[] },
  lines: readonly FittedLine[],
): Crossing {
  let [xx, xy, yy, x, y] = [0, 0, 0, 0, 0];
  for (const number of through) {
    const line = lines[number]!;
    const weight = 1 / uncertainty(line, along(line, ...at)) ** 2;
    xx += weight * line.nx * line.nx;
    xy += weight * line.nx * line.ny;
    yy += weight * line.ny * line.ny;
    x += weight * line.nx * line.offset;
    y += weight * line.ny * line.offset;
  }
  const size = xx * yy - xy * xy;
  if (!(size > 1e-9 * (xx + yy) ** 2)) return { at, lines: through };
  return { at: [(yy * x - xy * y) / size, (xx * y - xy * x) / size], lines: through };
}

/** Ends that go on to no crossing are kept where they are, if they reach well past the last one. */
function looseEnds(lines: readonly FittedLine[], crossings: readonly Crossing[], over: number): Crossing[] {
  return lines.flatMap((line, number): Crossing[] => {
    const stops = crossings
      .filter((crossing) => crossing.lines.includes(number))
      .map(({ at }) => along(line, ...at));
    const [first, last] = [Math.min(...stops), Math.max(...stops)];
    const ends: number[] = [];
    if (!(first - line.from <= 2 * over)) ends.push(line.from);
    if (!(line.to - last <= 2 * over)) ends.push(line.to);
    return ends.map((at) => ({ at: pointOn(line, at), lines: [number] }));
  });
}

/** How far, pixels, a line may have been followed too short where another one runs into it at a slant. */
const FOLLOWED_SHORT = 20;

/** Without lines found twice, and without short ones that are made of ink of longer ones: where two run into each other. */
export function withoutRepeats(lines: readonly FittedLine[], width: number): FittedLine[] {
  const longest = [...lines].sort((a, b) => b.to - b.from - (a.to - a.from));
  const kept: FittedLine[] = [];
  for (const line of longest) {
    const length = line.to - line.from;
    const isShort = length < 6 * width + 8;
    const steps = Math.max(2, Math.ceil(length / 3));
    const samples = Array.from({ length: steps + 1 }, (_, k) =>
      pointOn(line, line.from + (k / steps) * length),
    );
    const isOn = (other: FittedLine, [x, y]: Point, over: number) =>
      Math.abs(beside(other, x, y)) < (isShort ? 1.2 * width + 1 : width) &&
      beyond(other, along(other, x, y)) < over;
    const isRepeated = isShort
      ? samples.every((point) => kept.some((other) => isOn(other, point, FOLLOWED_SHORT)))
      : kept.some((other) => isAlong(line, other) && samples.every((point) => isOn(other, point, width)));
    if (!isRepeated) kept.push(line);
  }
  return kept;
}

const isAlong = (one: FittedLine, other: FittedLine) =>
  angleBetween(directionOf(one), directionOf(other)) <= 2 * SHALLOW;
