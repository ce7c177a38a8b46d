/**
 * Files changed along their own structure, as the page's worker reads them: each is opened or refused with one sentence that says
 * what and where, within two seconds of processor time, and never blamed on a fault of the program's own.
 */
import { describe, expect, test } from 'vitest';
import { nameless } from '../../../src/core/lesson/plain-sides.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { FileJobs } from '../../../src/worker/file-jobs.ts';
import type { FileAnswer } from '../../../src/worker/file-protocol.ts';
import { type MutatedKind, mutated, pdfContent } from '../../support/mutated.ts';
import { processorTime } from '../../support/processor-time.ts';
import { fixture, sampleLesson } from './help.ts';

const soak = process.env.CREASEWAY_SOAK !== undefined;
const EACH = soak ? 2000 : 80;
const FIRST = 52_000;

const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);
const plain: Record<MutatedKind, readonly string[]> = {
  svg: ['s1.svg', 'inkscape-layers.svg', 'drawings/ze-legend.svg'].map((name) => text(fixture(name))),
  dxf: ['s4.dxf', 'ezdxf-linetypes.dxf'].map((name) => text(fixture(name))),
  fold: ['s5.fold', 's3.fold'].map((name) => text(fixture(name))),
  lesson: ['ticket-wallet.json', 'cuffed-tray.json'].map((name) => text(sampleLesson(name))),
  pdf: [pdfContent],
};

/** Refusals of the first check: the file is no whole file of its kind. */
const firstCheck =
  /is broken at line|JSON of this file is broken|PDF file is broken|none of SVG, PDF|neither a Creaseway lesson|no LINE|not a DXF/;

async function answerTo(name: string, content: string): Promise<FileAnswer> {
  const said: FileAnswer[] = [];
  const jobs = new FileJobs((answer) => said.push(answer));
  await jobs.take({ kind: 'open', job: 1, name, bytes: new TextEncoder().encode(content), names: nameless });
  const opened = said.at(-1)!;
  if (opened.kind === 'asks-mapping') await jobs.take({ kind: 'map', job: 2, mapping: opened.asked.guess });
  return said.at(-1)!;
}

describe.each(Object.keys(plain) as MutatedKind[])('%s', (kind) => {
  test(`${EACH} files from seed ${FIRST} on`, { timeout: 3_600_000 }, async () => {
    let past = 0;
    let slowest = 0;
    for (let k = 0; k < EACH; k++) {
      const content = mutated(kind, plain[kind][k % plain[kind].length]!, FIRST + k);
      const begun = processorTime();
      const answer = await answerTo(`file.${kind}`, content);
      slowest = Math.max(slowest, (processorTime() - begun) / 1000);
      const said = answer.kind === 'refused' ? sentenceOf(answer.findings[0]!) : '';
      if (answer.kind === 'refused') {
        expect(said, `seed ${FIRST + k}`).toMatch(/^[A-Z"“][\s\S]*[.”]$/);
        expect(said, `seed ${FIRST + k}`).not.toMatch(/cannot be read \(/);
      } else expect(['ready', 'asks-which'], `seed ${FIRST + k}`).toContain(answer.kind);
      if (!firstCheck.test(said)) past++;
    }
    expect(past / EACH).toBeGreaterThan(0.4);
    expect(slowest).toBeLessThan(2);
    if (soak)
      process.stdout.write(
        `${kind}: ${((100 * past) / EACH).toFixed(1)} % past the first check, slowest ${slowest.toFixed(2)} s\n`,
      );
  });
});
