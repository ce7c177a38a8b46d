/**
 * The questions that every step of a lesson is asked, and what may be answered. A question that nobody has looked into
 * is never answered with yes; screen, workers and command line show these answers and make none of their own.
 */

/**
 * closes: does the end of the step close? reaches: is it what was asked? moves: can paper get there? layers: can its
 * layers be ordered? contact: does paper pass paper, on the way and at rest?
 */
export const questions = ['closes', 'reaches', 'moves', 'layers', 'contact'] as const;
export type Question = (typeof questions)[number];

/**
 * From the best to the worst. `bends` and `tight` are a yes at a price, which a finding states in degrees or mm;
 * `not-looked`: not asked, or not yet; `gave-up`: time ran out; `broke`: something failed that no finding describes.
 */
export const replies = ['yes', 'bends', 'tight', 'not-looked', 'gave-up', 'broke', 'no'] as const;
export type Reply = (typeof replies)[number];

export type Verdict = Readonly<Record<Question, Reply>>;

const notLookedAt: Verdict = verdictOf(() => 'not-looked');

/** One answer to each question. */
export function verdictOf(reply: (question: Question) => Reply): Verdict {
  return Object.fromEntries(questions.map((question) => [question, reply(question)])) as Verdict;
}

/** The worst answer to each question; what nothing was asked of is not looked at. */
export function worstOf(verdicts: readonly Verdict[]): Verdict {
  if (verdicts.length === 0) return notLookedAt;
  return verdictOf((question) => worstReply(verdicts.map((verdict) => verdict[question])));
}

export const worstReply = (list: readonly Reply[]): Reply =>
  list.reduce((a, b) => (replies.indexOf(b) > replies.indexOf(a) ? b : a), 'yes');

/** A yes, also one that has its price. */
export const isYes = (reply: Reply): boolean => reply === 'yes' || reply === 'bends' || reply === 'tight';

/** Is every question answered with yes? Only then may anything be praised. */
export const isSound = (verdict: Verdict): boolean => questions.every((question) => isYes(verdict[question]));

/** Is any question answered with no, or left without an answer although it was asked? */
export const isRefused = (verdict: Verdict): boolean =>
  questions.some((question) => !isYes(verdict[question]) && verdict[question] !== 'not-looked');
