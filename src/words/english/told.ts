/** What the column tells of what is selected, of the lesson, and of the model on the table. */
import type { PlaceOnSheet } from '../../core/lesson/part-names.ts';
import { fixedText, groupedText } from '../numbers.ts';
import { fineMillimetres } from './measures.ts';
import { allPanels, listed } from './parts.ts';
import { whyText } from './why.ts';

export const told = {
  stackingIn: (step: number) => `Step ${step}: which stacking is meant?`,
  moreAbout: 'More about this',

  nothingSelected: 'Point at a crease or a panel, on the sheet or on the model, to read about it.',
  nameOfPart: 'Name of this panel',
  panelAt: (panel: number, { across, up }: PlaceOnSheet) => {
    const place = [up, across].filter((one) => one !== 'middle').join(' ') || 'middle';
    return `Panel ${panel}, ${place}`;
  },
  corner: 'Corner',
  number: (id: number) => `no. ${id}`,
  now: 'Now',
  atTheEnd: 'At the end',
  length: 'Length',
  area: 'Area',
  madeIn: 'Made in step',
  follows: 'follows the others',
  creasesFollow: (creases: readonly number[]) =>
    creases.length === 1
      ? `Crease ${creases[0]} follows`
      : creases.length > 8
        ? `${creases.length} creases follow`
        : `Creases ${creases.join(', ')} follow`,
  faces: 'Side up now',
  facesText: (side: string, name: string) => `${side}, ${name}`,
  onEdge: 'stands on edge',
  bendsBy: 'Bends by',
  bendText: (degrees: number) => `${fixedText(degrees, 1)}°`,
  stillYes: 'This panel stays still',
  keepStill: 'Keep this panel still',
  creasesMeet: 'Creases meeting',
  leftOver: 'Left over',
  free0: 'This pose cannot move.',
  free1: 'Drag a corner of the model to try where it can move (1 freedom).',
  freeMany: (count: number) => `Drag a corner of the model to try where it can move (${count} freedoms).`,
  sizeNow: (size: string) => `${size} as it is`,
  sizeFinished: (size: string) => `Finished ${size}`,
  movedByHand: 'Moved by hand.',
  shapeShown: 'The finished shape; no motion to it was found.',
  backToTrack: 'Back to the step',

  /** @param bend degrees, @param tight mm; 0 where there is none */
  allWell: (bend: number, tight: number) => {
    const gives = tight > 0.05 ? `; paper has to give up to ${groupedText(tight, 1)} mm` : '';
    return bend > 0.05
      ? `Folds in every step, with panels bending up to ${groupedText(bend, 1)}°${gives}.`
      : `Folds with stiff panels in every step${gives}.`;
  },
  allWellBut: 'Folds in every step, but a problem stands below.',
  endsShort: 'Folds in every step, but ends short of the finished shape, as said below.',
  nothingFolds: 'Nothing folds yet.',
  stillChecking: 'The lesson is being checked…',
  notLooked: {
    closes: (title: string) => `“${title}” has not been computed.`,
    reaches: (title: string) => `“${title}” has not been computed.`,
    moves: (title: string) => `“${title}” has not been computed.`,
    layers: (title: string) => `Layers and contact of “${title}” are being looked at…`,
    contact: (title: string) => `Layers and contact of “${title}” are being looked at…`,
  },
  refused: {
    closes: (title: string) => `“${title}” asks for angles that do not close.`,
    reaches: (title: string) => `“${title}” does not end as asked.`,
    moves: (title: string) => `“${title}” does not fold as asked.`,
    layers: (title: string) => `In “${title}” the layers have no order.`,
    contact: (title: string) => `In “${title}” paper would pass through paper.`,
  },
  gaveUp: {
    closes: (title: string) => `Whether “${title}” closes was not found in time.`,
    reaches: (title: string) => `Whether “${title}” ends as asked was not found in time.`,
    moves: (title: string) => `Whether “${title}” can be folded was not found in time.`,
    layers: (title: string) => `Whether the layers of “${title}” have an order was not found in time.`,
    contact: (title: string) => `Whether paper passes paper in “${title}” was not found in time.`,
  },
  broken: {
    motion: (title: string, why: string) => `“${title}” could not be computed: ${whyText(why)}.`,
    look: (title: string, why: string) =>
      `Layers and contact of “${title}” could not be looked at: ${whyText(why)}.`,
  },
  tryAgain: 'Try again',
  stillComputing: 'Being computed…',
  severity: { error: 'Problem', warning: 'Look here', note: 'Note' },
  moreFindings: (count: number) => `and ${count} more`,
  trueUpOffer: (moved: number) =>
    `Some corners of this drawing miss by a hair. The worst one would move ${fineMillimetres(moved)}.`,
  trueUp: (moved: number) => `True up (worst corner moves ${fineMillimetres(moved)})`,
  trueUpAsk: (moved: number) =>
    `The worst corner would move ${fineMillimetres(moved)}, more than half a millimetre. Move it?`,
  trueUpTitle: 'True up this drawing?',
  goAhead: 'Move the corners',
  leaveIt: 'Leave as drawn',

  verdict: { stands: 'stands', rocks: 'rocks', 'tips over': 'tips over' },
  verdictText: (verdict: string, base: string) => `Set on the table it ${verdict}. ${base}`,
  liesFlat: (side: string | null) => `Set on the table it lies flat${side ? `, ${side} down` : ''}.`,
  endsFlat: (verdict: string, side: string | null) =>
    `Set on the table it ${verdict} and lies flat${side ? `, ${side} down` : ''}.`,
  restsOn: (panels: string, side: string | null) => `It rests on ${panels}${side ? `, ${side} down` : ''}.`,
  restsOnRim: 'It rests on edges and corners.',
  placesFrom: 'Places are measured across and up from the lower left corner of the sheet.',
  lengthInMillimetres: fineMillimetres,
  /** From the lower left corner of the sheet. */
  placeInMillimetres: (x: number, y: number) => `(${groupedText(x, 1)}, ${groupedText(y, 1)} mm)`,
  /** Where else the same was found. */
  sameAt: (places: readonly string[]) => {
    const shown = places.length > 6 ? [...places.slice(0, 5), `${places.length - 5} more`] : places;
    return `The same at ${listed(shown)}.`;
  },
  panelsList: (panels: readonly number[]) =>
    panels.length > 4 ? `${panels.length} panels` : allPanels(panels),
};
