/** The page's side of the worker that tries mends. */
import type { Finding } from '../core/finding/finding.ts';
import type { Mend } from '../core/lesson/check/mends.ts';
import type { Lesson } from '../core/lesson/lesson.ts';
import { Door, type WorkerPort } from './door.ts';
import type { MendAnswer, MendRequest } from './mend.worker.ts';
import type { FoldChoices } from './protocol.ts';
import type { MendWork } from './work.ts';

class MendClient implements MendWork {
  private readonly door: Door<MendRequest, MendAnswer>;

  constructor(start: () => WorkerPort) {
    this.door = new Door(start);
  }

  async mendFor(lesson: Lesson, choices: FoldChoices, finding: Finding): Promise<Mend | null> {
    const answer = await this.door.ask({ kind: 'mend', lesson, choices, finding });
    return answer.kind === 'mended' ? answer.mend : null;
  }

  cancel(): void {
    if (this.door.busy) this.door.close();
  }
}

export function startMends(): MendClient {
  return new MendClient(() => new Worker(new URL('./mend.worker.ts', import.meta.url), { type: 'module' }));
}
