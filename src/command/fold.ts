import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { DrawnPaper } from '../core/drawn/drawn-pose.ts';
import { extentOfPose } from '../core/drawn/extent.ts';
import { plainColours } from '../core/lesson/plain-sides.ts';
import { CLOSED, LEVEL } from '../core/numeric/tolerance.ts';
import { closureOfPose } from '../core/pose/closure.ts';
import { countFreedoms } from '../core/pose/freedoms.ts';
import { type Placement, placePanels, vertexPositions } from '../core/pose/place.ts';
import { stretchOfPose } from '../core/pose/stretch.ts';
import type { Outcome } from '../core/pose/track.ts';
import { type Answered, poseAlong } from '../core/run/asked.ts';
import { drawnState } from '../core/run/drawn.ts';
import type { Plan } from '../core/run/plan.ts';
import { runPlan, type StepRun } from '../core/run/run.ts';
import { unclosedFindings } from '../core/run/unclosed.ts';
import { isRefused } from '../core/run/verdict.ts';
import { writeFlatSvg } from '../core/storage/svg/write.ts';
import { writeFold } from '../core/storage/write-fold.ts';
import { writeGlb } from '../core/storage/write-glb.ts';
import { writeObj } from '../core/storage/write-obj.ts';
import { fetchCommandLine } from '../words/words.ts';
import { foldAsAsked, planOfInput, runOptions } from './fold-plan.ts';
import { type Input, readSheet } from './input.ts';
import type { Options } from './options.ts';
import { findingLines, findingsForOutput, isBlocked, verdictLine } from './report.ts';
import { stillPanel } from './still.ts';
import { Unusable } from './unusable.ts';

const kindsOfFile = ['.fold', '.glb', '.obj', '.svg'] as const;
type KindOfFile = (typeof kindsOfFile)[number];

/** `creaseway fold FILE`: the state asked for, whether it closes, and whether paper can get there. */
export async function fold(options: Options): Promise<{ output: string; code: number }> {
  const kind = options.out === null || options.track !== null ? '.fold' : kindOfFile(options.out);
  const { input, sheet: given } = await readSheet(options);
  const plan = planOfInput(input, given, options);
  const answered = foldAsAsked(plan, options);
  const still = stillPanel(input, given, options);
  const { state, steps, verdict } = answered;
  const { largest } = closureOfPose(state.sheet, state.angle);
  const closes = largest < CLOSED;
  const placement = placePanels(state.sheet, state.angle, stillOn(plan, answered, still));
  const told = new Set(answered.findings.map(({ code }) => code));
  const unclosed = closes ? [] : unclosedFindings(state.sheet, state.angle);
  const findings = [
    ...input.findings,
    ...answered.findings,
    ...unclosed.filter(({ code }) => !told.has(code)),
  ];
  const written = closes ? await write(options, kind, { input, plan, answered, still }, placement) : null;
  const reports = steps.map(({ track }) => track.report);
  const most = (pick: (report: (typeof reports)[number]) => number) => Math.max(0, ...reports.map(pick));
  const outcome = outcomeOf(steps);
  const answer = {
    closes,
    outcome,
    verdict,
    closure: largest,
    stretch: stretchOfPose(state.sheet, placement),
    deviation: answered.deviation,
    bendDegrees: most((report) => report.bendDegrees),
    jumps: reports.reduce((sum, report) => sum + report.jumps, 0),
    freedoms: countFreedoms(state.sheet, state.angle),
    ...(input.size === null
      ? {}
      : { size: extentOfPose(state.sheet, placement).map((length) => length * input.size!) }),
    ...(input.size === null ? {} : { tear: input.size * most((report) => report.tear) }),
    trackClosure: most((report) => report.closure),
    starts: reports.reduce((sum, report) => sum + report.starts, 0),
    seed: reports[0]?.seed ?? null,
    ...(input.moved === null ? {} : { moved: input.moved }),
    ...(written === null ? {} : { written }),
    findings: findingsForOutput(findings, plan.sheet),
  };
  const code = closes && !isRefused(verdict) && !isBlocked(findings) ? 0 : 1;
  if (options.json) return { output: JSON.stringify(answer), code };
  const say = await fetchCommandLine();
  const lines = [
    closes ? say.closes(largest) : say.doesNotClose(largest),
    say.gettingThere(outcome, answer.bendDegrees),
    verdictLine(verdict),
    say.freedoms(answer.freedoms, answer.deviation),
    ...('size' in answer ? [say.size(answer.size!)] : []),
    ...findingLines(findings),
    ...(written === null ? [] : [say.written(written)]),
  ];
  return { output: lines.join('\n'), code };
}

