import type { Segment } from '../sheet/segment.ts';
import type { Lesson, PatternLine } from './lesson.ts';

/** The strokes of a lesson's pattern: its outline as raw edges, then its lines. Pattern units, radians. */
export function segmentsOfLesson(lesson: Lesson): Segment[] {
  const { outline, lines } = lesson.pattern;
  const edges = outline.map((corner, index): Segment => {
    const next = outline[(index + 1) % outline.length]!;
    return {
      x1: corner[0],
      y1: corner[1],
      x2: next[0],
      y2: next[1],
      kind: 'edge',
      source: { how: 'corner', index },
    };
  });
  const creases = lines.map(
    (line, index): Segment => ({
      x1: line.from[0],
      y1: line.from[1],
      x2: line.to[0],
      y2: line.to[1],
      kind: line.kind,
      ...angleOf(line),
      source: { how: 'pattern-line', index },
    }),
  );
  return [...edges, ...creases];
}

/** A mountain or valley without an angle is a half turn, as in drawings. */
function angleOf({ kind, angle }: PatternLine): { angle?: number } {
  const degrees = angle ?? (kind === 'mountain' ? -180 : kind === 'valley' ? 180 : undefined);
  return degrees === undefined ? {} : { angle: (degrees * Math.PI) / 180 };
}
