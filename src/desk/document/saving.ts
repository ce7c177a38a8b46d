/** Hands the lesson or the pose over as a file. */
import { words } from '../../words/words.ts';
import type { FileFormat } from '../../worker/protocol.ts';
import type { SolverWork } from '../../worker/work.ts';
import type { Around } from '../around.ts';
import type { PlacedPose, TrackBoard } from '../play/board.ts';
import type { Playhead } from '../play/playhead.ts';
import type { Store } from '../store.ts';

export class Saving {
  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
    private readonly solver: SolverWork,
    private readonly handOver: Around['handOver'],
  ) {}

  async save(format: FileFormat): Promise<void> {
    const { lesson, sheet } = this.store.document;
    const { pose, board } = this.playhead;
    if (!lesson || !sheet || !board) return;
    const pictures = this.store.run.steps.map(({ picture }) => picture);
    const angle = pose?.angle.slice(0, sheet.creaseKind.length) ?? new Float64Array(sheet.creaseKind.length);
    const still = board.stillPanel(sheet);
    const drawn = pose?.sheet === sheet ? { drawn: drawnFor(board, pose) } : {};
    const answer = await this.solver.write(format, { lesson, sheet, angle, still, pictures, ...drawn });
    if (answer.kind === 'broke') this.store.say(words.broke(answer.message));
    if (answer.kind !== 'written') return;
    const name = `${fileName(lesson.title)}.${format === 'lesson' ? 'json' : format}`;
    this.handOver(name, answer.bytes, answer.type);
    this.store.say(words.saved(name), 'plain');
  }
}

const drawnFor = (board: TrackBoard, pose: PlacedPose) => ({
  levels: pose.levels,
  aside: pose.aside,
  order: board.orderOfParts(pose),
});

function fileName(title: string): string {
  const plain = title
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
  return plain || 'lesson';
}
