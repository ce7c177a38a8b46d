import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Finding, finding } from '../core/finding/finding.ts';
import { plainSides } from '../core/lesson/lesson-of-sheet.ts';
import { CLOSED, LEVEL } from '../core/numeric/tolerance.ts';
import { closureOfPose } from '../core/pose/closure.ts';
import { countFreedoms } from '../core/pose/freedoms.ts';
import { type Placement, placePanels, vertexPositions } from '../core/pose/place.ts';
import { stretchOfPose } from '../core/pose/stretch.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { writeFold } from '../core/storage/write-fold.ts';
import { writeGlb } from '../core/storage/write-glb.ts';
import { writeObj } from '../core/storage/write-obj.ts';
import { writeFlatSvg } from '../core/storage/write-svg.ts';
import { type Folded, foldAsAsked, poseAlong, type SheetPose } from './fold-plan.ts';
import { type Input, readInput } from './input.ts';
import type { Options } from './options.ts';
import { orderOfPose } from './order-of-pose.ts';
import { findingLines, findingsForOutput } from './report.ts';
import { stillPanel } from './still.ts';
import { Unusable } from './unusable.ts';

const kindsOfFile = ['.fold', '.glb', '.obj', '.svg'] as const;
type KindOfFile = (typeof kindsOfFile)[number];

/** `creaseway fold FILE`: the state asked for, whether it closes, and whether paper can get there. */
export async function fold(options: Options): Promise<{ output: string; code: number }> {
  const kind = options.out === null || options.track !== null ? '.fold' : kindOfFile(options.out);
  const input = await readInput(options);
  const { sheet } = input;
  if (!sheet)
    throw new Unusable(
      input.findings.find(({ severity }) => severity === 'error')?.message ?? 'This file makes no sheet.',
    );
  const still = stillPanel(input, sheet, options);
  const folded = foldAsAsked(input, sheet, options);
  const { state } = folded;
  const closure = closureOfPose(state.sheet, state.angle);
  const closes = closure.largest < CLOSED;
  const placement = placePanels(state.sheet, state.angle, stillOn(state, sheet, still, folded));
  const findings = [...input.findings, ...folded.findings, ...(closes ? [] : unclosed(state, closure.loops))];
  const written = closes ? await write(options, kind, input, folded, placement, still) : null;
  const reports = folded.tracks.map((track) => track.report);
  const most = (pick: (report: (typeof reports)[number]) => number) => Math.max(0, ...reports.map(pick));
  const answer = {
    closes,
    outcome: folded.outcome,
    closure: closure.largest,
    stretch: stretchOfPose(state.sheet, placement),
    deviation: folded.deviation,
    bendDegrees: most((report) => report.bendDegrees),
    jumps: reports.reduce((sum, report) => sum + report.jumps, 0),
    freedoms: countFreedoms(state.sheet, state.angle),
    ...(input.size === null ? {} : { size: sizeOf(state.sheet, placement, input.size) }),
    ...(input.size === null ? {} : { tear: input.size * most((report) => report.tear) }),
    trackClosure: most((report) => report.closure),
    starts: reports.reduce((sum, report) => sum + report.starts, 0),
    seed: reports[0]?.seed ?? null,
    ...(input.moved === null ? {} : { moved: input.moved }),
    ...(written === null ? {} : { written }),
    findings: findingsForOutput(findings, sheet),
  };
  const code = closes && (folded.outcome === 'rigid' || folded.outcome === 'bends') ? 0 : 1;
  if (options.json) return { output: JSON.stringify(answer), code };
  const size =
    'size' in answer ? [`size ${answer.size!.map((length) => length.toFixed(2)).join(' × ')} mm`] : [];
  const lines = [
    closes
      ? `this state closes (to ${closure.largest.toExponential(1)} radians)`
      : `this state does not close (${closure.largest.toExponential(1)} radians left over)`,
    `getting there: ${folded.outcome}${answer.bendDegrees > 0 ? `, panels bend by up to ${answer.bendDegrees.toFixed(1)}°` : ''}`,
    `freedoms ${answer.freedoms}, deviation ${answer.deviation.toFixed(4)}°`,
    ...size,
    ...findingLines(findings),
    ...(written === null ? [] : [`written: ${written}`]),
  ];
  return { output: lines.join('\n'), code };
}

function kindOfFile(out: string): KindOfFile {
  const kind = kindsOfFile.find((ending) => out.toLowerCase().endsWith(ending));
  if (kind) return kind;
  throw new Unusable(`--out wants a file that ends in ${kindsOfFile.join(', ')}, not "${out}".`);
}

