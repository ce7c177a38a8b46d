/** Why a file cannot be used, and how it was read. */
import type {
  Curve,
  FileValues,
  GuessReason,
  PassedOver,
  PictureTrouble,
} from '../../core/finding/values/file.ts';
import { plural } from '../numbers.ts';
import type { SentencesOf } from '../sentence.ts';
import { filePlace, listed } from './parts.ts';
import { shownText, unreadable } from './unreadable.ts';

const again = 'correct it and open the file again';

type NotOfSheet = Record<'round' | 'beside' | 'curves', number>;

/** What stands round and beside the sheet. */
function notOfSheet({ round, beside, curves }: NotOfSheet): string {
  const lines = (count: number, where: string) =>
    count === 0 ? [] : [`${count} ${plural(count, { one: 'line', other: 'lines' })} ${where} the sheet`];
  const bent =
    curves === 0 ? [] : [`${curves} ${plural(curves, { one: 'curve', other: 'curves' })} off the sheet`];
  const all = [...lines(round, 'round'), ...lines(beside, 'beside'), ...bent];
  const one = round + beside + curves === 1;
  return `${listed(all)} left out, as no crease ends there: if ${one ? 'it belongs' : 'they belong'} to the pattern, draw ${one ? 'it' : 'them'} on to the sheet.`;
}

export const findingsOfFiles: SentencesOf<FileValues> = {
  'file-unreadable': unreadable,
  'file-too-large': (values) => {
    const { most } = values;
    switch (values.how) {
      case 'lines':
        return `The drawing has ${values.count} lines, more than the ${most} that can be read: leave out what is not a crease.`;
      case 'bytes':
        return `The file is ${values.count} MB, and at most ${most} MB can be opened: delete what is not part of the crease pattern.`;
      case 'pages':
        return `This file has ${values.count} pages, more than the ${most} that are looked through: save the page with the crease pattern by itself.`;
      case 'crossings':
        return `The lines of the drawing cross more than ${most} times: leave out hatching and fills.`;
      case 'strokes':
        return `This drawing has more than ${most} lines, the most that can be opened: delete what is not part of the crease pattern.`;
      case 'svg-styles':
        return 'The style rules of the drawing are matched with its elements too often to be followed: give lines a class or a style of their own and save again.';
      case 'svg-shapes':
        return 'The drawing repeats long paths, clip paths or lists too often to be read: turn the copies into plain lines and save again.';
      case 'svg-repeats':
        return `The drawing repeats its parts more than ${most} times: turn the copies into plain lines and save again.`;
      case 'dxf-repeats':
        return `The drawing repeats what its blocks hold more than ${most} times: delete the copies that are not part of the crease pattern and save it again.`;
      case 'fold':
        return `This FOLD file has ${values.count} ${values.of}, and at most ${most} can be opened: split the pattern.`;
    }
  },
  'number-invalid': (values) => {
    switch (values.how) {
      case 'of-line':
        return `A number of ${filePlace(values.place)} is missing, infinite or far too large: mend that line and open the file again.`;
      case 'lists-differ':
        return `The file lists ${values.edges} edges but ${values.kinds} kinds and ${values.angles} angles: the lists must be equally long.`;
      case 'of-vertex':
        return `Vertex ${values.vertex} has a coordinate that is missing, infinite or far too large: mend it and open the file again.`;
      case 'vertex-missing':
        return `Edge ${values.edge} names a vertex that is not there (there are ${values.vertices}): mend it and open the file again.`;
      case 'no-number':
        return `At ${filePlace(values.place)}, "${shownText(values.shown)}" is not a number: ${again}.`;
      case 'too-large':
        return `At ${filePlace(values.place)}, "${shownText(values.shown)}" is larger than ${values.most}, which no sheet needs: ${again}.`;
      case 'angle-of-name':
        return `The name "${values.name}" asks for more than a half turn: give a fold angle from 0 to 180 degrees.`;
      case 'length':
        return `At ${filePlace(values.place)}, the length "${values.text}" has no fixed size: write it in user units, mm, cm, in, pt or px.`;
      case 'angle':
        return `At ${filePlace(values.place)}, ${values.angle} degrees is more than a half turn: correct it.`;
    }
  },
  'line-curved': ({ first, count }) => {
    const more = count > 1 ? ` (and ${count - 1} more)` : '';
    return `The drawing holds ${curveText(first)}${more}, and a crease pattern folds along straight lines only: draw it with straight lines or delete it.`;
  },
  'line-ignored': (values) => {
    switch (values.how) {
      case 'faces':
        return 'The faces listed in the file are not the regions between its edges; they were found anew and numbered afresh.';
      case 'left-out':
        return `${values.count} × ${passedOverText(values.what)} in the drawing left out: it is no line of the pattern.`;
      case 'not-of-sheet':
        return notOfSheet(values);
      case 'style-rules':
        return `${values.count} style ${plural(values.count, { one: 'rule that is', other: 'rules that are' })} not followed left out: give lines a class or a style of their own.`;
      case 'cut': {
        const cut = plural(values.count, { one: 'line is', other: 'lines are' });
        return `${values.count} ${cut} cut or left out where a clip path or a view port hides them (first at ${filePlace(values.first)}): release the clip in the drawing program if more of them is wanted.`;
      }
      case 'colours': {
        const lines = plural(values.count, { one: 'line', other: 'lines' });
        return `${values.count} ${lines} taken as black (first at ${filePlace(values.first)}), as no plain colour is given: a colour that is fetched from elsewhere is not fetched.`;
      }
      case 'unfollowed':
        return `${values.count} × ${values.what} in the drawing not followed (first at ${filePlace(values.first)}), and lines kept as if it were not there: apply or remove it in the drawing program if they look otherwise.`;
    }
  },
  'picture-read': ({ lines, doubtful, unexplained }) => {
    const some = plural(doubtful, {
      one: `1 of ${lines} lines is doubtful`,
      other: `${doubtful} of ${lines} lines are doubtful`,
    });
    const ink = plural(unexplained, {
      one: 'in 1 place there is ink that no line explains',
      other: `in ${unexplained} places there is ink that no line explains`,
    });
    return `This pattern was read from a picture, which is never exact: ${some}, and ${ink}. Hold every line and its kind against the picture before you teach from it.`;
  },
  'line-kind-guessed': ({ count, dash, colour, layer, kind, reason }) => {
    const on = layer ? ` on layer "${layer}"` : '';
    const lines = `${count} ${dash} ${plural(count, { one: 'line', other: 'lines' })} of colour ${colour}${on}`;
    const taken = kind === 'ignore' ? 'are left out' : `are taken as ${kind}`;
    return `${lines} ${taken} because ${reasonText(reason)}; set this group to another kind if that is wrong.`;
  },
  'picture-left-out': (values) => {
    const rest = 'so it was left out: the lesson itself is whole, save it again to give it new pictures.';
    switch (values.how) {
      case 'no-list':
        return `The pictures in this file are no list, ${rest}`;
      case 'too-many':
        return `Some pictures in this file were more than ${values.most} kB together, ${rest}`;
      case 'of-step':
        return `The picture of step ${values.step + 1} in this file ${troubleText(values.trouble)}, ${rest}`;
    }
  },
};

