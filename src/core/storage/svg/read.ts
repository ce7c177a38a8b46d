import type { FilePlace } from '../../finding/values/place.ts';
import type { Point } from '../../numeric/vector.ts';
import { type Drawing, DrawingBuilder, type DrawnCurve, type StrokeLook } from '../drawing/drawing.ts';
import { REUSE_LIMIT } from '../limits.ts';
import { compose, shift } from '../matrix.ts';
import { unreadable } from '../refusal.ts';
import { along, seenParts } from './clip.ts';
import { type Context, contextOf, outermostContext } from './context.ts';
import { pointsOf } from './curves.ts';
import { lengthOf } from './lengths.ts';
import { Looks } from './look.ts';
import type { Style } from './properties.ts';
import { type CurveShape, type Run, shapeNames } from './shapes.ts';
import { childOfSwitch, conditionsHold, containers, silent } from './shown.ts';
import { SvgSource } from './source.ts';
import { pageOf } from './view.ts';
import { Work } from './work.ts';
import { parseXml, placeOf, type XmlNode } from './xml-tree.ts';

/**
 * Reads an SVG drawing into straight strokes, y turned up: what can be seen of its lines. Scripts, event handlers and
 * references to other files are never run or opened. Throws a Refusal when the drawing cannot be used.
 * `work` counts what reading asks.
 */
export function readSvg(text: string, work = new Work(text.length)): Drawing {
  const root = parseXml(text);
  if (root.name !== 'svg' || root.foreign) {
    const name = root.name.slice(0, 40);
    throw unreadable({ how: root.name === 'svg' ? 'svg-name-space' : 'svg-root', name });
  }
  const source = new SvgSource(root, work);
  const { style, letter } = source.styleOf(root);
  const page = pageOf(root, style, letter);
  const pixel = page.millimetres === null ? 1 : 25.4 / 96 / page.millimetres;
  const reader = new SvgReader(source, new Looks(source, pixel));
  reader.walk(outermostContext(page));
  return reader.finish(page.millimetres);
}

/** An element that waits for its turn. */
interface Waiting {
  readonly node: XmlNode;
  readonly above: Context;
  /** The style of the `use` that shows it. */
  readonly user?: Style;
}

class SvgReader {
  private readonly builder = new DrawingBuilder();
  private readonly curves: DrawnCurve[] = [];
  private readonly source: SvgSource;
  private readonly looks: Looks;
  private readonly waiting: Waiting[] = [];

  constructor(source: SvgSource, looks: Looks) {
    this.source = source;
    this.looks = looks;
  }

  /** Visits elements in document order with a list of its own, so that depth costs no call stack. */
  walk(above: Context): void {
    this.waiting.push({ node: this.source.root, above });
    for (let next = this.waiting.pop(); next; next = this.waiting.pop()) this.visit(next);
  }

  finish(millimetres: number | null): Drawing {
    const { sheet, notes } = this.source;
    return this.builder.finish(millimetres, notes.findings(sheet.leftOut), this.curves);
  }

  private visit({ node, above, user }: Waiting): void {
    const { work, notes } = this.source;
    work.visit();
    if (node.foreign) {
      if (!silent.has(node.name)) notes.passedOver.add('foreign');
      return;
    }
    if (silent.has(node.name) && !(node.name === 'symbol' && user)) return;
    const place = placeOf(node);
    const context = conditionsHold(node) ? contextOf(this.source, node, place, above, user) : null;
    if (!context || context.style.display === 'none') this.countHidden(node);
    else if (shapeNames.has(node.name)) this.draw(node, context, place);
    else if (node.name === 'use') this.reuse(node, context, place);
    else if (node.name === 'switch') this.choose(node, context);
    else if (containers.has(node.name)) this.enter(node.children, context);
    else notes.passedOver.add({ how: 'element', name: node.name });
  }

  private enter(children: readonly XmlNode[], above: Context): void {
    for (let i = children.length - 1; i >= 0; i--) this.waiting.push({ node: children[i]!, above });
  }

