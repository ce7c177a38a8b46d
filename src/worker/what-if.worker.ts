/** Folds a step wrongly, off the page and beside everything else. */
import { foldWrongly, type WrongFold, type WrongLook } from '../core/lesson/what-if.ts';
import type { Sheet } from '../core/sheet/sheet.ts';

export interface WhatIfRequest {
  readonly job: number;
  readonly sheet: Sheet;
  readonly start: Float64Array;
  readonly fold: WrongFold;
}

export interface WhatIfAnswer {
  readonly job: number;
  /** Null where folding broke. */
  readonly look: WrongLook | null;
}

interface WorkerScope {
  postMessage(answer: WhatIfAnswer): void;
  onmessage: ((event: { data: WhatIfRequest }) => void) | null;
}

const scope = globalThis as unknown as WorkerScope;

scope.onmessage = ({ data: { job, sheet, start, fold } }) => {
  try {
    scope.postMessage({ job, look: foldWrongly(sheet, start, fold) });
  } catch {
    scope.postMessage({ job, look: null });
  }
};