const shapes = {
  'rounded-corners': 'rounded corners',
  ellipse: 'an ellipse',
  circle: 'a circle',
  arc: 'an arc',
  curve: 'a curve',
} as const;

function curveText(curve: Curve): string {
  if (curve.how === 'shape') return `${shapes[curve.shape]} at ${filePlace(curve.place)}`;
  const { type, line, layer } = curve;
  const what =
    curve.how === 'arc-in' ? `an arc in the ${type}` : `${/^[AEIOU]/.test(type) ? 'an' : 'a'} ${type}`;
  return `${what} at line ${line} on layer "${layer}"`;
}

const passedOver = {
  'no-stroke': 'shape without a stroke',
  invisible: 'shape that cannot be seen',
  foreign: 'element of another name space than SVG',
  'use-of-nothing': 'use of something that is not there',
  'other-file': 'reference to another file',
  'hidden-layer': 'line on a hidden layer',
  mesh: 'mesh',
  clipped: 'line that is cut where the page hides it',
  'block-missing': 'insert of a block that is not there',
  'invisible-entity': 'invisible entity',
  layout: 'line of a page layout (paper space)',
  'other-kind': 'entity of yet another kind',
} as const;

const passedOverText = (what: PassedOver) => (what.how === 'element' ? what.name : passedOver[what.how]);

const reasons = {
  rim: 'they lie on the outer rim of the drawing',
  'dash-dot': 'they are drawn dash-dot',
  dashed: 'they are drawn dashed',
  dotted: 'they are drawn dotted, as hidden lines are',
  heaviest: 'they are the heaviest solid lines',
  'solid-inside': 'they are solid lines inside a drawing whose folds are broken lines',
  'colour-only': 'nothing but their colour sets them apart, and colour tells no kind',
} as const;

const reasonText = (reason: GuessReason) =>
  reason.how === 'layer' ? `their layer is called "${reason.layer}"` : reasons[reason.how];

function troubleText(trouble: PictureTrouble): string {
  switch (trouble.how) {
    case 'no-png':
      return 'is no PNG picture';
    case 'broken':
      return 'is broken';
    case 'kilobytes':
      return `is larger than ${trouble.most} kB`;
    case 'pixels':
      return `has more than ${trouble.most} pixels a side`;
  }
}
