import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, describe, expect, test, vi } from 'vitest';
import { buildCommand } from '../../src/build/command.mjs';
import { main } from '../../src/command/main.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const fixture = (name: string) => join(root, 'tests/fixtures', name);
const lesson = (name: string) => join(root, 'public/lessons', name);
const folder = mkdtempSync(join(tmpdir(), 'creaseway-'));
const out = (name: string) => join(folder, name);

afterAll(() => rmSync(folder, { recursive: true }));
afterEach(() => vi.restoreAllMocks());

async function run(...words: string[]) {
  const said = { output: '', error: '' };
  const keep = (where: 'output' | 'error') => (text: string | Uint8Array) => {
    said[where] += text;
    return true;
  };
  vi.spyOn(process.stdout, 'write').mockImplementation(keep('output'));
  vi.spyOn(process.stderr, 'write').mockImplementation(keep('error'));
  const code = await main(words);
  vi.restoreAllMocks();
  return { code, ...said };
}

async function runJson(...words: string[]) {
  const { code, output, error } = await run(...words, '--json');
  expect(error).toBe('');
  expect(output.trim().split('\n')).toHaveLength(1);
  return { code, answer: JSON.parse(output) };
}

describe('check', () => {
  // Counted on paper from the descriptions of the patterns.
  test.each([
    ['s1', 19, 8],
    ['s2', 19, 8],
    ['s3', 12, 6],
    ['s4', 25, 16],
    ['s5', 21, 8],
  ])(
    '%s as .svg, .dxf and .fold: panels, interior vertices, no finding',
    async (base, panels, interiorVertices) => {
      for (const ending of ['svg', 'dxf', 'fold']) {
        const { code, answer } = await runJson('check', fixture(`${base}.${ending}`));
        expect(answer).toMatchObject({ panels, interiorVertices, findings: [] });
        expect(code).toBe(0);
      }
    },
  );

  test('one vertex moved by 1 mm is named among those that no longer close, place in the unit of the file', async () => {
    const file = JSON.parse(readFileSync(fixture('s1.fold'), 'utf8'));
    const vertex = file.vertices_coords.findIndex(([x, y]: number[]) => x === 30 && y === 30);
    file.vertices_coords[vertex] = [31, 30];
    writeFileSync(out('moved.fold'), JSON.stringify(file));
    const { code, answer } = await runJson('check', out('moved.fold'));
    expect(code).toBe(1);
    const named = answer.findings.find((finding: { vertices: number[] }) =>
      finding.vertices.includes(vertex),
    );
    expect(named).toMatchObject({ code: 'vertex-closure', severity: 'error', at: [[31, 30]] });
    expect(named.value).toBeGreaterThan(0.01);
  });

  test('--list prints every vertex, crease and panel under its number', async () => {
    const { answer } = await runJson('check', fixture('s3.fold'), '--list');
    const file = JSON.parse(readFileSync(fixture('s3.fold'), 'utf8'));
    expect(answer.list.vertices).toEqual(file.vertices_coords);
    expect(answer.list.creases.map((crease: { vertices: number[] }) => crease.vertices)).toEqual(
      file.edges_vertices,
    );
    expect(answer.list.panels).toHaveLength(12);
    const { output } = await run('check', fixture('s3.fold'), '--list');
    expect(output).toContain('panel 11:');
  });

  test('--true-up says how far it moved the worst vertex', async () => {
    const file = JSON.parse(readFileSync(fixture('s5.fold'), 'utf8'));
    file.vertices_coords = file.vertices_coords.map((point: number[]) =>
      point.map((n) => Math.round(n * 10) / 10),
    );
    writeFileSync(out('rough.fold'), JSON.stringify(file));
    expect((await runJson('check', out('rough.fold'))).code).toBe(1);
    const { code, answer } = await runJson('check', out('rough.fold'), '--true-up', '0.5');
    expect(code).toBe(0);
    // rounding to 0.1 mm shifts a point by at most 0.0708 mm
    expect(answer.moved).toBeGreaterThan(0.001);
    expect(answer.moved).toBeLessThan(0.1);
    expect(answer.findings.map((finding: { code: string }) => finding.code)).toEqual(['vertex-moved']);
  });

  test('--lines gives kinds and angles to any drawing', async () => {
    writeFileSync(
      out('lines.json'),
      JSON.stringify({ 'dash=dashed': { kind: 'valley', angle: 90 }, 'dash=dash-dot-dot': 'ignore' }),
    );
    const { answer } = await runJson(
      'check',
      fixture('ezdxf-linetypes.dxf'),
      '--list',
      '--lines',
      out('lines.json'),
    );
    const angles = answer.list.creases
      .filter(({ kind }: { kind: string }) => kind !== 'edge')
      .map(({ angle }: { angle: number }) => angle);
    expect(new Set(angles)).toEqual(new Set([90]));
  });
});