function outcomeOf(steps: readonly StepRun[]): Outcome {
  const worst: readonly Outcome[] = ['rigid', 'bends', 'stopped', 'fails'];
  const outcomes = steps.map(({ track }) => track.report.outcome);
  return outcomes.reduce((a, b) => (worst.indexOf(b) > worst.indexOf(a) ? b : a), 'rigid');
}

function kindOfFile(out: string): KindOfFile {
  const kind = kindsOfFile.find((ending) => out.toLowerCase().endsWith(ending));
  if (kind) return kind;
  throw new Unusable((say) => say.outEnds(kindsOfFile, out));
}

/** The still panel's number on a sheet with bend lines: the first part of it. */
function stillOn({ sheet }: Plan, { state, steps }: Answered, still: number): number {
  if (state.sheet === sheet) return still;
  const track = steps.find((step) => step.track.sheet === state.sheet)?.track;
  return Math.max(0, track?.panelOf.indexOf(still) ?? still);
}

/** All that a file to be written is made of. */
interface Made {
  readonly input: Input;
  readonly plan: Plan;
  readonly answered: Answered;
  /** The panel that stays in place. */
  readonly still: number;
}

/** Writes what was asked for and returns where. Nothing is written when the call names no place. */
async function write(
  options: Options,
  kind: KindOfFile,
  made: Made,
  placement: Placement,
): Promise<string | null> {
  const { out, track } = options;
  if (out === null) {
    if (track !== null) throw new Unusable((say) => say.trackWantsOut());
    return null;
  }
  try {
    if (track !== null) return await writeTrack(out, track, made);
    await writeFile(out, contentOf(kind, made, placement, options));
    return out;
  } catch (error) {
    if (error instanceof Unusable) throw error;
    const code = (error as NodeJS.ErrnoException).code ?? null;
    throw new Unusable((say) => say.notWritten(out, code));
  }
}

function contentOf(
  kind: KindOfFile,
  { input, plan, answered, still }: Made,
  placement: Placement,
  options: Options,
): string | Uint8Array {
  const { sheet, angle } = answered.state;
  const facts = { title: input.title, size: input.size, millimetres: input.millimetres };
  const colours = coloursOf(input, options);
  switch (kind) {
    case '.fold': {
      const own = sheet === plan.sheet ? answered.steps.at(-1)?.look?.order : undefined;
      const order = own && own.length > 0 ? own : undefined;
      return writeFold(sheet, facts, { angle, placement, order });
    }
    case '.obj':
      return writeObj(sheet, placement, input.title);
    case '.glb':
      return writeGlb(drawnAsAsked({ input, plan, answered, still }, options), {
        ...{ size: input.size ?? 150, thickness: plan.thickness },
        ...colours,
      });
    case '.svg': {
      const positions = vertexPositions(sheet, placement);
      if (positions.some((value, i) => i % 3 === 2 && Math.abs(value) > LEVEL)) {
        throw new Unusable((say) => say.notFlat());
      }
      return writeFlatSvg(sheet, placement, colours, facts);
    }
  }
}

/** The state asked for, as it is drawn; what later steps lay on what tells of panels in contact until then. */
function drawnAsAsked({ plan, answered, still }: Made, options: Options): DrawnPaper {
  const { step, to } = options;
  const steps = step === null ? answered.steps : runPlan(plan, runOptions(options)).steps;
  const at = { step: (step ?? steps.length) - 1, share: to ?? 1 };
  return drawnState(plan, answered.state, steps, at, stillOn(plan, answered, still));
}

function coloursOf(input: Input, options: Options): { up: string; down: string } {
  const sides = input.lesson?.sheet.sides;
  const colour = (side: 'a' | 'b') => sides?.[side].colour ?? plainColours[side];
  const up = options.up ?? input.lesson?.sheet.sideUp ?? 'b';
  return { up: colour(up), down: colour(up === 'a' ? 'b' : 'a') };
}

/** N poses, evenly along all tracks together, as FOLD files numbered from 0 in a folder. */
async function writeTrack(folder: string, count: number, { input, answered, still }: Made): Promise<string> {
  await mkdir(folder, { recursive: true });
  const tracks = answered.steps.map(({ track }) => track);
  for (let k = 0; k < count; k++) {
    const along = (k / (count - 1)) * tracks.length;
    const index = Math.min(tracks.length - 1, Math.floor(along));
    const track = tracks[index]!;
    const pose = poseAlong(track, along - index);
    const own = track.panelOf.indexOf(still);
    const placement = placePanels(pose.sheet, pose.angle, Math.max(0, own));
    const facts = { title: input.title, millimetres: input.millimetres };
    const name = `pose-${String(k).padStart(String(count - 1).length, '0')}.fold`;
    await writeFile(join(folder, name), writeFold(pose.sheet, facts, { angle: pose.angle, placement }));
  }
  return folder;
}
