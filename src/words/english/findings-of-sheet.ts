/** What is wrong with a sheet, its lines and its corners. */
import type { Behind, GraphClash, SheetValues, StillOff } from '../../core/finding/values/sheet.ts';
import { calling } from '../calling.ts';
import { figuresText, numberText, plural } from '../numbers.ts';
import type { SentencesOf } from '../sentence.ts';
import { filePlace, placeText, roughPlace } from './parts.ts';

const length = (value: number) => calling().length?.(value) ?? figuresText(value, 3);
const roughLength = (value: number) => calling().length?.(value) ?? figuresText(value, 2);
const degrees = (value: number) => `${figuresText(value, 4)} degrees`;
const exactly = (value: number) => figuresText(value, 3, true);
const corner = ({ place }: { readonly place: Parameters<typeof placeText>[0] }) =>
  `At the corner at ${placeText(place)}`;

const outOf = { 'taken-in-file': 'The file', 'taken-in-drawing': 'The drawing' } as const;
const lineOff = { crease: 'crease', edge: 'raw edge', cut: 'cut' } as const;

export const findingsOfSheet: SentencesOf<SheetValues> = {
  'vertex-odd-degree': (values) => {
    const { folds } = values;
    const meet = plural(folds, { one: `${folds} fold ends`, other: `${folds} folds meet` });
    return `${corner(values)} ${meet}; a corner that folds flat needs an even number.${behindIt(values)}`;
  },
  'vertex-angle-sum': (values) =>
    `${corner(values)} every other angle sums to ${degrees(values.sum)}; to fold flat it must be 180.${behindIt(values)}`,
  'vertex-mountain-valley-count': (values) =>
    `${corner(values)} there are ${values.mountains} mountains and ${values.valleys} valleys; to fold flat they must differ by two.${behindIt(values)}`,
  'vertex-small-angle': (values) =>
    `${corner(values)} a narrow panel lies between wider ones and cannot fold in: the folds on its two sides go the same way. Turn one of them over.${behindIt(values)}`,
  'vertex-closure': (values) => `${cornerOpen(values)}${behindIt(values)}`,
  'hole-closure': (values) => {
    const open =
      values.how === 'left-over'
        ? `Round the hole beside the corner at ${placeText(values.place)} the finished angles do not close: ${degrees(values.left)} and a gap of ${length(values.gap)} are left over.`
        : `Going round a hole the panels do not meet again (${exactly(values.left)}° and ${exactly(values.gap)} of the sheet left over): correct the angles of its creases.`;
    return `${open}${behindIt(values)}`;
  },
  'crease-dangling': (values) => {
    if (values.how === 'marks') {
      const { count } = values;
      const marks = plural(count, { one: 'A mark ends', other: `${count} marks end` });
      return `${marks} in the middle of a panel.`;
    }
    if (values.gap !== undefined) {
      const crease = values.how === 'undecided' ? 'crease' : values.kind;
      return `A ${crease} stops ${length(values.gap)} short of the next line, at ${roughPlace(values.place)}: draw it on to there.`;
    }
    return values.how === 'undecided'
      ? `A crease that may go either way ends at ${roughPlace(values.place)} in the middle of a panel, so it stays flat.`
      : `A ${values.kind} ends at ${roughPlace(values.place)} in the middle of a panel and cannot fold: draw it on to the next crease or to the edge.`;
  },
  'crease-overlap': (values) => {
    if (values.how === 'rebuilt')
      return `The graph in the file does not hold as it stands (${clashText(values.clash)}); it was built anew from its lines, so numbers differ from the file's.`;
    const names = values.first.map(filePlace).join(' and ');
    const lines =
      values.count === 1
        ? `Two lines lie on each other (${names})`
        : `Lines lie on each other in ${values.count} places (the first: ${names})`;
    if (values.how === 'kind')
      return `${lines}: one ${values.lost}, one ${values.won}; ${values.won} was kept.`;
    return values.how === 'same'
      ? `${lines}; repeats were dropped.`
      : `${lines} with different finished angles; the angle of the longer line was kept.`;
  },
  'crease-snapped': (values) =>
    values.how === 'many'
      ? `Lines did not quite meet in ${values.count} places and were joined there; the widest gap was ${length(values.gap)}.`
      : `Lines did not quite meet at ${placeText(values.place)} and were joined there; the gap was ${length(values.gap)}.`,
  'crease-too-short': ({ count, first }) =>
    count === 1
      ? `${filePlace(first)}: the line is too short to fold and was left out.`
      : `${count} lines are too short to fold and were left out (the first is ${filePlace(first)}).`,
  'crease-outside': (values) => {
    const { count } = values;
    const first = filePlace(values.first);
    if (values.how === 'cut-off')
      return count === 1
        ? `${first}: the line runs over the edge of the paper and was cut off there.`
        : `${count} lines run over the edge of the paper and were cut off there (the first is ${first}).`;
    return count === 1
      ? `${first}: the ${lineOff[values.kind]} lies off the paper and was left out.`
      : `${count} lines lie off the paper and were left out (the first is ${first}).`;
  },
  'outline-open': (values) =>
    values.how === 'no-paper'
      ? 'The raw edges enclose no paper: draw the edge of the sheet as one closed line.'
      : `The outline is open: between ${placeText(values.from)} and ${placeText(values.to)} a piece of ${length(values.gap)} is missing. Close it there.`,
  'outline-several': ({ how, count }) => {
    if (how === 'largest-taken')
      return `The drawing has ${count} separate outlines; only the largest was taken. Put each sheet in a drawing of its own.`;
    const edges = plural(count, { one: 'A raw edge has', other: `${count} pieces of raw edge have` });
    return `${edges} paper on both sides and count as a cut.`;
  },
  'outline-missing': ({ how }) => {
    if (how === 'none')
      return 'The drawing has no outline and its lines enclose no paper: draw the edge of the sheet as a closed line.';
    const whose = how === 'taken-in-file' ? 'the' : 'its';
    return `${outOf[how]} names no raw edge, so ${whose} outermost lines were taken as the edge of the sheet.`;
  },
  'sheet-empty': ({ how }) => emptyBecause[how],
  'sheet-disconnected': ({ pieces }) =>
    `Cuts part the paper into ${pieces} pieces: a model is folded from one sheet. Shorten the cut that runs all the way.`,
  'vertex-moved': (values) => {
    switch (values.how) {
      case 'in-vain':
        return 'No small movement of its corners makes this drawing fold true: mend the corners that do not close.';
      case 'too-far':
        return `To fold true, one corner of this drawing would have to move by ${roughLength(values.moved)}, more than the limit of ${roughLength(values.limit)}.`;
      case 'onto-grid':
        return `All corners lie near a grid of ${values.parts} parts of the longer side, and were moved onto it by up to ${roughLength(values.moved)} so that it folds true.`;
      case 'moved': {
        const { moved, rounding, stillOff } = values;
        const done =
          moved === null
            ? 'Nothing had to be moved for this drawing to fold true.'
            : `Corners of the drawing were moved by up to ${roughLength(moved)} so that it folds true.`;
        const left =
          rounding === null
            ? ''
            : ` What is left over, ${figuresText(rounding, 2, true)}°, is rounding of the angles as given.`;
        const off = stillOff.length > 0 ? ` Still off: ${stillOff.map(offText).join(', ')}.` : '';
        return `${done}${left}${off}`;
      }
    }
  },
};

