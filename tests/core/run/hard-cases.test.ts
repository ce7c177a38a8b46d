/** The run, the command line and the page are asked the same of each hard case, and must all say what is right. */

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Finding } from '../../../src/core/finding/finding.ts';
import { lessonOfSheet } from '../../../src/core/lesson/lesson-of-sheet.ts';
import { nameless } from '../../../src/core/lesson/plain-sides.ts';
import { worstOf } from '../../../src/core/run/verdict.ts';
import { writeLesson } from '../../../src/core/storage/lesson/write.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { runCommand } from '../../support/command.ts';
import { runAsPage } from '../../support/page-run.ts';
import { squareTwistSheet } from '../../support/patterns.ts';
import { type HardCase, layerCases, partCases, wholeCases } from './hard-cases.ts';

const folder = mkdtempSync(join(tmpdir(), 'creaseway-cases-'));
afterAll(() => rmSync(folder, { recursive: true }));

const fixture = (name: string) => new URL(`../../fixtures/${name}`, import.meta.url).pathname;
const sample = (name: string) => new URL(`../../../public/lessons/${name}`, import.meta.url).pathname;

type Told = Pick<Finding, 'code' | 'severity' | 'value'> & { readonly message: string };

/** What there is to tell apart, in an order of its own. */
const told = (findings: readonly Told[]) =>
  findings
    .map(({ code, severity, message, value }) => `${severity} ${code} ${(value ?? 0).toFixed(6)} ${message}`)
    .sort();

async function expectCase(verb: string, path: string, { words, verdict, exit, findings }: HardCase) {
  const { code, answer } = await runCommand(verb, path, ...words);
  const codes = answer.findings.map((one: Finding) => `${one.severity} ${one.code}`);
  expect(answer.verdict).toMatchObject(verdict);
  expect(codes).toEqual(expect.arrayContaining([...findings]));
  expect([code, codes.some((one: string) => one.startsWith('error'))]).toEqual([exit, exit === 1]);
}

describe('what is right', () => {
  test.each(wholeCases)('fold $file: exit $exit', async (one) => {
    await expectCase('fold', fixture(`hard/${one.file}`), one);
  });
  test.each(partCases)('$verb $file $words: exit $exit', async ({ verb, ...one }) => {
    await expectCase(verb, fixture(`hard/${one.file}`), one);
  });
  test.each(layerCases)('layers %s: %s', async (file, states) => {
    const { code, answer } = await runCommand('layers', fixture(`hard/${file}`));
    expect([answer.states, answer.exact, code]).toEqual([states, true, states === '0' ? 1 : 0]);
  });
  test('the chain is deepest where plane geometry has it: 17.96 mm, from 74 % of the step on', async () => {
    const { answer } = await runCommand('fold', fixture('hard/chain-deepest-late.json'));
    const [deepest] = answer.findings.filter(({ severity }: Finding) => severity === 'error');
    expect(deepest.value).toBeCloseTo(17.96, 2);
    expect(deepest.panels.slice(0, 2).sort()).toEqual([1, 3]);
  });
  test('of two mechanisms only the one that cannot move is named', async () => {
    const { answer } = await runCommand('fold', fixture('hard/two-mechanisms.fold'));
    const errors = answer.findings.filter(({ severity }: Finding) => severity === 'error');
    for (const { creases } of errors) expect(creases.every((crease: number) => crease > 3)).toBe(true);
  });
});

const everyFile = [
  ...wholeCases.map(({ file }) => [fixture(`hard/${file}`), false] as const),
  ...['s1', 's2', 's3', 's4', 's5'].flatMap((name) =>
    ['fold', 'svg'].map((kind) => [fixture(`${name}.${kind}`), false] as const),
  ),
  ...['pencil-case', 'cuffed-tray', 'ticket-wallet', 'twist-coaster', 'planter-sleeve', 'tapered-case'].map(
    (name) => [sample(`${name}.json`), false] as const,
  ),
  [fixture('hard/twist-30-degrees.json'), true] as const,
  // all four sides alike: stiff panels cannot follow (Hull and Urbanski 2018)
  ...[45, 62].map((pleats) => [writtenTwist(pleats), true] as const),
];

/** A square twist as a lesson file of its own. */
function writtenTwist(pleats: number): string {
  const path = join(folder, `twist-${pleats}-degrees.json`);
  const lesson = lessonOfSheet(squareTwistSheet(pleats, 'VVVV'), {
    names: nameless,
    title: `Twist, pleats at ${pleats}°`,
    size: 150,
  });
  writeFileSync(path, writeLesson(lesson));
  return path;
}

describe('page and command line say the same', () => {
  test.each(everyFile.map(([path, bend]) => [path.split('/').at(-1)!, path, bend] as const))(
    '%s',
    async (_, path, bend) => {
      const page = await runAsPage(path, readFileSync(path), bend);
      const { code, answer } = await runCommand('fold', path, ...(bend ? ['--bend'] : []));
      expect(worstOf(page.verdicts)).toEqual(answer.verdict);
      expect(told(page.findings.map((found) => ({ ...found, message: sentenceOf(found) })))).toEqual(
        told(answer.findings),
      );
      const sound = page.standing.is === 'sound' || page.standing.is === 'short';
      expect(sound).toBe(code === 0);
    },
  );
});