  /** Shapes inside something that is not shown. */
  private countHidden(top: XmlNode): void {
    const waiting = [top];
    for (let node = waiting.pop(); node; node = waiting.pop()) {
      this.source.work.visit();
      if (!node.foreign && (shapeNames.has(node.name) || node.name === 'use'))
        this.source.notes.passedOver.add('invisible');
      for (const child of node.children) waiting.push(child);
    }
  }

  private choose(node: XmlNode, context: Context): void {
    const chosen = childOfSwitch(node);
    for (const child of node.children) {
      if (child === chosen) this.waiting.push({ node: child, above: context });
      else if (!silent.has(child.name)) this.countHidden(child);
    }
  }

  private reuse(node: XmlNode, context: Context, place: FilePlace): void {
    const { here, target } = this.source.named(node);
    const isDrawn = target && (target.name === 'symbol' || !silent.has(target.name));
    if (!isDrawn) {
      this.source.notes.passedOver.add(here ? 'use-of-nothing' : 'other-file');
      return;
    }
    if (context.reuse >= REUSE_LIMIT) throw unreadable({ how: 'svg-use', place });
    const { style, measures } = context;
    const corner = shift(
      lengthOf(style.x, 'width', measures, place),
      lengthOf(style.y, 'height', measures, place),
    );
    const above = { ...context, matrix: compose(context.matrix, corner), reuse: context.reuse + 1 };
    this.waiting.push({ node: target, above, user: style });
  }

  private draw(node: XmlNode, context: Context, place: FilePlace): void {
    const look = this.looks.lookOf(context, place);
    if (typeof look === 'string') {
      this.source.notes.passedOver.add(look);
      return;
    }
    for (const run of this.source.runsOf(node, context.style, context.measures, place)) {
      const points = pointsOf(run, context.matrix, place);
      if (run.curve) this.addCurve(points, run.curve, context, look, place);
      else this.addChain(points, run, context, look, place);
    }
  }

  private addChain(
    points: readonly Point[],
    run: Run,
    context: Context,
    look: StrokeLook,
    place: FilePlace,
  ): void {
    if (context.regions.length === 0) {
      this.builder.addChain(points, run.closed, look, place);
      return;
    }
    const closed = run.closed && points.length > 1 ? [...points, points[0]!] : points;
    for (let i = 1; i < closed.length; i++) {
      const [a, b] = [closed[i - 1]!, closed[i]!];
      if (i === closed.length - 1 && run.closed && a[0] === b[0] && a[1] === b[1]) continue;
      for (const [from, to] of this.cut(a, b, context, look, place))
        this.builder.addChain([from, to], false, look, place);
    }
  }

  private addCurve(
    points: readonly Point[],
    shape: CurveShape,
    context: Context,
    look: StrokeLook,
    place: FilePlace,
  ): void {
    const parts: [number, number][][] = [];
    for (let i = 1; i < points.length; i++) {
      this.source.work.spend('shapes', 20);
      for (const [from, to] of this.cut(points[i - 1]!, points[i]!, context, look, place)) {
        const end = parts.at(-1)?.at(-1);
        if (end && end[0] === from[0] && end[1] === from[1]) parts.at(-1)!.push([...to]);
        else parts.push([[...from], [...to]]);
      }
    }
    for (const part of parts) this.curves.push({ how: 'shape', shape, place, points: part });
  }

  /** What can be seen of a line, in pieces. */
  private cut(
    a: Point,
    b: Point,
    { regions }: Context,
    look: StrokeLook,
    place: FilePlace,
  ): [Point, Point][] {
    let pieces: [Point, Point][] = [[a, b]];
    for (const region of regions) {
      pieces = pieces.flatMap(([p, q]) =>
        seenParts(p, q, region, look.width / 2, this.source.work).map(([from, to]): [Point, Point] => [
          along(p, q, from),
          along(p, q, to),
        ]),
      );
    }
    const whole = pieces.length === 1 && pieces[0]![0] === a && pieces[0]![1] === b;
    if (!whole) this.source.notes.add('cut', place);
    return pieces;
  }
}
