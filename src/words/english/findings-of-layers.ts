/** Why layers have no order. */
import type { AskedName, LayerValues, LayerWhy } from '../../core/finding/values/layer.ts';
import type { StepNamed } from '../../core/finding/values/place.ts';
import type { SentencesOf } from '../sentence.ts';
import { allPanels, capital, namedAll, panelsText, stepText } from './parts.ts';

export const findingsOfLayers: SentencesOf<LayerValues> = {
  'layer-none': (values, { panels }) => {
    if (values.how === 'bent')
      return `Bent as they are at the end, ${panelsText(panels)} cannot be stacked: they would pass through one another.`;
    if (values.how === 'gave-up')
      return values.after
        ? `${afterStep(values.after)}whether the layers can be ordered was not found in time; what is known of them is kept. Give it more time.`
        : 'Whether the layers of the finished pose can be ordered was not found in time: give more --seconds.';
    const { after, why, stick } = values;
    const told = why ? noOrder(why) : 'The layers of the finished pose cannot be ordered.';
    return `${after ? afterStep(after) : ''}${told}${stick ? sticking(stick.how, stick.corners) : ''}`;
  },
};

const afterStep = (step: StepNamed) => `After ${stepText(step)}: `;

function sticking(how: 'through' | 'past', corners: readonly number[]): string {
  const where = how === 'through' ? 'through' : 'past the fold';
  const shown = corners.slice(0, 4).join(', ');
  return corners.length > 1 ? ` Corners ${shown} stick ${where}.` : ` Corner ${shown} sticks ${where}.`;
}

function askedText(asked: AskedName): string {
  const { panel, of } = asked;
  if (asked.how === 'between') return `${panel} between ${asked.of.join(' and ')}`;
  return `${panel} ${asked.how} ${of}${asked.kept ? ', as before' : ''}`;
}

/** What stands in the way of every order. */
export function noOrder(why: LayerWhy): string {
  switch (why.how) {
    case 'corners':
      return `At ${namedAll('corner', why.corners)} the paper would have gone through itself: going round, its folds add up to a whole turn too many, so that no folding leads to this pose. One of ${namedAll('crease', why.creases)} has to go the other way.`;
    case 'out-of-time':
      return 'There is no way to stack the layers; time ran out before the creases at fault were found: give it more seconds.';
    case 'crossing':
      return `${capital(allPanels(why.panels))} run through one another in this pose${atCreases(why.creases)}, whichever layer lies over which: fold one of them less far, or later.`;
    case 'turned':
      return `There is no way to stack the layers: with ${namedAll('crease', why.creases)} folded as marked, ${passing(why.panels)}. Turn one of these creases round.`;
    case 'geometry':
      return `There is no way to stack the layers: ${passing(why.panels)}${atCreases(why.creases)}, whichever lies over which.`;
    case 'asked': {
      const asked = [...new Set(why.asked.map(askedText))].sort();
      const pass = `${passing(why.panels)}${atCreases(why.creases)}`;
      return asked.length === 1 && why.creases.length > 0
        ? `The paper does not allow what is asked: ${asked[0]}; ${pass}.`
        : `These orders cannot hold together: asked: ${asked.join(' and ')}; ${pass}. Leave one of them out.`;
    }
    case 'senseless': {
      const { asked } = why;
      return asked.how === 'between'
        ? `Asked: panel ${asked.panel} between panels ${asked.of.join(' and ')}; but these three lie nowhere together in this pose: ask about panels that do.`
        : `Asked: panel ${asked.panel} ${asked.how} panel ${asked.of}; but these two do not overlap in this pose: ask about panels that do.`;
    }
  }
}

const passing = (panels: readonly number[]) => `${allPanels(panels)} would pass through one another`;
const atCreases = (creases: readonly number[]) =>
  creases.length > 0 ? ` at ${namedAll('crease', creases)}` : '';
