/** The page's side of a worker that folds likely mistakes. */
import type { Broken } from '../core/run/step-known.ts';
import type { WrongFold, WrongLook } from '../core/run/what-if.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { Door, type WorkerPort } from './door.ts';
import type { WhatIfAnswer, WhatIfRequest } from './what-if.worker.ts';
import type { WrongWork } from './work.ts';

class WrongClient implements WrongWork {
  private readonly door: Door<WhatIfRequest, WhatIfAnswer>;

  constructor(start: () => WorkerPort) {
    this.door = new Door(start);
  }

  async foldWrongly(sheet: Sheet, start: Float64Array, fold: WrongFold): Promise<WrongLook | Broken | null> {
    const answer = await this.door.ask({ kind: 'fold-wrongly', sheet, start, fold });
    if (answer.kind === 'broke') return { broke: answer.message };
    return answer.kind === 'folded-wrongly' ? answer.look : null;
  }

  end(): void {
    this.door.close();
  }
}

export function startWrongs(): WrongClient {
  return new WrongClient(
    () => new Worker(new URL('./what-if.worker.ts', import.meta.url), { type: 'module' }),
  );
}
