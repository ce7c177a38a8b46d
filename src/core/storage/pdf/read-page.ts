/** A page of a PDF file as a drawing in mm, y up: what can be seen of its lines (ISO 32000-2, 8.5). */
import type { FilePlace } from '../../finding/values/place.ts';
import type { Point } from '../../numeric/vector.ts';
import type { Region } from '../drawing/clip.ts';
import { dashStyleOf } from '../drawing/dash.ts';
import type { Drawing, StrokeLook } from '../drawing/drawing.ts';
import { PassedOverCount } from '../drawing/passed-over.ts';
import { pointsOf, type Run } from '../drawing/runs.ts';
import { SeenLines } from '../drawing/seen-lines.ts';
import { Work } from '../drawing/work.ts';
import { apply, compose, type Matrix, scaleOf, shift, stretch, turn } from '../matrix.ts';
import { FilledPieces } from './filled-pieces.ts';
import { dashOf, type GraphicsState, initialState, withParameters } from './graphics-state.ts';
import type { DrawnPage } from './operators.ts';
import { runsOfPath } from './paths.ts';

const POINT_MILLIMETRES = 25.4 / 72;

/** Reads one page. Throws a Refusal when it holds no line, or more than can be read. */
export function readPage(page: DrawnPage): Drawing {
  const reader = new PageReader(page);
  page.operators.forEach((operator, index) =>
    reader.take(page.names.get(operator), page.arguments[index] ?? [], index),
  );
  return reader.finish();
}

class PageReader {
  private readonly work: Work;
  private readonly lines: SeenLines;
  private readonly passedOver = new PassedOverCount();
  private readonly filled: FilledPieces;
  private readonly saved: GraphicsState[] = [];
  private state: GraphicsState;
  /** The rule of a clip path that the next path is. */
  private clip: 'nonzero' | 'even-odd' | null = null;
  /** Of the layers that are open, whether each is shown. */
  private readonly layers: boolean[] = [];

  constructor(private readonly page: DrawnPage) {
    this.work = new Work(40 * page.operators.length);
    this.lines = new SeenLines(this.work, () => this.passedOver.add('clipped'));
    this.filled = new FilledPieces(this.lines);
    const matrix = matrixOf(page);
    this.state = initialState(matrix, [[{ rings: [cornersOf(page.box, matrix)], evenOdd: false }]]);
  }

  take(name: string | undefined, given: readonly unknown[], index: number): void {
    this.work.visit();
    switch (name) {
      case 'save':
      case 'beginGroup':
        this.saved.push(this.state);
        break;
      case 'restore':
      case 'endGroup':
      case 'paintFormXObjectEnd':
        this.state = this.saved.pop() ?? this.state;
        break;
      case 'paintFormXObjectBegin':
        this.saved.push(this.state);
        this.enterForm(given[0] as ArrayLike<number> | null, given[1] as ArrayLike<number> | null);
        break;
      case 'transform':
        this.state = { ...this.state, matrix: compose(this.state.matrix, matrixIn(given)) };
        break;
      case 'setLineWidth':
        this.state = { ...this.state, width: Number(given[0]) };
        break;
      case 'setDash':
        this.state = { ...this.state, dash: dashOf(given[0]) };
        break;
      case 'setGState':
        this.state = withParameters(this.state, given[0] as readonly (readonly [string, unknown])[]);
        break;
      case 'setStrokeRGBColor':
        this.state = { ...this.state, stroke: colourIn(given) };
        break;
      case 'setFillRGBColor':
        this.state = { ...this.state, fill: colourIn(given) };
        break;
      case 'setStrokeColorN':
        this.state = { ...this.state, stroke: null };
        break;
      case 'setFillColorN':
      case 'setFillTransparent':
        this.state = { ...this.state, fill: null };
        break;
      case 'setStrokeTransparent':
        this.state = { ...this.state, strokeAlpha: 0 };
        break;
      case 'clip':
        this.clip = 'nonzero';
        break;
      case 'eoClip':
        this.clip = 'even-odd';
        break;
      case 'beginMarkedContent':
        this.layers.push(true);
        break;
      case 'beginMarkedContentProps':
        this.layers.push(given[0] !== 'OC' || this.page.isShown(given[1]));
        break;
      case 'endMarkedContent':
        this.layers.pop();
        break;
      case 'constructPath':
        this.draw(this.page.names.get(Number(given[0])), (given[1] as [ArrayLike<number> | null])[0], index);
        break;
      case 'showText':
        this.passedOver.add({ how: 'element', name: 'text' });
        break;
      case 'shadingFill':
        this.passedOver.add('no-stroke');
        break;
      default:
        if (name && images.has(name)) this.passedOver.add({ how: 'element', name: 'image' });
    }
  }

