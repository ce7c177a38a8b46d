/** The sentences of findings, and of what stands in the way of every layer order. */
import type { Finding } from '../core/finding/finding.ts';
import type { LayerWhy } from '../core/finding/values/layer.ts';
import { inWords } from './words.ts';

/** One clear sentence: what, where, what to do. */
export function sentenceOf(found: Finding): string {
  // code and values of a finding belong together
  const sentence = inWords.findings[found.code] as (values: Finding['values'], found: Finding) => string;
  return sentence(found.values, found);
}

export const conflictSentence = (why: LayerWhy): string => inWords.noOrder(why);
