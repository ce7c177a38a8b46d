import { tidyDegrees } from '../core/numeric/tidy.ts';
import { isRefused } from '../core/run/verdict.ts';
import { cornerInPattern } from '../core/sheet/frame.ts';
import { KIND, lineKinds } from '../core/sheet/kind.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { halfEdgeOrigin, interiorVertices, panelRing } from '../core/sheet/walk.ts';
import type { CommandLine } from '../words/language.ts';
import { fetchCommandLine } from '../words/words.ts';
import { checkFolded } from './check-folded.ts';
import { planOfInput } from './fold-plan.ts';
import { readInput } from './input.ts';
import type { Options } from './options.ts';
import { findingLines, findingsForOutput, isBlocked, verdictLine } from './report.ts';

/** `creaseway check FILE`: counts and findings. Exit code 1 when a finding is an error. */
export async function check(options: Options): Promise<{ output: string; code: number }> {
  const input = await readInput(options);
  const { sheet, moved } = input;
  const plan = sheet && planOfInput(input, sheet, options);
  const flat = [...input.findings, ...(plan?.findings ?? [])];
  // what does not close or makes no sheet cannot be folded
  const folded = options.folded && plan && !isBlocked(flat) ? checkFolded(plan, options) : null;
  const findings = [...flat, ...(folded?.findings ?? [])];
  const counts = countsOf(sheet);
  const code = isBlocked(findings) || !sheet || (folded && isRefused(folded.verdict)) ? 1 : 0;
  if (options.json) {
    const answer = {
      ...counts,
      ...(moved === null ? {} : { moved }),
      ...(folded ? { verdict: folded.verdict } : {}),
      findings: findingsForOutput(findings, sheet),
      ...(options.list && sheet ? { list: listOf(sheet) } : {}),
    };
    return { output: JSON.stringify(answer), code };
  }
  const say = await fetchCommandLine();
  const lines = [
    say.counts(counts),
    ...(moved === null ? [] : [say.truedUp(moved)]),
    ...findingLines(findings),
    folded ? verdictLine(folded.verdict) : say.lookedAt(),
    ...(folded && findings.length === 0 ? [say.nothingFound()] : []),
    ...(options.list && sheet ? listLines(say, sheet) : []),
  ];
  return { output: lines.join('\n'), code };
}

function countsOf(sheet: Sheet | null) {
  if (!sheet) return { vertices: 0, interiorVertices: 0, creases: 0, panels: 0 };
  return {
    vertices: sheet.vertexX.length,
    interiorVertices: interiorVertices(sheet).length,
    creases: sheet.creaseKind.filter((kind) => kind !== KIND.edge).length,
    panels: sheet.panelRings.length,
  };
}

/** Every vertex, crease and panel under its number, coordinates in the input's own unit. */
function listOf(sheet: Sheet) {
  const point = (vertex: number) => cornerInPattern(sheet, vertex);
  return {
    vertices: Array.from(sheet.vertexX, (_, vertex) => point(vertex)),
    creases: Array.from(sheet.creaseKind, (kind, crease) => {
      const angle = sheet.creaseAngle[crease]!;
      const ends = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!] as const;
      return {
        kind: lineKinds[kind]!,
        angle: Number.isNaN(angle) ? null : tidyDegrees(angle),
        vertices: ends,
        from: point(ends[0]),
        to: point(ends[1]),
      };
    }),
    panels: sheet.panelRings.map((rings) =>
      rings.map((ring) => panelRing(sheet, ring).map((half) => halfEdgeOrigin(sheet, half))),
    ),
  };
}

function listLines(say: CommandLine, sheet: Sheet): string[] {
  const { vertices, creases, panels } = listOf(sheet);
  return [
    ...vertices.map(([x, y], vertex) => say.cornerAt(vertex, x, y)),
    ...creases.map((crease, number) => say.creaseFrom(number, crease)),
    ...panels.map((rings, panel) => say.panelRound(panel, rings)),
  ];
}
