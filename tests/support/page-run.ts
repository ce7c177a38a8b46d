/** A file carried out as the page does it: opened, folded and looked at by the workers' own code, without a screen. */
import type { Finding } from '../../src/core/finding/finding.ts';
import type { LayerOrder } from '../../src/core/layer/problem.ts';
import { creasesShort, shortFindings } from '../../src/core/run/short.ts';
import { stillPanelOf } from '../../src/core/run/stages.ts';
import { type Standing, standingOf } from '../../src/core/run/standing.ts';
import { type StepKnown, verdictOfStep } from '../../src/core/run/step-known.ts';
import type { Verdict } from '../../src/core/run/verdict.ts';
import { mainPanel } from '../../src/core/sheet/walk.ts';
import { words } from '../../src/words/words.ts';
import { FileJobs } from '../../src/worker/file-jobs.ts';
import type { FileAnswer } from '../../src/worker/file-protocol.ts';
import { Jobs } from '../../src/worker/jobs.ts';
import { takeLayerRequest } from '../../src/worker/layer-jobs.ts';
import type { Answer, ReadyLesson } from '../../src/worker/protocol.ts';

export interface PageRun {
  readonly ready: ReadyLesson;
  readonly verdicts: readonly Verdict[];
  readonly standing: Standing;
  readonly findings: readonly Finding[];
}

type StepAnswer = Extract<Answer, { kind: 'step' }>;

export async function runAsPage(name: string, bytes: Uint8Array, bend = false): Promise<PageRun> {
  const said: Answer[] = [];
  const jobs = new Jobs(
    (answer) => said.push(structuredClone(answer)),
    async () => {},
  );
  const ready = await readAsPage(name, bytes);
  const { lesson, sheet, findings } = ready.ready;
  await jobs.take({ kind: 'bake', job: 3, lesson, choices: { bend, free: false } });
  const tracks = said.filter((answer): answer is StepAnswer => answer.kind === 'step');
  const known = lookAtAll(ready.ready, tracks);
  const last = tracks.at(-1);
  const end = last && last.step === lesson.steps.length - 1 && !last.end.alone ? last.end.angle : null;
  const told = known.flatMap(({ motion, look }) => [
    ...(motion && 'report' in motion ? motion.report.findings : []),
    ...(look && 'findings' in look ? look.findings : []),
  ]);
  return {
    ready: ready.ready,
    verdicts: known.map(verdictOfStep),
    standing: standingOf(known, findings, end ? creasesShort(sheet, end) : []),
    findings: [...findings, ...told, ...(end ? shortFindings(sheet, end, findings) : [])],
  };
}

/** A file as the page reads it, its lines taken for what they are guessed to be. */
export async function readAsPage(
  name: string,
  bytes: Uint8Array,
): Promise<Extract<FileAnswer, { kind: 'ready' }>> {
  const said: FileAnswer[] = [];
  const files = new FileJobs((answer) => said.push(structuredClone(answer)));
  await files.take({ kind: 'open', job: 1, name, bytes, names: words.names });
  const opened = said.at(-1)!;
  if (opened.kind === 'asks-mapping') await files.take({ kind: 'map', job: 2, mapping: opened.asked.guess });
  const ready = said.at(-1)!;
  if (ready.kind !== 'ready') throw new Error(`${name} was answered ${ready.kind}`);
  return ready;
}

function lookAtAll({ lesson, sheet }: ReadyLesson, tracks: readonly StepAnswer[]): StepKnown[] {
  let before: LayerOrder = [];
  const still = stillPanelOf(lesson, sheet) ?? mainPanel(sheet);
  return lesson.steps.map((_, step): StepKnown => {
    const track = tracks.find((one) => one.step === step);
    if (!track) return { motion: null, look: null };
    const { end, report, panelOf, poses } = track;
    const motion = { report, end };
    if (!end.closes) return { motion, look: null };
    const answer = takeLayerRequest({
      ...{ kind: 'look', job: 1, lesson, step, still, before },
      track: { sheet: track.sheet, panelOf: track.sheet ? panelOf : null, poses },
      state: end.alone ? end.angle : null,
    });
    if (answer.kind !== 'look') return { motion, look: { broke: answer.kind } };
    before = answer.look.known;
    return { motion, look: answer.look };
  });
}
