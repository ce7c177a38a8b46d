import type { Finding } from '../../src/core/finding/finding.ts';
import { sentenceOf } from '../../src/words/findings.ts';

/** The sentences of findings, one a line. */
export const said = (findings: readonly Finding[]): string => findings.map(sentenceOf).join('\n');
