/** `creaseway check FILE --folded`, run as people run it. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test, vi } from 'vitest';
import { main } from '../../src/command/main.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'creaseway-folded-'));
afterAll(() => rmSync(folder, { recursive: true }));

interface Told {
  code: string;
  severity: string;
  message: string;
  value: number;
  limit: number;
  panels: number[];
  at: number[][];
}

async function run(...words: string[]) {
  let [stdout, stderr] = ['', ''];
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    stdout += text;
    return true;
  });
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    stderr += text;
    return true;
  });
  const status = await main(words);
  vi.restoreAllMocks();
  return { status, stdout, stderr };
}

async function check(file: string, ...more: string[]): Promise<{ status: number; findings: Told[] }> {
  const { status, stdout, stderr } = await run('check', file, '--folded', '--json', ...more);
  expect(stderr).toBe('');
  return { status, findings: JSON.parse(stdout).findings };
}

/** A strip of panels of width 1 along +x as a file of the open interchange standard. */
function strip(name: string, lengths: readonly number[], degrees: readonly number[]): string {
  const at = [0];
  for (const length of lengths) at.push(at.at(-1)! + length);
  const last = lengths.length;
  const vertices = at.flatMap((x) => [
    [x, 0],
    [x, 1],
  ]);
  const edges: [number, number][] = at.map((_, k) => [2 * k, 2 * k + 1]);
  const assignment = at.map((_, k) => (k === 0 || k === last ? 'B' : degrees[k - 1]! > 0 ? 'V' : 'M'));
  const angles: (number | null)[] = at.map((_, k) => (k === 0 || k === last ? null : degrees[k - 1]!));
  for (let k = 0; k < last; k++)
    for (const side of [0, 1]) {
      edges.push([2 * k + side, 2 * k + 2 + side]);
      assignment.push('B');
      angles.push(null);
    }
  const file = join(folder, name);
  const faces = lengths.map((_, k) => [2 * k, 2 * k + 2, 2 * k + 3, 2 * k + 1]);
  writeFileSync(
    file,
    JSON.stringify({
      file_spec: 1.2,
      vertices_coords: vertices,
      edges_vertices: edges,
      edges_assignment: assignment,
      edges_foldAngle: angles,
      faces_vertices: faces,
    }),
  );
  return file;
}

describe('a sheet that is no lesson: its finished pose', () => {
  test('panels that cross are an error, with the depth in mm that plane geometry has', async () => {
    // sides 2, 1, 1, 1.25 at right angles: the last runs from (1, 1) down through the first at (1, 0), by a quarter unit
    const file = strip('through.fold', [2, 1, 1, 1.25], [90, 90, 90]);
    expect(JSON.parse((await run('check', file, '--json')).stdout).findings).toEqual([]);
    const { status, findings } = await check(file, '--sheet', '210mm');
    expect(status).toBe(1);
    expect(findings.map(({ code, severity, panels }) => [code, severity, panels])).toEqual([
      ['panels-cross', 'error', [0, 3]],
    ]);
    const unit = 210 / 5.25;
    expect(findings[0]!.value).toBeCloseTo(unit / 4, 6);
    // the first side, 2 by 1, bows most: an arc over its diagonal whose ends come nearer by the paper's thickness, 0.1
    expect(findings[0]!.limit).toBeCloseTo(Math.sqrt((3 * 0.1 * Math.hypot(2, 1) * unit) / 8), 6);
    expect(findings[0]!.message).toContain('In the finished pose panel 0 passes through panel 3');
    expect(findings[0]!.message).toContain('10.0 mm');
    // the middle of the line they cross in, on the first as drawn
    expect(findings[0]!.at[0]![0]).toBeCloseTo(1, 4);
    expect(findings[0]!.at[0]![1]).toBeCloseTo(0.5, 4);
  });

  test('one that only touches has nothing to report', async () => {
    const { status, findings } = await check(
      strip('touches.fold', [2, 1, 1, 1], [90, 90, 90]),
      '--sheet',
      '210mm',
    );
    expect([status, findings]).toEqual([0, []]);
  });

  test('creases without a kind fold flat either way, as for layers', async () => {
    // 3, 1, 1, 3 with valleys: no order, as each end would lie in the other; the middle fold a mountain: a pleat, one order
    const file = strip('either-way.fold', [3, 1, 1, 3], [180, 180, 180]);
    expect((await check(file)).status).toBe(1);
    const graph = JSON.parse(readFileSync(file, 'utf8'));
    graph.edges_assignment[2] = 'U';
    graph.edges_foldAngle[2] = null;
    writeFileSync(file, JSON.stringify(graph));
    expect(await check(file)).toEqual({ status: 0, findings: [] });
    const { status, stdout } = await run('layers', file, '--json');
    expect([status, JSON.parse(stdout).states]).toEqual([0, '1']);
  });

  test('layers that cannot be ordered are an error', async () => {
    // published-checks 6.5, first row: 2, 1, 1 with 180 and 90 has no order
    const { status, findings } = await check(strip('none.fold', [2, 1, 1], [180, 90]));
    expect(status).toBe(1);
    expect(findings.map(({ code, severity }) => [code, severity])).toEqual([['layer-none', 'error']]);
    expect(await check(strip('one.fold', [2, 1, 1], [180, -90]))).toEqual({ status: 0, findings: [] });
  });
});

