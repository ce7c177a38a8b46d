/**
 * The page's side of the worker of layers. Counting layers cannot be interrupted from within, so cancelling ends the
 * worker and starts another; the screen and the solver are not touched by that.
 */
import type { Section } from '../core/layer/section.ts';
import type { Stacks } from '../core/layer/stacks.ts';
import type { StepLook } from '../core/run/look.ts';
import type { Broken } from '../core/run/step-known.ts';
import { Door, type WorkerPort } from './door.ts';
import type { LayerAnswer, LayerRequest } from './layer-protocol.ts';
import type { LayersAsked, LayerWork } from './work.ts';

export class LayerSolver implements LayerWork {
  private readonly door: Door<LayerRequest, LayerAnswer>;

  constructor(start: () => WorkerPort) {
    this.door = new Door(start);
  }

  /** Layers at the end of a step and what is met on the way; null when cancelled. */
  async look(what: LayersAsked<'look'>): Promise<StepLook | Broken | null> {
    const answer = await this.door.ask({ kind: 'look', ...what });
    if (answer.kind === 'broke') return { broke: answer.message };
    return answer.kind === 'look' ? answer.look : null;
  }

  /** The layers of a pose; null when cancelled or broken. */
  async stacks(pose: LayersAsked<'stacks'>): Promise<Stacks | null> {
    const answer = await this.door.ask({ kind: 'stacks', ...pose });
    return answer.kind === 'stacks' ? answer.stacks : null;
  }

  /** Cuts that tell several orders of a pose apart; empty when cancelled or broken. */
  async telling(pose: LayersAsked<'telling'>): Promise<readonly Section[]> {
    const answer = await this.door.ask({ kind: 'telling', ...pose });
    return answer.kind === 'telling' ? answer.telling.sections : [];
  }

  /** Ends whatever runs; what waits is answered with null. */
  cancel(): void {
    if (this.door.busy) this.door.close();
  }
}

export function startLayerSolver(): LayerSolver {
  return new LayerSolver(() => new Worker(new URL('./layer.worker.ts', import.meta.url), { type: 'module' }));
}