/** The still panel's number on a sheet with bend lines: the first part of it. */
function stillOn(pose: SheetPose, sheet: Sheet, still: number, folded: Folded): number {
  if (pose.sheet === sheet) return still;
  const track = folded.tracks.find((candidate) => candidate.sheet === pose.sheet);
  return Math.max(0, track?.panelOf.indexOf(still) ?? still);
}

function sizeOf(sheet: Sheet, placement: Placement, millimetres: number): number[] {
  const positions = vertexPositions(sheet, placement);
  return [0, 1, 2].map((axis) => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let i = axis; i < positions.length; i += 3) {
      low = Math.min(low, positions[i]!);
      high = Math.max(high, positions[i]!);
    }
    return (high - low) * millimetres;
  });
}

function unclosed(state: SheetPose, loops: ReturnType<typeof closureOfPose>['loops']): Finding[] {
  const { sheet } = state;
  return loops
    .filter((loop) => loop.rotation >= CLOSED || loop.gap >= CLOSED)
    .map((loop) => {
      const creases = [...new Set(loop.creases)];
      const degrees = ((loop.rotation * 180) / Math.PI).toPrecision(3);
      const facts = { value: loop.rotation, limit: CLOSED, creases };
      if (loop.vertex < 0) {
        const message = `Going round a hole the panels do not meet again (${degrees}° and ${loop.gap.toPrecision(3)} of the sheet left over): correct the angles of its creases.`;
        return finding('hole-closure', 'error', message, facts);
      }
      const at = [sheet.vertexX[loop.vertex]!, sheet.vertexY[loop.vertex]!] as const;
      const message = `Going round vertex ${loop.vertex} the panels do not meet again (${degrees}° left over): correct the angles of its creases.`;
      return finding('vertex-closure', 'error', message, { ...facts, vertices: [loop.vertex], at: [at] });
    });
}

/** Writes what was asked for and returns where. Nothing is written when the call names no place. */
async function write(
  options: Options,
  kind: KindOfFile,
  input: Input,
  folded: Folded,
  placement: Placement,
  still: number,
): Promise<string | null> {
  const { out, track } = options;
  if (out === null) {
    if (track !== null) throw new Unusable('--track writes a folder of poses: name it with --out.');
    return null;
  }
  try {
    if (track !== null) return await writeTrack(out, track, input, folded, still);
    await writeFile(out, contentOf(kind, folded, placement, input, options, still));
    return out;
  } catch (error) {
    if (error instanceof Unusable) throw error;
    throw new Unusable(
      `"${out}" cannot be written: ${(error as NodeJS.ErrnoException).code ?? 'unknown trouble'}.`,
    );
  }
}

function contentOf(
  kind: KindOfFile,
  folded: Folded,
  placement: Placement,
  input: Input,
  options: Options,
  still: number,
): string | Uint8Array {
  const { sheet, angle } = folded.state;
  const facts = { title: input.title, size: input.size, millimetres: input.millimetres };
  const colours = coloursOf(input, options);
  switch (kind) {
    case '.fold':
      return writeFold(sheet, facts, { angle, placement, order: orderOfPose(input, sheet, folded, still) });
    case '.obj':
      return writeObj(sheet, placement, input.title);
    case '.glb':
      return writeGlb(sheet, placement, { size: input.size ?? 150, ...colours });
    case '.svg': {
      const positions = vertexPositions(sheet, placement);
      if (positions.some((value, i) => i % 3 === 2 && Math.abs(value) > LEVEL)) {
        throw new Unusable(
          'This pose does not lie flat, so it cannot be written as .svg: ask for .fold, .glb or .obj.',
        );
      }
      return writeFlatSvg(sheet, placement, colours, facts);
    }
  }
}

function coloursOf(input: Input, options: Options): { up: string; down: string } {
  const sides = input.lesson?.sheet.sides ?? plainSides;
  const up = options.up ?? input.lesson?.sheet.sideUp ?? 'b';
  return { up: sides[up].colour, down: sides[up === 'a' ? 'b' : 'a'].colour };
}

/** N poses, evenly along all tracks together, as FOLD files numbered from 0 in a folder. */
async function writeTrack(
  folder: string,
  count: number,
  input: Input,
  folded: Folded,
  still: number,
): Promise<string> {
  await mkdir(folder, { recursive: true });
  const { tracks } = folded;
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
