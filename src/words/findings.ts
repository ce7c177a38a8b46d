/** The sentences of findings, and of what stands in the way of every layer order. */
import type { Finding } from '../core/finding/finding.ts';
import type { LayerWhy } from '../core/finding/values/layer.ts';
import type { Sentences } from './language.ts';
import { fetchSentences } from './words.ts';

type Untyped = (values: Finding['values'], found: Finding) => string;

const kept: { sentences: Sentences | null } = { sentences: null };

/** To be awaited before the first finding is told. Where they cannot be fetched, findings are told by their codes. */
export async function sentencesReady(): Promise<void> {
  kept.sentences = await fetchSentences().catch(() => null);
}

/** One clear sentence: what, where, what to do. */
export function sentenceOf(found: Finding): string {
  // code and values of a finding belong together
  const sentence = kept.sentences?.findings[found.code] as Untyped | undefined;
  return sentence?.(found.values, found) ?? found.code;
}

export const conflictSentence = (why: LayerWhy): string => kept.sentences?.noOrder(why) ?? why.how;
