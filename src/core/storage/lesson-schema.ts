/** The entries of a lesson file of the present version, in the order in which they are written. */
import * as v from 'valibot';
import {
  lessonFormat,
  lessonVersion,
  permissions,
  type StepKind,
  sheetSizes,
  uses,
} from '../lesson/lesson.ts';
import { lineKinds } from '../sheet/kind.ts';
import { COORDINATE_LIMIT } from './limits.ts';

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

const text = v.string('text is wanted here');
const coordinate = v.pipe(
  v.number('a number is wanted here'),
  v.finite('the number is not finite'),
  v.check(
    (value) => Math.abs(value) <= COORDINATE_LIMIT,
    `the number is larger than ${COORDINATE_LIMIT}, which no sheet needs`,
  ),
);
const point = v.tuple([coordinate, coordinate], 'a point [x, y] is wanted here');
const index = v.pipe(
  v.number('a number of a vertex is wanted here'),
  v.integer('a number of a vertex is wanted here'),
  v.minValue(0, 'vertices are counted from 0'),
);
const foldAngle = v.pipe(
  v.number('an angle in degrees is wanted here'),
  v.minValue(-180, 'a fold angle lies between -180 and 180 degrees'),
  v.maxValue(180, 'a fold angle lies between -180 and 180 degrees'),
);
const side = v.object(
  {
    name: text,
    colour: v.pipe(
      v.string('a colour is wanted here'),
      v.regex(/^#[0-9a-f]{6}$/i, 'a colour is written #rrggbb'),
    ),
  },
  'the look of a side (name, colour) is wanted here',
);

const madeCrease = v.object(
  {
    from: point,
    to: point,
    side: v.optional(v.picklist(['a', 'b'], 'the side up is "a" or "b"')),
    landmark: v.optional(text),
    pinch: v.optional(v.boolean('true or false is wanted here')),
  },
  'a crease that is made (from, to) is wanted here',
);

const drive = v.object(
  { from: point, to: point, angle: foldAngle },
  'a drive (from, to, angle) is wanted here',
);

const limit = v.pipe(
  v.number('a whole number is wanted here'),
  v.integer('a whole number is wanted here'),
  v.minValue(0, 'a limit is not below 0'),
  v.maxValue(999, 'a limit is at most 999'),
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
        permission: v.optional(v.picklist(permissions, `a permission is one of ${permissions.join(', ')}`)),
        allowed: v.optional(v.array(v.picklist(uses, `what is allowed is one of ${uses.join(', ')}`))),
        date: v.optional(text),
      },
      'the credit (maker, status) is wanted here',
    ),
    sheet: v.object(
      {
        size: v.pipe(
          v.number('a length in mm is wanted here'),
          v.minValue(sheetSizes.least, `a sheet is at least ${sheetSizes.least} mm long`),
          v.maxValue(sheetSizes.most, `a sheet is at most ${sheetSizes.most} mm long`),
        ),
        sizeAssumed: v.optional(v.boolean('true or false is wanted here')),
        thickness: v.optional(
          v.pipe(v.number('a thickness in mm is wanted here'), v.minValue(0.01), v.maxValue(5)),
        ),
        lidSize: v.optional(
          v.pipe(v.number('a length in mm is wanted here'), v.minValue(1), v.maxValue(100000)),
        ),
        sideUp: v.picklist(['a', 'b'], 'the side up is "a" or "b"'),
        sides: v.object({ a: side, b: side }, 'the looks of sides a and b are wanted here'),
      },
      'the sheet (size, sideUp, sides) is wanted here',
    ),
    pattern: v.object(
      {
        outline: v.pipe(
          v.array(point, 'a list of corners is wanted here'),
          v.minLength(3, 'an outline has at least three corners'),
        ),
        lines: v.array(
          v.object(
            {
              from: point,
              to: point,
              kind: v.picklist(lineKinds, `a kind is one of ${lineKinds.join(', ')}`),
              angle: v.optional(foldAngle),
            },
            'a line (from, to, kind) is wanted here',
          ),
          'a list of lines is wanted here',
        ),
        numbers: v.optional(
          v.object(
            {
              vertices: v.array(point, 'a list of vertices is wanted here'),
              creases: v.array(v.tuple([index, index], 'two vertices are wanted here')),
              panels: v.array(v.array(index, 'a list of vertices is wanted here')),
            },
            'numbers (vertices, creases, panels) are wanted here',
          ),
        ),
      },
      'the pattern (outline, lines) is wanted here',
    ),
    precreases: v.optional(v.array(madeCrease, 'a list of creases is wanted here')),
    still: v.optional(point),
    parts: v.optional(
      v.array(
        v.object(
          { at: point, name: v.pipe(text, v.minLength(1, 'a name is wanted here')) },
          'the name of a part (at, name) is wanted here',
        ),
        'a list of names of parts is wanted here',
      ),
    ),
    steps: v.array(
      v.object(
        {
          title: text,
          sentence: text,
          kind: v.picklist(stepKinds, `a kind of step is one of ${stepKinds.join(', ')}`),
          drives: v.array(drive, 'a list of drives is wanted here'),
          through: v.optional(
            v.array(v.array(drive, 'a list of drives is wanted here'), 'a list of poses is wanted here'),
          ),
          turn: v.optional(
            v.pipe(
              v.number('an angle in degrees is wanted here'),
              v.minValue(-180, 'a turn lies between -180 and 180 degrees'),
              v.maxValue(180, 'a turn lies between -180 and 180 degrees'),
            ),
          ),
          makes: v.optional(v.array(madeCrease, 'a list of creases is wanted here')),
          landmark: v.optional(text),
          landmarkAt: v.optional(v.array(point, 'a list of points is wanted here')),
          look: v.optional(
            v.object({
              eye: v.object({ bearing: coordinate, fall: coordinate, zoom: coordinate }),
              glass: v.optional(v.picklist(['all', 'front'], 'glass is "all" or "front"')),
              fan: v.optional(v.pipe(v.number('a number is wanted here'), v.minValue(0), v.maxValue(1))),
            }),
          ),
          off: v.optional(v.boolean('true or false is wanted here')),
          assumed: v.optional(v.boolean('true or false is wanted here')),
          minutes: v.optional(
            v.pipe(v.number('a number of minutes is wanted here'), v.minValue(0), v.maxValue(600)),
          ),
          orders: v.optional(
            v.array(
              v.object(
                { layer: point, side: v.picklist(['up', 'down'], 'a side is "up" or "down"'), of: point },
                'an order (layer, side, of) is wanted here',
              ),
              'a list of orders is wanted here',
            ),
          ),
        },
        'a step is wanted here',
      ),
      'a list of steps is wanted here',
    ),
    limits: v.optional(
      v.object(
        { creasesAtOnce: limit, turnOvers: limit },
        'limits (creasesAtOnce, turnOvers) are wanted here',
      ),
    ),
  },
  'a lesson object is wanted here',
);