describe('fold', () => {
  // Finished sizes in mm from the descriptions of the patterns, sorted.
  test.each([
    ['s1.svg', '210mm', [150, 60, 30]],
    ['s2.dxf', '15cm', [112.5, 75, 18.75]],
    ['s3.fold', '150', [87.5, 62.5, 0]],
    ['s4.svg', '150mm', [90, 90, 0]],
    ['s1.fold', '150mm', [107.143, 42.857, 21.429]],
  ])('%s on %s: closes, and has the finished size', async (name, size, wanted) => {
    const { answer } = await runJson('fold', fixture(name), '--sheet', size);
    expect(answer.closes).toBe(true);
    expect(answer.closure).toBeLessThan(1e-9);
    expect(answer.stretch).toBeLessThan(1e-9);
    expect(answer.deviation).toBe(0);
    const sorted = [...answer.size].sort((a, b) => b - a);
    for (const [i, length] of sorted.entries()) expect(Math.abs(length - wanted[i]!)).toBeLessThan(0.05);
  });

  test('the flared sleeve from its lesson, base held: mouth and height', async () => {
    const { code, answer } = await runJson('fold', lesson('planter-sleeve.json'));
    expect(code).toBe(0);
    expect(answer.outcome).toBe('rigid');
    for (const [i, wanted] of [112.15, 112.15, 57.81].entries())
      expect(answer.size[i]).toBeCloseTo(wanted, 1);
  });

  test('the twist closes but paper cannot get there: exit 1, vertices named, and the state is written', async () => {
    const { code, answer } = await runJson('fold', fixture('s4.fold'), '--out', out('twist.fold'));
    expect(code).toBe(1);
    expect(answer).toMatchObject({ closes: true, outcome: 'fails', written: out('twist.fold') });
    const culprit = answer.findings.find((finding: { code: string }) => finding.code === 'motion-fails');
    expect(culprit.vertices.length).toBeGreaterThan(0);
    const file = JSON.parse(readFileSync(out('twist.fold'), 'utf8'));
    expect(file.edges_foldAngle).toEqual(
      JSON.parse(readFileSync(fixture('s4.fold'), 'utf8')).edges_foldAngle,
    );
  });

  test('the steps of the pencil case; the hinge held open while the hems are 60 % shut', async () => {
    for (const step of ['1', '2', '3', '4', '5', '6']) {
      const { code, answer } = await runJson('fold', lesson('pencil-case.json'), '--step', step);
      expect([code, answer.outcome]).toEqual([0, 'rigid']);
    }
    const { answer: list } = await runJson('check', lesson('pencil-case.json'), '--list');
    const same = (a: number[], b: number[]) => a[0] === b[0] && a[1] === b[1];
    const hinge = list.list.creases.findIndex(
      ({ from, to }: { from: number[]; to: number[] }) =>
        (same(from, [1, 4]) && same(to, [6, 4])) || (same(from, [6, 4]) && same(to, [1, 4])),
    );
    expect(hinge).toBeGreaterThanOrEqual(0);
    const words = ['fold', lesson('pencil-case.json'), '--step', '1', '--to', '0.6', '--hold', `${hinge}=45`];
    const { code, answer } = await runJson(...words);
    expect([code, answer.outcome]).toEqual([1, 'fails']);
    expect(answer.findings.some((finding: { creases: number[] }) => finding.creases.includes(hinge))).toBe(
      true,
    );
  });

  test.each(['s1.svg', 's2.dxf', 's5.fold'])(
    '%s --to T: the nearest state that closes, at every T',
    async (name) => {
      for (const part of ['0.1', '0.4', '0.7', '0.95']) {
        const { answer } = await runJson('fold', fixture(name), '--to', part, '--out', out('part.fold'));
        expect([part, answer.closes]).toEqual([part, true]);
        expect(answer.stretch).toBeLessThan(1e-9);
        const file = JSON.parse(readFileSync(out('part.fold'), 'utf8'));
        const asked: number[] = file.file_frames[0].edges_foldAngle.map(
          (angle: number) => Number(part) * angle,
        );
        const misses = asked.map((angle, edge) => angle - file.edges_foldAngle[edge]);
        expect(answer.deviation).toBeCloseTo(Math.max(...misses.map(Math.abs)), 6);
        // nearer than the flat sheet, which always closes
        const square = (list: number[]) => list.reduce((sum, value) => sum + value * value, 0);
        expect(square(misses)).toBeLessThan(square(asked));
      }
      expect((await runJson('fold', fixture(name), '--to', '0')).answer).toMatchObject({
        closes: true,
        deviation: 0,
      });
    },
  );

  test('--hold drives a crease exactly and the rest follows', async () => {
    const square =
      '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 2 1"><path class="edge" d="M0 0H2V1H0Z"/><path class="valley-180" d="M1 0V1"/></svg>';
    writeFileSync(out('hinge.svg'), square);
    const { answer: list } = await runJson('check', out('hinge.svg'), '--list');
    const crease = list.list.creases.findIndex(({ kind }: { kind: string }) => kind === 'valley');
    const { code, answer } = await runJson(
      'fold',
      out('hinge.svg'),
      '--hold',
      `${crease}=60`,
      '--sheet',
      '200',
      '--out',
      out('hinge.fold'),
    );
    expect(code).toBe(0);
    expect(answer).toMatchObject({ closes: true, outcome: 'rigid', freedoms: 1 });
    // 100 mm lies flat and 100 mm stands at 60 degrees to it
    expect(answer.size[2]).toBeCloseTo(100 * Math.sin(Math.PI / 3), 6);
    expect(JSON.parse(readFileSync(out('hinge.fold'), 'utf8')).edges_foldAngle[crease]).toBeCloseTo(60, 9);
  });

  test('--still chooses the panel that keeps its place', async () => {
    for (const still of [0, 7, 18]) {
      const name = out(`still-${still}.fold`);
      await runJson('fold', fixture('s1.fold'), '--still', String(still), '--out', name);
      const file = JSON.parse(readFileSync(name, 'utf8'));
      const flat = file.file_frames[0].vertices_coords;
      for (const vertex of file.faces_vertices[still]) {
        file.vertices_coords[vertex].forEach((value: number, axis: number) => {
          expect(value).toBeCloseTo(flat[vertex][axis] ?? 0, 9);
        });
      }
    }
  });

  test('--track writes that many poses, from flat to finished, each of which closes', async () => {
    const { code } = await runJson('fold', lesson('pencil-case.json'), '--track', '9', '--out', out('track'));
    expect(code).toBe(0);
    const names = readdirSync(out('track')).sort();
    expect(names).toHaveLength(9);
    const files = names.map((name) => JSON.parse(readFileSync(join(out('track'), name), 'utf8')));
    expect(files[0].edges_foldAngle.every((angle: number) => angle === 0)).toBe(true);
    files[8].edges_foldAngle.forEach((angle: number, edge: number) => {
      expect(angle).toBeCloseTo(files[8].file_frames[0].edges_foldAngle[edge], 4);
    });
    for (const file of files) {
      file.edges_vertices.forEach(([a, b]: [number, number]) => {
        const length = (points: number[][]) =>
          Math.hypot(...[0, 1, 2].map((k) => (points[a]![k] ?? 0) - (points[b]![k] ?? 0)));
        expect(length(file.vertices_coords) / length(file.file_frames[0].vertices_coords)).toBeCloseTo(1, 8);
      });
    }
  });

  test.each(['obj', 'glb'])('--out .%s', async (ending) => {
    await runJson('fold', fixture('s1.svg'), '--out', out(`case.${ending}`));
    expect(readFileSync(out(`case.${ending}`)).length).toBeGreaterThan(500);
  });

  test('--out .svg for flat results only; --up chooses the colour on top', async () => {
    const { output: _, code } = await run('fold', fixture('s4.svg'), '--up', 'a', '--out', out('flat-a.svg'));
    expect(code).toBe(1);
    await run('fold', fixture('s4.svg'), '--up', 'b', '--out', out('flat-b.svg'));
    const fills = (name: string) => readFileSync(out(name), 'utf8').match(/fill="#\w+"/g)!;
    expect(fills('flat-a.svg')).toHaveLength(25);
    expect(fills('flat-a.svg')[0]).not.toBe(fills('flat-b.svg')[0]);
    const box = await run('fold', fixture('s1.svg'), '--out', out('box.svg'));
    expect(box).toMatchObject({ code: 2, output: '' });
    expect(box.error).toContain('.glb');
  });

  test('angles that do not close: exit 1, the vertices named, nothing written', async () => {
    const file = JSON.parse(readFileSync(fixture('s1.fold'), 'utf8'));
    file.edges_foldAngle = file.edges_foldAngle.map((angle: number) => (angle === 90 ? 80 : angle));
    writeFileSync(out('open.fold'), JSON.stringify(file));
    const { code, answer } = await runJson('fold', out('open.fold'), '--out', out('never.fold'));
    expect(code).toBe(1);
    expect(answer.closes).toBe(false);
    expect(answer.findings.some((finding: { code: string }) => finding.code === 'vertex-closure')).toBe(true);
    expect(readdirSync(folder)).not.toContain('never.fold');
  });
});

