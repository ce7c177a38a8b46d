/**
 * A drawing as read from SVG or DXF: straight strokes sorted into groups that look alike, before anyone has said
 * what the groups mean.
 */
import type { Finding } from '../../finding/finding.ts';
import type { Curve } from '../../finding/values/file.ts';
import type { FilePlace } from '../../finding/values/place.ts';
import { STROKE_LIMIT } from '../limits.ts';
import { checkNumber, type Refusal, refusal } from '../refusal.ts';
import { convexRim } from './convex-rim.ts';
import type { DashStyle } from './dash.ts';
import type { NamedLine } from './line-name.ts';

interface Stroke {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  /** Where it stands in the file. */
  readonly source: FilePlace;
}

/** What strokes of one group share. */
export interface StrokeLook {
  /** #rrggbb where known. */
  readonly colour: string;
  readonly dash: DashStyle;
  /** Line width, in drawing units for SVG, mm for DXF; 0 where not given. */
  readonly width: number;
  readonly layer: string;
  /** Kind and angle given by a name of our own form. */
  readonly named?: NamedLine;
}

export interface StrokeGroup extends StrokeLook {
  /** Terms such as `colour=#aa0000 dash=dashed width=0.5 place=inside layer=Creases`; layer comes last. */
  readonly key: string;
  /** rim: the strokes lie on the convex rim of the whole drawing. Named groups are not split. */
  readonly place: 'rim' | 'inside' | 'anywhere';
  readonly count: number;
  /** The first few strokes, for a picture. */
  readonly sample: readonly Stroke[];
}

/** A curve as a polyline that follows it to 0.1 % of its size; without points where it is not known how it runs. */
export type DrawnCurve = Curve & { readonly points: readonly (readonly [number, number])[] };

export interface Drawing {
  readonly strokes: readonly Stroke[];
  /** Index into `groups` of each stroke. */
  readonly groupOf: Int32Array;
  readonly groups: readonly StrokeGroup[];
  /** Length of the drawing's unit in mm, or null where the file does not say. */
  readonly millimetres: number | null;
  /** Notes made while reading: what was ignored and why. */
  readonly findings: readonly Finding[];
  readonly curves: readonly DrawnCurve[];
}

const SAMPLE_SIZE = 12;

/** Gathers strokes while a file is read. Throws a Refusal beyond the stroke limit or for unusable numbers. */
export class DrawingBuilder {
  private readonly strokes: Stroke[] = [];
  private readonly looks: StrokeLook[] = [];

  add(x1: number, y1: number, x2: number, y2: number, look: StrokeLook, source: FilePlace): void {
    if (this.strokes.length >= STROKE_LIMIT) throw tooManyStrokes();
    for (const value of [x1, y1, x2, y2]) checkNumber(value, source);
    this.strokes.push({ x1, y1, x2, y2, source });
    this.looks.push(look);
  }

  /** Joins the points in turn, and the last to the first when `closed`. */
  addChain(
    points: readonly (readonly [number, number])[],
    closed: boolean,
    look: StrokeLook,
    source: FilePlace,
  ) {
    for (let i = 1; i < points.length; i++) this.addBetween(points[i - 1]!, points[i]!, look, source);
    const first = points[0];
    const last = points[points.length - 1];
    if (closed && first && last && (first[0] !== last[0] || first[1] !== last[1])) {
      this.addBetween(last, first, look, source);
    }
  }

  finish(
    millimetres: number | null,
    findings: readonly Finding[],
    curves: readonly DrawnCurve[] = [],
  ): Drawing {
    if (this.strokes.length === 0 && curves.length > 0) throw tooCurved(curves);
    if (this.strokes.length === 0) {
      throw refusal('sheet-empty', { how: 'no-line-found' });
    }
    return inGroups(this.strokes, this.looks, { millimetres, findings, curves });
  }

  private addBetween(
    from: readonly [number, number],
    to: readonly [number, number],
    look: StrokeLook,
    source: FilePlace,
  ): void {
    this.add(from[0], from[1], to[0], to[1], look, source);
  }
}

/** The drawing of some of its strokes alone, without curves: what lies on the rim of these is told anew. */
export function drawingOf(
  drawing: Drawing,
  strokes: readonly number[],
  findings: readonly Finding[],
): Drawing {
  const looks = strokes.map((stroke) => lookOf(drawing.groups[drawing.groupOf[stroke]!]!));
  const own = strokes.map((stroke) => drawing.strokes[stroke]!);
  return inGroups(own, looks, { millimetres: drawing.millimetres, findings, curves: [] });
}

const lookOf = ({ colour, dash, width, layer, named }: StrokeGroup): StrokeLook => ({
  ...{ colour, dash, width, layer },
  ...(named && { named }),
});

function inGroups(
  strokes: readonly Stroke[],
  looks: readonly StrokeLook[],
  facts: Pick<Drawing, 'millimetres' | 'findings' | 'curves'>,
): Drawing {
  const onRim = convexRim(strokes);
  const groupOf = new Int32Array(strokes.length);
  const indexOfKey = new Map<string, number>();
  const groups: { key: string; look: StrokeLook; place: StrokeGroup['place']; members: number[] }[] = [];
  strokes.forEach((_, stroke) => {
    const look = looks[stroke]!;
    const place = look.named ? 'anywhere' : onRim[stroke] ? 'rim' : 'inside';
    const key = keyOf(look, place);
    let index = indexOfKey.get(key);
    if (index === undefined) {
      index = groups.length;
      indexOfKey.set(key, index);
      groups.push({ key, look, place, members: [] });
    }
    groups[index]!.members.push(stroke);
    groupOf[stroke] = index;
  });
  return {
    strokes,
    groupOf,
    groups: groups.map(({ key, look, place, members }) => ({
      ...look,
      key,
      place,
      count: members.length,
      sample: members.slice(0, SAMPLE_SIZE).map((stroke) => strokes[stroke]!),
    })),
    ...facts,
  };
}

export function tooCurved(curves: readonly DrawnCurve[]): Refusal {
  return refusal('line-curved', { first: curves[0]!, count: curves.length }, { value: curves.length });
}

export function tooManyStrokes(): Refusal {
  return refusal('file-too-large', { how: 'strokes', most: STROKE_LIMIT }, { limit: STROKE_LIMIT });
}

function keyOf(look: StrokeLook, place: StrokeGroup['place']): string {
  const { named } = look;
  const terms = [
    named && `name=${named.kind}${named.angle === undefined ? '' : `:${named.angle}`}`,
    `colour=${look.colour}`,
    `dash=${look.dash}`,
    `width=${Number(look.width.toPrecision(2))}`,
    `place=${place}`,
    `layer=${look.layer}`,
  ];
  return terms.filter(Boolean).join(' ');
}
