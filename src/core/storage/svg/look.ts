import type { FilePlace } from '../../finding/values/place.ts';
import { type DashStyle, dashStyleOf } from '../drawing/dash.ts';
import type { StrokeLook } from '../drawing/drawing.ts';
import { scaleOf } from '../matrix.ts';
import type { Context } from './context.ts';
import { styleLength } from './lengths.ts';
import { type Paint, paintOf } from './paint.ts';
import type { SvgSource } from './source.ts';

/** Entries of a dash list that are looked at: what repeats later than that is no pattern for an eye. */
const DASHES = 1000;

/** Why a shape leaves no line on the drawing. */
type Hidden = 'no-stroke' | 'invisible';

/** Works out how strokes look, or why they cannot be seen. */
export class Looks {
  private readonly source: SvgSource;
  private readonly paints = new Map<string, Map<string, Paint>>();
  private readonly dashes = new Map<string, Map<string, DashStyle>>();
  /** User units of the outermost element in one pixel, for strokes that are not scaled. */
  private readonly pixel: number;

  constructor(source: SvgSource, pixel: number) {
    this.source = source;
    this.pixel = pixel;
  }

  /** The look of a shape's stroke. A line whose name says its kind needs no stroke. */
  lookOf(context: Context, place: FilePlace): StrokeLook | Hidden {
    const { style, measures } = context;
    if (context.unseen || style.visibility === 'hidden' || style.visibility === 'collapse')
      return 'invisible';
    const paint = this.paintOf(style.stroke, style.color);
    if (paint.shown === 'none' && !context.named) return 'no-stroke';
    const placed = { style, measures, place };
    const width = this.source.lengthOr(1, 'stroke-width', placed);
    const isPainted = paint.shown !== 'none';
    if (
      isPainted &&
      (paint.shown === 'clear' || width === 0 || this.source.isClear('stroke-opacity', placed))
    )
      return 'invisible';
    if (paint.unread) this.source.notes.add('colours', place);
    const scale = style['vector-effect'] === 'non-scaling-stroke' ? this.pixel : scaleOf(context.matrix);
    return {
      colour: paint.colour,
      dash: this.dashOf(context, width, place),
      width: width * scale,
      layer: context.layer,
      ...(context.named ? { named: context.named } : {}),
    };
  }

  private paintOf(stroke: string, current: string): Paint {
    const read = () => paintOf(stroke, current, (id) => this.source.withId(id) !== undefined);
    return keptFor(this.paints, stroke, current, read);
  }

  private dashOf({ style, measures }: Context, width: number, place: FilePlace): DashStyle {
    const text = style['stroke-dasharray'];
    if (text === 'none') return 'solid';
    return keptFor(this.dashes, text, `${width} ${measures.width} ${measures.height}`, () => {
      this.source.work.spend('shapes', 10 * text.length);
      const parts = text.split(/[\s,]+/).filter(Boolean);
      const lengths = parts.slice(0, DASHES).map((part) => styleLength(part, 'diagonal', measures));
      const pattern = lengths.filter((length) => length !== null && length >= 0);
      if (pattern.length === lengths.length) return dashStyleOf(pattern as number[], width);
      this.source.notes.notFollowed('stroke-dasharray', place);
      return 'solid';
    });
  }
}

function keptFor<Value>(
  kept: Map<string, Map<string, Value>>,
  one: string,
  other: string,
  make: () => Value,
): Value {
  let under = kept.get(one);
  if (!under) kept.set(one, (under = new Map()));
  let value = under.get(other);
  if (value === undefined) under.set(other, (value = make()));
  return value;
}
