/** The entries of a lesson file of the present version, in the order in which they are written. */
import * as v from 'valibot';
import {
  lessonFormat,
  lessonVersion,
  permissions,
  type StepKind,
  sheetSizes,
  uses,
} from '../../lesson/lesson.ts';
import { lineKinds } from '../../sheet/kind.ts';
import { COORDINATE_LIMIT } from '../limits.ts';
import { wanted } from './wanted.ts';

const stepKinds = [
  'precrease',
  'pinch',
  'fold',
  'collapse',
  'tuck',
  'lock',
  'turn-over',
  'rotate',
  'note',
] as const satisfies readonly StepKind[];

const text = v.string(wanted('text'));
const coordinate = v.pipe(
  v.number(wanted('number')),
  v.finite(wanted('finite')),
  v.check((value) => Math.abs(value) <= COORDINATE_LIMIT, wanted('within', COORDINATE_LIMIT)),
);
const point = v.tuple([coordinate, coordinate], wanted('point'));
const index = v.pipe(
  v.number(wanted('vertex')),
  v.integer(wanted('vertex')),
  v.minValue(0, wanted('vertex-least')),
);
const foldAngle = v.pipe(
  v.number(wanted('angle')),
  v.minValue(-180, wanted('angle-range')),
  v.maxValue(180, wanted('angle-range')),
);
const side = v.object(
  {
    name: text,
    colour: v.pipe(v.string(wanted('colour')), v.regex(/^#[0-9a-f]{6}$/i, wanted('colour-form'))),
  },
  wanted('side-look'),
);

const madeCrease = v.object(
  {
    from: point,
    to: point,
    side: v.optional(v.picklist(['a', 'b'], wanted('side-up'))),
    landmark: v.optional(text),
    pinch: v.optional(v.boolean(wanted('boolean'))),
  },
  wanted('made-crease'),
);

const drive = v.object({ from: point, to: point, angle: foldAngle }, wanted('drive'));

const limit = v.pipe(
  v.number(wanted('whole')),
  v.integer(wanted('whole')),
  v.minValue(0, wanted('limit-least')),
  v.maxValue(999, wanted('limit-most')),
);

export const lessonSchema = v.object(
  {
    format: v.literal(lessonFormat),
    version: v.literal(lessonVersion),
    title: text,
    place: text,
    credit: v.object(
      {
        maker: text,
        status: text,
        source: v.optional(text),
        permission: v.optional(v.picklist(permissions, wanted('permission', ...permissions))),
        allowed: v.optional(v.array(v.picklist(uses, wanted('use', ...uses)))),
        date: v.optional(text),
      },
      wanted('credit'),
    ),
    sheet: v.object(
      {
        size: v.pipe(
          v.number(wanted('length')),
          v.minValue(sheetSizes.least, wanted('sheet-least', sheetSizes.least)),
          v.maxValue(sheetSizes.most, wanted('sheet-most', sheetSizes.most)),
        ),
        sizeAssumed: v.optional(v.boolean(wanted('boolean'))),
        thickness: v.optional(
          v.pipe(
            v.number(wanted('thickness')),
            v.minValue(0.01, wanted('at-least', 0.01)),
            v.maxValue(5, wanted('at-most', 5)),
          ),
        ),
        lidSize: v.optional(
          v.pipe(
            v.number(wanted('length')),
            v.minValue(1, wanted('at-least', 1)),
            v.maxValue(100000, wanted('at-most', 100000)),
          ),
        ),
        sideUp: v.picklist(['a', 'b'], wanted('side-up')),
        sides: v.object({ a: side, b: side }, wanted('sides')),
      },
      wanted('sheet'),
    ),
    pattern: v.object(
      {
        outline: v.pipe(v.array(point, wanted('corners')), v.minLength(3, wanted('corners-least'))),
        lines: v.array(
          v.object(
            {
              from: point,
              to: point,
              kind: v.picklist(lineKinds, wanted('line-kind', ...lineKinds)),
              angle: v.optional(foldAngle),
            },
            wanted('line'),
          ),
          wanted('lines'),
        ),
        numbers: v.optional(
          v.object(
            {
              vertices: v.array(point, wanted('vertices')),
              creases: v.array(v.tuple([index, index], wanted('two-vertices'))),
              panels: v.array(v.array(index, wanted('vertices'))),
            },
            wanted('numbers'),
          ),
        ),
      },
      wanted('pattern'),
    ),
    precreases: v.optional(v.array(madeCrease, wanted('creases'))),
    still: v.optional(point),
    parts: v.optional(
      v.array(
        v.object({ at: point, name: v.pipe(text, v.minLength(1, wanted('part-name'))) }, wanted('part')),
        wanted('parts'),
      ),
    ),
    steps: v.array(
      v.object(
        {
          title: text,
          sentence: text,
          kind: v.picklist(stepKinds, wanted('step-kind', ...stepKinds)),
          drives: v.array(drive, wanted('drives')),
          through: v.optional(v.array(v.array(drive, wanted('drives')), wanted('poses'))),
          turn: v.optional(
            v.pipe(
              v.number(wanted('angle')),
              v.minValue(-180, wanted('turn-range')),
              v.maxValue(180, wanted('turn-range')),
            ),
          ),
          makes: v.optional(v.array(madeCrease, wanted('creases'))),
          landmark: v.optional(text),
          landmarkAt: v.optional(v.array(point, wanted('points'))),
          look: v.optional(
            v.object({
              eye: v.object({ bearing: coordinate, fall: coordinate, zoom: coordinate }),
              glass: v.optional(v.picklist(['all', 'front'], wanted('glass'))),
              fan: v.optional(
                v.pipe(
                  v.number(wanted('number')),
                  v.minValue(0, wanted('at-least', 0)),
                  v.maxValue(1, wanted('at-most', 1)),
                ),
              ),
            }),
          ),
          off: v.optional(v.boolean(wanted('boolean'))),
          assumed: v.optional(v.boolean(wanted('boolean'))),
          minutes: v.optional(
            v.pipe(
              v.number(wanted('minutes')),
              v.minValue(0, wanted('at-least', 0)),
              v.maxValue(600, wanted('at-most', 600)),
            ),
          ),
          orders: v.optional(
            v.array(
              v.object(
                { layer: point, side: v.picklist(['up', 'down'], wanted('order-side')), of: point },
                wanted('order'),
              ),
              wanted('orders'),
            ),
          ),
        },
        wanted('step'),
      ),
      wanted('steps'),
    ),
    limits: v.optional(v.object({ creasesAtOnce: limit, turnOvers: limit }, wanted('limits'))),
  },
  wanted('lesson'),
);