  finish(): Drawing {
    this.filled.finish();
    return this.lines.finish(1, this.passedOver.findings());
  }

  /** A drawing within the drawing, in its own units and cut to its own box. */
  private enterForm(matrix: ArrayLike<number> | null, box: ArrayLike<number> | null): void {
    const inner = matrix ? compose(this.state.matrix, matrixIn(Array.from(matrix))) : this.state.matrix;
    const ring = box && cornersOf(Array.from(box) as [number, number, number, number], inner);
    const regions = ring ? [...this.state.regions, regionOf([ring], false)] : this.state.regions;
    this.state = { ...this.state, matrix: inner, regions };
  }

  private draw(paint: string | undefined, codes: ArrayLike<number> | null, index: number): void {
    const { clip } = this;
    this.clip = null;
    if (!codes) return;
    this.work.spend('shapes', 20 * codes.length);
    const runs = runsOfPath(codes);
    if (paint && this.layers.includes(false)) this.passedOver.add('hidden-layer');
    else if (paint) this.paint(paint, runs, { how: 'page-shape', index });
    if (clip) this.cutTo(runs, clip === 'even-odd');
  }

  private paint(paint: string, runs: readonly Run[], place: FilePlace): void {
    const strokes = /stroke/i.test(paint);
    const { stroke, strokeAlpha, fill, fillAlpha, regions, matrix } = this.state;
    if (strokes && strokeAlpha > 0) {
      const drawn = { look: this.lookOf(stroke), place, regions };
      for (const run of runs) {
        const points = pointsOf(run, matrix, place);
        if (run.curve) this.lines.addCurve(points, run.curve, drawn);
        else {
          this.lines.addChain(points, run.closed, drawn);
          this.filled.see(points, run.closed);
        }
      }
    } else if (strokes) this.passedOver.add('invisible');
    else if (/fill/i.test(paint)) {
      if (fillAlpha === 0) this.passedOver.add('invisible');
      else if (!this.filled.add(runs, { matrix, colour: fill ?? '#000000', regions, place }))
        this.passedOver.add('no-stroke');
    }
  }

  private lookOf(colour: string | null): StrokeLook {
    const { width, dash, matrix } = this.state;
    return {
      colour: colour ?? '#000000',
      dash: dashStyleOf(dash, width),
      // a width of nothing is the thinnest line that can be drawn
      width: width * scaleOf(matrix),
      layer: '',
    };
  }

  private cutTo(runs: readonly Run[], evenOdd: boolean): void {
    const { matrix, regions } = this.state;
    const rings = runs.map((run) => pointsOf(run, matrix, { how: 'page-shape', index: 0 }));
    this.state = { ...this.state, regions: [...regions, regionOf(rings, evenOdd)] };
  }
}

const regionOf = (rings: readonly (readonly Point[])[], evenOdd: boolean): Region => [{ rings, evenOdd }];

const images: ReadonlySet<string> = new Set([
  ...['paintImageXObject', 'paintInlineImageXObject', 'paintImageXObjectRepeat', 'paintImageMaskXObject'],
  ...['paintInlineImageXObjectGroup', 'paintImageMaskXObjectGroup', 'paintImageMaskXObjectRepeat'],
  'paintSolidColorImageMask',
]);

const matrixIn = (given: readonly unknown[]): Matrix => given.slice(0, 6).map(Number) as unknown as Matrix;

/** #rrggbb as the library gives it; black for anything else. */
function colourIn([given]: readonly unknown[]): string {
  return typeof given === 'string' && /^#[0-9a-f]{6}$/i.test(given) ? given.toLowerCase() : '#000000';
}

/** From the units of the page to mm, its lower left corner as it is shown at the origin. */
function matrixOf({ box: [left, low, right, high], turned, unit }: DrawnPage): Matrix {
  const scale = unit * POINT_MILLIMETRES;
  const middle = shift(-(left + right) / 2, -(low + high) / 2);
  const isAcross = turned % 180 !== 0;
  const [width, height] = isAcross ? [high - low, right - left] : [right - left, high - low];
  const upright = compose(turn(-turned), middle);
  return compose(stretch(scale, scale), compose(shift(width / 2, height / 2), upright));
}

const cornersOf = (
  [left, low, right, high]: readonly [number, number, number, number],
  matrix: Matrix,
): Point[] =>
  (
    [
      [left, low],
      [right, low],
      [right, high],
      [left, high],
    ] as const
  ).map(([x, y]) => apply(matrix, x, y));
