import type { Finding } from '../core/finding/finding.ts';
import { questions, type Verdict } from '../core/run/verdict.ts';
import { inPattern } from '../core/sheet/frame.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { sentenceOf } from '../words/findings.ts';

/** Findings as the command line gives them: places in the input's own unit. */
export function findingsForOutput(findings: readonly Finding[], sheet: Sheet | null): object[] {
  return findings.map((found) => {
    const { code, severity, value = null, limit = null, vertices, creases, panels, at } = found;
    return {
      ...{ code, severity, message: sentenceOf(found), value, limit, vertices, creases, panels },
      at: sheet ? at.map((point) => inPattern(sheet, point)) : at,
    };
  });
}

/** Findings for people, one a line. */
export function findingLines(findings: readonly Finding[]): string[] {
  return findings.map((found) => `${found.severity}: ${sentenceOf(found)} [${found.code}]`);
}

/** Does any finding answer the question with no? */
export function isBlocked(findings: readonly Finding[]): boolean {
  return findings.some(({ severity }) => severity === 'error');
}

/** The answers to all questions, in one line. */
export const verdictLine = (verdict: Verdict): string =>
  questions.map((question) => `${question}: ${verdict[question]}`).join(', ');