describe('layers', () => {
  test.each([
    ['s2', '1', 5],
    ['s3', '12', 9],
    ['s4', '1', 6],
  ])('%s: %s states, %i layers at the deepest', async (name, states, deepest) => {
    for (const kind of ['fold', 'svg', 'dxf']) {
      const { code, answer } = await runJson('layers', fixture(`${name}.${kind}`));
      expect(code).toBe(0);
      expect(answer).toMatchObject({ states, exact: true, deepest, conflicts: [] });
    }
  });

  test('asked orders narrow the wallet down until one is left; what cannot be is refused with exit 1', async () => {
    const asked: string[] = [];
    let states = 12;
    for (let round = 0; round < 8 && states > 1; round++) {
      const { answer } = await runJson('layers', fixture('s3.fold'), ...asked);
      for (const [f, g] of answer.order as [number, number, number][]) {
        const more = [...asked, '--over', `${f},${g}`];
        const narrowed = Number((await runJson('layers', fixture('s3.fold'), ...more)).answer.states);
        if (narrowed === 0 || narrowed === states) continue;
        asked.push('--over', `${f},${g}`);
        states = narrowed;
        break;
      }
    }
    expect(states).toBe(1);
    expect(asked.length).toBeGreaterThanOrEqual(4);
    const { answer } = await runJson('layers', fixture('s4.fold'));
    // the coaster has one state only, so what is not so in it cannot be
    const [f, g] = (answer.order as [number, number, number][]).find(([, , side]) => side < 0)!;
    const refused = await runJson('layers', fixture('s4.fold'), '--over', `${f},${g}`);
    expect(refused.code).toBe(1);
    expect(refused.answer.states).toBe('0');
    expect(refused.answer.conflicts[0].panels.length).toBeGreaterThan(1);
  });

  test('a pose that does not close has no layer order: the corners are named, exit 1', async () => {
    const file = JSON.parse(readFileSync(fixture('s1.fold'), 'utf8'));
    file.edges_foldAngle = file.edges_foldAngle.map((angle: number) => (angle === 90 ? 80 : angle));
    writeFileSync(out('leaning.fold'), JSON.stringify(file));
    const { code, answer } = await runJson('layers', out('leaning.fold'));
    expect(code).toBe(1);
    expect(answer).toMatchObject({ states: '0', exact: true, order: [] });
    expect(answer.conflicts[0].message).toContain('do not meet again');
  });
});

