/** A mend is tried before it is offered: the lesson is carried out with it, and held against the lesson without. */
import type { Finding } from '../../finding/finding.ts';
import { type Mend, makingMends } from '../../lesson/check/mends.ts';
import type { Lesson } from '../../lesson/lesson.ts';
import { sheetOfLesson } from '../../lesson/sheet-of-lesson.ts';
import { insidePoint } from '../../sheet/inside-point.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { creaseMiddle } from '../../sheet/walk.ts';
import { type Plan, planOfLesson } from '../plan.ts';
import { type Run, type RunOptions, runPlan } from '../run.ts';
import { type Standing, standingOf } from '../standing.ts';
import { isSound } from '../verdict.ts';
import { foldMends } from './fold-mends.ts';

/** A lesson carried out, as far as mends are judged by it. */
export interface Account {
  readonly run: Run;
  readonly standing: Standing['is'];
}

/** Null where the pattern makes no sheet. */
export function accountOf(lesson: Lesson, options: RunOptions): Account | null {
  const { sheet } = sheetOfLesson(lesson);
  if (!sheet) return null;
  const run = runPlan(planOfLesson(lesson, sheet), options);
  const known = run.steps.map(({ track, end, look }) => ({ motion: { report: track.report, end }, look }));
  return { run, standing: standingOf(known, run.findings, run.short).is };
}

/** Mends that are tried for one finding, no more. */
const MOST_TRIED = 12;

/**
 * A mend of a finding, found by trying those proposed, in their order: the first with which all is well, else the first that
 * makes the finding go and brings no other error or warning; null where none of them does.
 * @param before the lesson carried out as it is, with the same options; asked for only where folding changes
 */
export function triedMend(
  found: Finding,
  lesson: Lesson,
  before: () => Account | null,
  options: RunOptions,
): Mend | null {
  const { sheet } = sheetOfLesson(lesson);
  if (!sheet) return null;
  const failing = () => (before() ? wellUntil(before()!.run) : 0);
  const proposed = [...foldMends(found, lesson, sheet, failing), ...makingMends(found, lesson, sheet)];
  let second: Mend | null = null;
  for (const mend of proposed.slice(0, MOST_TRIED)) {
    const standing = mend.completes
      ? completed(found, lesson, mend.lesson)
      : foldsAlike(lesson, mend.lesson)
        ? curedUnfolded(found, lesson, mend.lesson)
        : cured(found, before(), mend.lesson, options);
    if (standing === 'sound') return mend;
    if (standing) second ??= mend;
  }
  return second;
}

/** Ends that stopped short all meet now, and nothing else is wrong with the drawing than with its corners. */
function completed(found: Finding, lesson: Lesson, mended: Lesson): Standing['is'] | null {
  const ofCode = (one: Lesson) => sheetOfLesson(one).findings.filter(({ code }) => code === found.code);
  const [before, after] = [sheetOfLesson(lesson).findings, sheetOfLesson(mended).findings];
  if (ofCode(mended).length >= ofCode(lesson).length) return null;
  return noneBrought(before, after) ? 'short' : null;
}

/** How the lesson stands when mended; null where it is not. What folds alike is as it was, if nothing is wrong there. */
function curedUnfolded(found: Finding, lesson: Lesson, mended: Lesson): Standing['is'] | null {
  const [before, after] = [lesson, mended].map((one) => planOfLesson(one, sheetOfLesson(one).sheet!)) as [
    Plan,
    Plan,
  ];
  return isLess(found, before, after) && noneBrought(before.findings, after.findings) ? 'short' : null;
}

function cured(
  found: Finding,
  before: Account | null,
  mended: Lesson,
  options: RunOptions,
): Standing['is'] | null {
  const after = before && accountOf(mended, options);
  if (!after || ranks.indexOf(after.standing) > ranks.indexOf(before.standing)) return null;
  // where paper was barred its way must be free to the end, not to the next bar
  const barred = before.run.steps.some(({ findings }) =>
    findings.some((one) => isError(one) && one.code === found.code),
  );
  if (isError(found) && barred && wellUntil(after.run) < after.run.plan.steps.length) return null;
  const goes =
    isLess(found, foundBy(before.run), foundBy(after.run)) &&
    noneBrought(before.run.findings.filter(isError), after.run.findings.filter(isError)) &&
    noneBrought(comparable(before.run, before.run), comparable(after.run, before.run));
  return goes ? after.standing : null;
}

/** The first step that does not go well, from 0. */
function wellUntil({ steps }: Run): number {
  const first = steps.findIndex(({ verdict }) => !isSound(verdict));
  return first < 0 ? steps.length : first;
}

const isError = ({ severity }: Finding) => severity === 'error';

const ranks: readonly Standing['is'][] = ['sound', 'short', 'open', 'nothing', 'refused'];

/** What was found of the whole, and of the steps that went well before: of what came after nothing was known then. */
function comparable(run: Run, before: Run): Finding[] {
  const ofSteps = new Set(run.steps.flatMap(({ findings }) => findings));
  const known = run.steps.slice(0, wellUntil(before)).flatMap(({ findings }) => findings);
  return [...run.findings.filter((one) => !ofSteps.has(one)), ...known];
}

/** Do both fold the same, whatever is creased before? */
function foldsAlike(a: Lesson, b: Lesson): boolean {
  return (
    a.pattern === b.pattern &&
    a.steps.length === b.steps.length &&
    a.steps.every((step, k) => {
      const { drives, through, orders, kind, off } = b.steps[k]!;
      const same = step.drives === drives && step.through === through && step.orders === orders;
      return same && step.kind === kind && step.off === off;
    })
  );
}

const foundBy = ({ plan: { sheet }, findings }: Run): FoundOn => ({ sheet, findings });

/** What was found on a sheet. */
interface FoundOn {
  readonly sheet: Sheet;
  readonly findings: readonly Finding[];
}

/** Is there less of the same trouble at the same place, in whatever words, figures and numbers, and no more elsewhere? */
function isLess(found: Finding, before: FoundOn, after: FoundOn): boolean {
  const places = placesOf(before.sheet, found);
  const alike = ({ sheet, findings }: FoundOn) =>
    findings
      .filter(({ code, severity }) => code === found.code && severity === found.severity)
      .map((one) => placesOf(sheet, one));
  const [was, is] = [alike(before), alike(after)];
  const here = (sets: readonly Set<string>[]) =>
    sets.filter((own) => places.size === 0 || [...own].some((place) => places.has(place))).length;
  // the same trouble elsewhere is no less
  return here(is) < here(was) && is.length < was.length;
}

/** Where the creases of a finding lie, or its corners or panels where it names none. */
function placesOf(
  sheet: Sheet,
  { creases, vertices, panels }: Pick<Finding, 'creases' | 'vertices' | 'panels'>,
) {
  const name = ([x, y]: readonly [number, number]) => `${x.toFixed(6)} ${y.toFixed(6)}`;
  if (creases.length > 0) return new Set(creases.map((crease) => name(creaseMiddle(sheet, crease))));
  const corner = (v: number) => name([sheet.vertexX[v]!, sheet.vertexY[v]!]);
  if (vertices.length > 0) return new Set(vertices.map(corner));
  return new Set(panels.map((panel) => name(insidePoint(sheet, panel))));
}

function noneBrought(before: readonly Finding[], after: readonly Finding[]): boolean {
  const count = (findings: readonly Finding[], { code, severity }: Finding) =>
    findings.filter((one) => one.code === code && one.severity === severity).length;
  return after.every((one) => one.severity === 'note' || count(after, one) <= count(before, one));
}