const emptyBecause = {
  'no-lines': 'The drawing has no lines: draw the outline and the creases.',
  'points-only': 'Every line of the drawing is a single point: draw the outline and the creases.',
  'no-edges': 'The file has no edges: it needs an outline and creases.',
  'no-line-found':
    'No line was found in this drawing: draw the outline and the creases as straight stroked lines and save it again.',
  'no-edges-vertices': 'This FOLD file has no edges_vertices, so it has no creases: save it with edges.',
} as const;

function cornerOpen(values: SheetValues['vertex-closure']): string {
  switch (values.how) {
    case 'through-itself':
      return `${corner(values)} the finished angles close only if the paper passes through itself: a fold there must go the other way.`;
    case 'left-over':
      return `${corner(values)} the finished angles do not close: ${degrees(values.left)} are left over, so the paper would tear or bend there.`;
    case 'pose-through-itself':
      return `Going round corner ${values.vertex} the folds add up to one whole turn too much or too few: paper would have passed through itself there; fold one of its creases the other way.`;
    case 'pose-left-over':
      return `Going round corner ${values.vertex} the panels do not meet again (${exactly(values.left)}° left over): correct the angles of its creases.`;
  }
}

/** What one mistake may be behind it all, as a sentence that follows. */
function behindIt({ behind }: { readonly behind?: Behind }): string {
  if (!behind) return '';
  if (behind.how === 'moved') {
    const { corner: vertex, far, or } = behind;
    const others = or.length > 0 ? ` So it does with corner ${or.join(' or ')} moved.` : '';
    return ` With corner ${vertex} moved by ${roughLength(far)} every corner closes.${others}`;
  }
  const { creases, sure } = behind;
  const which = sure ? `crease ${creases[0]}` : `one of creases ${creases.join(', ')}`;
  if (behind.how === 'turned') return ` With ${which} turned the other way every corner closes.`;
  return sure
    ? ` With ${which} at ${numberText(behind.angle, 2)} degrees every corner closes.`
    : ` With another angle of ${which} every corner closes.`;
}

function clashText(clash: GraphClash): string {
  switch (clash.how) {
    case 'one-place':
      return 'all corners lie in one place';
    case 'several-sheets':
      return `its raw edges enclose ${clash.count} sheets`;
    case 'off-paper':
      return `edge ${clash.edge} lies off the paper`;
    case 'no-paper':
      return 'its raw edges enclose no paper';
    case 'no-length':
      return `edge ${clash.edge} has no length`;
    case 'same':
      return `edges ${clash.edges.join(' and ')} are the same`;
    case 'meet':
      return `edges ${clash.edges.join(' and ')} meet without a common corner`;
  }
}

function offText({ name, by }: StillOff): string {
  const told = name === 'halved angles' ? `${figuresText(by, 2, true)}°` : roughLength(by);
  return `${name} (by up to ${told})`;
}
