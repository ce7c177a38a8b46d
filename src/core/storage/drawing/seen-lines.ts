/** Gathers the lines and curves of a drawing, cut to what its clip paths let be seen of them. */
import type { Finding } from '../../finding/finding.ts';
import type { FilePlace } from '../../finding/values/place.ts';
import type { Point } from '../../numeric/vector.ts';
import { along, type Region, seenParts } from './clip.ts';
import { type Drawing, DrawingBuilder, type DrawnCurve, type StrokeLook } from './drawing.ts';
import type { CurveShape } from './runs.ts';
import type { Work } from './work.ts';

/** What lines of one shape share. */
interface Drawn {
  readonly look: StrokeLook;
  readonly place: FilePlace;
  /** It is seen within all of them. */
  readonly regions: readonly Region[];
}

export class SeenLines {
  private readonly builder = new DrawingBuilder();
  private readonly curves: DrawnCurve[] = [];

  constructor(
    private readonly work: Work,
    /** Hears of every line that is not seen whole. */
    private readonly onCut: (place: FilePlace) => void,
  ) {}

  /** Lines from point to point, and from the last to the first when `closed`. */
  addChain(points: readonly Point[], isClosed: boolean, drawn: Drawn): void {
    const { look, place, regions } = drawn;
    if (regions.length === 0) {
      this.builder.addChain(points, isClosed, look, place);
      return;
    }
    const chain = isClosed && points.length > 1 ? [...points, points[0]!] : points;
    for (let i = 1; i < chain.length; i++) {
      const [a, b] = [chain[i - 1]!, chain[i]!];
      if (i === chain.length - 1 && isClosed && a[0] === b[0] && a[1] === b[1]) continue;
      for (const ends of this.cut(a, b, drawn)) this.builder.addChain(ends, false, look, place);
    }
  }

  addCurve(points: readonly Point[], shape: CurveShape, drawn: Drawn): void {
    const parts: [number, number][][] = [];
    for (let i = 1; i < points.length; i++) {
      this.work.spend('shapes', 20);
      for (const [from, to] of this.cut(points[i - 1]!, points[i]!, drawn)) {
        const end = parts.at(-1)?.at(-1);
        if (end && end[0] === from[0] && end[1] === from[1]) parts.at(-1)!.push([...to]);
        else parts.push([[...from], [...to]]);
      }
    }
    const { place } = drawn;
    for (const part of parts) this.curves.push({ how: 'shape', shape, place, points: part });
  }

  finish(millimetres: number | null, findings: readonly Finding[]): Drawing {
    return this.builder.finish(millimetres, findings, this.curves);
  }

  /** What can be seen of a line, in pieces. */
  private cut(a: Point, b: Point, { regions, look, place }: Drawn): [Point, Point][] {
    let pieces: [Point, Point][] = [[a, b]];
    for (const region of regions) {
      pieces = pieces.flatMap(([p, q]) =>
        seenParts(p, q, region, look.width / 2, this.work).map(([from, to]): [Point, Point] => [
          along(p, q, from),
          along(p, q, to),
        ]),
      );
    }
    const isWhole = pieces.length === 1 && pieces[0]![0] === a && pieces[0]![1] === b;
    if (!isWhole) this.onCut(place);
    return pieces;
  }
}