// tests/fixtures/README.md: two squares of 100 mm beside each other, four creases in each
test('of a drawing that holds two sheets the command lists both, exit 2, and takes the one that is named', async () => {
  const file = fixture('drawings/zc-two-sheets.svg');
  const { code, output, error } = await run('check', file);
  expect([code, output]).toEqual([2, '']);
  expect(error).toContain('1 (100 x 100 mm, 4 creases), 2 (100 x 100 mm, 4 creases)');
  for (const region of ['1', '2'])
    expect((await runJson('check', file, '--region', region)).answer).toMatchObject({
      panels: 4,
      creases: 4,
    });
  expect((await run('check', file, '--region', '3')).error).toContain('There is no sheet 3');
  expect((await run('check', file, '--region', 'left')).error).toContain('--region wants');
  expect((await run('check', lesson('pencil-case.json'), '--region', '1')).error).toContain(
    '--region is for',
  );
});

describe('calls that mean nothing: exit 2, one sentence on standard error, nothing on standard output', () => {
  const file = fixture('s1.fold');
  test.each([
    [['layers', file, '--over', '3'], '3,7'],
    [['layers', file, '--over', '3,99'], 'panel 99'],
    [['colours', file], 'later'],
    [['size', file, '--sheet', '210mm'], 'later'],
    [['landmarks', file], 'later'],
    [['plan', file], 'later'],
    [['handout', file], 'later'],
    [['unfold', file], '"unfold"'],
    [['check'], 'one file'],
    [['check', file, file], 'one file'],
    [['check', 'nowhere.svg'], 'no such file'],
    [['check', file, '--bogus'], '--bogus'],
    [['check', file, '--to', '1'], '--to'],
    [['check', file, '--true-up', 'much'], '--true-up'],
    [['check', file, '--true-up', '-1'], '--true-up'],
    [['fold', file, '--sheet', '0'], '--sheet'],
    [['fold', file, '--to', '1.5'], '--to'],
    [['fold', file, '--hold', 'x=3'], '--hold'],
    [['fold', file, '--hold', '999=3'], 'crease 999'],
    [['fold', file, '--hold', '0=3'], 'crease 0'],
    [['fold', file, '--still', '99'], 'panel 99'],
    [['fold', file, '--step', '2'], 'no step 2'],
    [['fold', file, '--up', 'c'], '--up'],
    [['fold', file, '--out', 'x.stl'], '.glb'],
    [['fold', file, '--track', '5'], '--out'],
    [['fold', file, '--out', join('no', 'such', 'folder', 'x.fold')], 'cannot be written'],
    [['check', join('tests', 'fixtures')], 'folder'],
    [['check', file, '--lines', file], '--lines'],
    [['check', fixture('s1.dxf'), '--lines', file], 'kind'],
    [['check', fixture('drawings/fold-flatfoldedfirst.fold')], 'holds a folded shape'],
    [['check', fixture('drawings/fold-unitfn.fold')], 'frame_unit "constructor"'],
    [['check', fixture('drawings/dxf-poly3d-steep.dxf')], 'The POLYLINE at line'],
  ])('%j', async (words, hint) => {
    const { code, output, error } = await run(...words);
    expect(code).toBe(2);
    expect(output).toBe('');
    expect(error).toContain(hint);
    expect(error).toMatch(/^[A-Z"-].*\.\n$/);
  });
});

test('the built command, standard input and exit code', async () => {
  const built = join(folder, 'built');
  const bin = join(built, 'creaseway.mjs');
  await buildCommand(built);
  const call = (input: string, ...words: string[]) =>
    spawnSync(process.execPath, [bin, ...words], { input, cwd: folder, encoding: 'utf8' });
  const good = call(readFileSync(fixture('s2.dxf'), 'utf8'), 'check', '-', '--json');
  expect([good.status, good.stderr]).toEqual([0, '']);
  expect(JSON.parse(good.stdout)).toMatchObject({ panels: 19, creases: 26 });
  const bad = call('not a drawing', 'check', '-');
  expect([bad.status, bad.stdout]).toEqual([2, '']);
  expect(bad.stderr).toContain('standard input');
});