describe('a lesson: every step', () => {
  const lesson = (name: string) => join(root, 'public/lessons', name);

  test('the pencil case is tight and can be made; the tapered copy has nothing to report', async () => {
    const { status, findings } = await check(lesson('pencil-case.json'));
    expect(status).toBe(0);
    expect(findings.map(({ code, severity }) => [code, severity])).toEqual([
      ['panels-tight', 'warning'],
      ['panels-tight', 'warning'],
    ]);
    expect((await run('check', lesson('tapered-case.json'), '--folded')).stdout).toContain(
      'nothing to report',
    );
    const folded = await run('fold', lesson('tapered-case.json'), '--json');
    expect(folded.status).toBe(0);
    expect(JSON.parse(folded.stdout)).toMatchObject({ outcome: 'rigid', closes: true, findings: [] });
  });

  test('fold --step tells of that step alone', async () => {
    const told = async (step: string): Promise<Told[]> =>
      JSON.parse((await run('fold', lesson('pencil-case.json'), '--step', step, '--json')).stdout).findings;
    expect(await told('4')).toEqual([]);
    expect((await told('6')).map(({ message }) => message.slice(0, 6))).toEqual(['Step 6']);
  });

  test('without the flap bent in, the lid shuts and the flap comes down outside: a warning that names the wall', async () => {
    const file = join(folder, 'late-flap.json');
    const plain = JSON.parse(readFileSync(lesson('pencil-case.json'), 'utf8'));
    const last = plain.steps.at(-1);
    const straight = (drive: { from: number[]; to: number[] }) =>
      drive.from[1] === 6 && drive.to[1] === 6 ? { ...drive, angle: 0 } : drive;
    const shut = { ...last, title: 'Lid shut', kind: 'fold', orders: [], drives: last.drives.map(straight) };
    writeFileSync(file, JSON.stringify({ ...plain, steps: [...plain.steps.slice(0, 2), shut, last] }));
    const { findings } = await check(file);
    expect(findings.map(({ code }) => code)).toEqual(['tuck-blocked']);
    expect(findings[0]!.message).toMatch(/^Step 4 \("Press shut"\): from \d+ % of it panel \d+ comes to lie/);
  });
});

test('--folded belongs to check', async () => {
  const { status, stderr } = await run('fold', 'x.fold', '--folded');
  expect(status).toBe(2);
  expect(stderr).toContain('--folded');
});
