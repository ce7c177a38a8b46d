/** What the command line says: why a call cannot be used, and its answers for people. */
import { fixedText, plural } from '../numbers.ts';

const unused = {
  verbLater: (verb: string) =>
    `The verb "${verb}" comes with a later version of Creaseway; today there are check, fold and layers.`,
  noVerb: (verb: string) =>
    `There is no verb "${verb}": say creaseway check FILE, creaseway fold FILE or creaseway layers FILE.`,
  noOption: (verb: string, option: string, allowed: readonly string[]) =>
    `The verb ${verb} has no option --${option}: it has ${allowed.map((word) => `--${word}`).join(', ')}.`,
  oneFile: (verb: string, count: number) =>
    `The verb ${verb} wants one file, not ${count}: say creaseway ${verb} FILE.`,
  notUnderstood: (said: string) => `The call cannot be understood: ${said}.`,
  wantsNumber: (option: string, low: number, high: number, text: string) =>
    `--${option} wants a number from ${low} to ${high}, not "${text}".`,
  wantsWhole: (option: string, text: string) => `--${option} wants a whole number, not "${text}".`,
  wantsLength: (option: string, text: string) =>
    `--${option} wants a length such as 210mm, 21cm or 8.5in, not "${text}".`,
  wantsRegion: (text: string) =>
    `--region wants the number of a sheet in the drawing, or all for every line of it, not "${text}".`,
  severalSheets: (sheets: readonly { readonly size: string; readonly creases: number }[]) =>
    `This drawing holds ${sheets.length} sheets, so say which with --region: ${sheets
      .map(
        ({ size, creases }, k) =>
          `${k + 1} (${size}, ${creases} ${plural(creases, { one: 'crease', other: 'creases' })})`,
      )
      .join(', ')}.`,
  wantsSide: (text: string) =>
    `--up wants a or b, the side of the paper that faces up at the start, not "${text}".`,
  wantsPair: (option: string, text: string) => `--${option} wants two panels such as 3,7, not "${text}".`,
  wantsHold: (text: string) => `--hold wants CREASE=DEGREES such as 12=90, not "${text}".`,
  noFold: (crease: number) =>
    `--hold names crease ${crease}, which does not fold on this sheet: see check --list.`,
  noStepInFile: (step: number, count: number) =>
    `There is no step ${step}: this file has ${count} ${plural(count, { one: 'step', other: 'steps' })}.`,
  noStepInLesson: (step: number, count: number) => `There is no step ${step}: this lesson has ${count}.`,
  noPanel: (panel: number, count: number) =>
    `There is no panel ${panel}: this sheet has ${count}, counted from 0.`,
  noAngle: (crease: number) =>
    `Crease ${crease} has no finished angle, so the pose is not known: give it one.`,
  noLayersAfter: (step: number, why: string | null) =>
    `Step ${step} cannot be folded, so nothing is known of the layers after it${why ? `: ${why}` : '.'}`,
  outEnds: (endings: readonly string[], out: string) =>
    `--out wants a file that ends in ${endings.join(', ')}, not "${out}".`,
  trackWantsOut: () => '--track writes a folder of poses: name it with --out.',
  notWritten: (out: string, code: string | null) =>
    `"${out}" cannot be written: ${code ?? 'unknown trouble'}.`,
  notFlat: () => 'This pose does not lie flat, so it cannot be written as .svg: ask for .fold, .glb or .obj.',
  noSheet: () => 'This file makes no sheet.',
  linesNotWanted: () => '--lines is for SVG and DXF drawings; this file says itself what its lines are.',
  severalPages: (pages: readonly number[]) =>
    `This file has lines on pages ${pages.join(', ')}, so say which with --page.`,
  regionNotWanted: () => '--region is for SVG and DXF drawings; this file holds one sheet.',
  sizeWanted: () =>
    '--true-up needs the size of the sheet, which this file does not say: add --sheet, such as --sheet 210mm.',
  mappingUnusable: (path: string, why: string) => `The line mapping "${path}" cannot be used: ${why}`,
  notOpened: (path: string, code: string | null) =>
    `The file "${path}" cannot be opened: ${notOpenedWhy[code ?? ''] ?? code ?? 'unknown trouble'}.`,
};

const notOpenedWhy: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EISDIR: 'it is a folder',
};

/** How a step got where it ends. */
const outcomes = {
  rigid: 'with stiff panels',
  bends: 'with panels that bend',
  fails: 'no motion was found',
  stopped: 'stopped before it was found',
};

interface Counts {
  readonly panels: number;
  readonly creases: number;
  readonly vertices: number;
  readonly interiorVertices: number;
}

interface Listed {
  readonly kind: string;
  readonly angle: number | null;
  readonly from: readonly number[];
  readonly to: readonly number[];
}

const usage = `creaseway check FILE [--folded] [--seconds S] [--still PANEL] [--json] [--list] [--true-up MM] [--sheet 210mm]
                [--lines FILE] [--region N|all] [--page N]
creaseway fold FILE [--to T] [--hold CREASE=DEG ...] [--free] [--still PANEL] [--step N] [--bend] [--track N]
               [--up a|b] [--motion-only] [--seconds S] [--sheet 210mm] [--true-up MM] [--lines FILE] [--region N|all] [--page N]
               [--json] [--out F]
creaseway layers FILE [--to T] [--step N] [--over P,Q ...] [--under P,Q ...] [--seconds S] [--list] [--json]
                 [--region N|all] [--page N]
FILE is .svg, .pdf, .png, .jpg, .dxf, .fold or a lesson; - is standard input.
`;

export const commandLine = {
  ...unused,
  usage,
  counts: ({ panels, creases, vertices, interiorVertices }: Counts) =>
    `${panels} panels, ${creases} creases, ${vertices} corners (${interiorVertices} interior)`,
  truedUp: (moved: number) => `trued up: the worst corner moved ${moved.toPrecision(3)} mm`,
  cornerAt: (corner: number, x: number, y: number) => `corner ${corner}: ${x}, ${y}`,
  creaseFrom: (crease: number, { kind, angle, from, to }: Listed) =>
    `crease ${crease}: ${kind}${angle === null ? '' : ` ${angle}°`}, (${from.join(', ')}) to (${to.join(', ')})`,
  panelRound: (panel: number, rings: readonly (readonly number[])[]) =>
    `panel ${panel}: corners ${rings.map((ring) => ring.join(' ')).join('; hole ')}`,
  lookedAt: () =>
    'looked at: the drawing and its corners; not looked at: motion, layers and contact (--folded)',
  nothingFound: () => 'nothing to report',
  closes: (largest: number) => `this state closes (to ${largest.toExponential(1)} radians)`,
  doesNotClose: (largest: number) =>
    `this state does not close (${largest.toExponential(1)} radians left over)`,
  gettingThere: (outcome: keyof typeof outcomes, bend: number) =>
    `getting there: ${outcomes[outcome]}${bend > 0 ? `, panels bend by up to ${fixedText(bend, 1)}°` : ''}`,
  freedoms: (count: number, deviation: number) => `freedoms ${count}, deviation ${fixedText(deviation, 4)}°`,
  size: (lengths: readonly number[]) =>
    `size ${lengths.map((length) => fixedText(length, 2)).join(' × ')} mm`,
  written: (to: string) => `written: ${to}`,
  stackings: (states: string, isOne: boolean, exact: boolean, seconds: number, deepest: number) =>
    `${exact ? '' : 'at least '}${states} stacking${isOne ? '' : 's'}${exact ? '' : `, stopped after ${seconds} s`}; at most ${deepest} layers at a point`,
};
