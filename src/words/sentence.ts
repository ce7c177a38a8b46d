import type { FindingCode, FindingOf } from '../core/finding/finding.ts';
import type { FindingValues } from '../core/finding/values.ts';

/** The sentence of a finding, made from what it tells and from its numbers and lists. */
type Sentence<C extends FindingCode> = (values: FindingValues[C], found: FindingOf<C>) => string;

/** The sentences of the findings of one topic. */
export type SentencesOf<Topic> = { [C in keyof Topic & FindingCode]: Sentence<C> };
