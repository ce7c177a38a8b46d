/** Paths as the PDF library hands them over, as runs. */
import type { Run } from '../drawing/runs.ts';

/** Numbers after each code: move, line, cubic curve, quadratic curve, close. */
const SIZES = [2, 2, 6, 4, 0] as const;
const [MOVE, LINE, CUBIC, QUADRATIC] = [0, 1, 2, 3];

/** @param codes codes, each followed by its coordinates */
export function runsOfPath(codes: ArrayLike<number>): Run[] {
  const runs: Run[] = [];
  let run: Run | null = null;
  let [x, y] = [0, 0];
  for (let at = 0; at < codes.length; ) {
    const code = codes[at]!;
    const size = SIZES[code];
    if (size === undefined || at + size >= codes.length + (size === 0 ? 1 : 0)) break;
    const n = Array.from({ length: size }, (_, k) => codes[at + 1 + k]!);
    at += 1 + size;
    if (code === MOVE || !run) {
      const start = code === MOVE ? ([n[0]!, n[1]!] as const) : ([x, y] as const);
      runs.push((run = { start, pieces: [], closed: false, curve: null }));
    }
    if (code === LINE) run.pieces.push(n);
    else if (code === CUBIC || code === QUADRATIC) {
      run.curve = 'curve';
      run.pieces.push(code === CUBIC ? n : raised(x, y, n));
    } else if (code !== MOVE) {
      run.closed = true;
      [x, y] = run.start;
      run = null;
    }
    if (size > 0) [x, y] = [n[size - 2]!, n[size - 1]!];
  }
  return runs.filter(({ pieces, closed }) => pieces.length > 0 || closed);
}

/** A quadratic curve as a cubic one. */
function raised(x: number, y: number, [cx, cy, ex, ey]: readonly number[]): number[] {
  const share = (end: number, control: number) => end + (2 / 3) * (control - end);
  return [share(x, cx!), share(y, cy!), share(ex!, cx!), share(ey!, cy!), ex!, ey!];
}
