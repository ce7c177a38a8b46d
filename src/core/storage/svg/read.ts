import type { FilePlace } from '../../finding/values/place.ts';
import type { Drawing } from '../drawing/drawing.ts';
import { pointsOf } from '../drawing/runs.ts';
import { SeenLines } from '../drawing/seen-lines.ts';
import { Work } from '../drawing/work.ts';
import { REUSE_LIMIT } from '../limits.ts';
import { compose, shift } from '../matrix.ts';
import { unreadable } from '../refusal.ts';
import { type Context, contextOf, outermostContext } from './context.ts';
import { lengthOf } from './lengths.ts';
import { Looks } from './look.ts';
import type { Style } from './properties.ts';
import { shapeNames } from './shapes.ts';
import { childOfSwitch, conditionsHold, containers, silent } from './shown.ts';
import { SvgSource } from './source.ts';
import { pageOf } from './view.ts';
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
  private readonly lines: SeenLines;
  private readonly source: SvgSource;
  private readonly looks: Looks;
  private readonly waiting: Waiting[] = [];

  constructor(source: SvgSource, looks: Looks) {
    this.source = source;
    this.looks = looks;
    this.lines = new SeenLines(source.work, (place) => source.notes.add('cut', place));
  }

  /** Visits elements in document order with a list of its own, so that depth costs no call stack. */
  walk(above: Context): void {
    this.waiting.push({ node: this.source.root, above });
    for (let next = this.waiting.pop(); next; next = this.waiting.pop()) this.visit(next);
  }

  finish(millimetres: number | null): Drawing {
    const { sheet, notes } = this.source;
    return this.lines.finish(millimetres, notes.findings(sheet.leftOut));
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
    const drawn = { look, place, regions: context.regions };
    for (const run of this.source.runsOf(node, context.style, context.measures, place)) {
      const points = pointsOf(run, context.matrix, place);
      if (run.curve) this.lines.addCurve(points, run.curve, drawn);
      else this.lines.addChain(points, run.closed, drawn);
    }
  }
}
