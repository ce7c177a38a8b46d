/** Folds a step wrongly, off the page and beside everything else. */
import { foldWrongly, type WrongFold, type WrongLook } from '../core/run/what-if.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { Broke } from './answers.ts';

export interface WhatIfRequest {
  readonly kind: 'fold-wrongly';
  readonly job: number;
  readonly sheet: Sheet;
  readonly start: Float64Array;
  readonly fold: WrongFold;
}

export interface WhatIfAnswer {
  readonly kind: 'folded-wrongly';
  readonly job: number;
  readonly look: WrongLook;
}

interface WorkerScope {
  postMessage(answer: WhatIfAnswer | Broke): void;
  onmessage: ((event: { data: WhatIfRequest }) => void) | null;
}

const scope = globalThis as unknown as WorkerScope;

scope.onmessage = ({ data: { job, sheet, start, fold } }) => {
  try {
    scope.postMessage({ kind: 'folded-wrongly', job, look: foldWrongly(sheet, start, fold) });
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    scope.postMessage({ kind: 'broke', job, message });
  }
};
