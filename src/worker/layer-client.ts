/**
 * The page's side of the worker of layers. Counting layers cannot be interrupted from within, so cancelling ends the
 * worker and starts another; the screen and the solver are not touched by that.
 */

import type { Section } from '../core/layer/section.ts';
import type { Stacks } from '../core/layer/stacks.ts';
import type { StepLayers, StepMotion } from '../core/lesson/step-layers.ts';
import type { LayerAnswer, LayerRequest } from './layer-protocol.ts';

type Stack = Omit<Extract<LayerRequest, { kind: 'stacks' }>, 'kind' | 'job'>;
type Unnumbered = LayerRequest extends infer R ? (R extends LayerRequest ? Omit<R, 'job'> : never) : never;

export interface LayerPort {
  postMessage(message: LayerRequest): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<LayerAnswer>) => void) | null;
}

export class LayerSolver {
  private next = 1;
  private port: LayerPort | null = null;
  private readonly waiting = new Map<number, (answer: LayerAnswer | null) => void>();

  constructor(private readonly start: () => LayerPort) {}

  /** The layers at the end of a step; null when cancelled, a sentence when it broke. */
  async step(motion: StepMotion): Promise<StepLayers | string | null> {
    const answer = await this.ask({ kind: 'step', motion });
    if (answer?.kind === 'broke') return answer.message;
    return answer?.kind === 'layers' ? answer.layers : null;
  }

  /** The layers of a pose; null when cancelled. */
  async stacks(pose: Stack): Promise<Stacks | null> {
    const answer = await this.ask({ kind: 'stacks', ...pose });
    return answer?.kind === 'stacks' ? answer.stacks : null;
  }

  /** Cuts that tell several orders of a pose apart; empty when cancelled. */
  async telling(pose: Omit<Extract<LayerRequest, { kind: 'telling' }>, 'kind' | 'job'>): Promise<Section[]> {
    const answer = await this.ask({ kind: 'telling', ...pose });
    return answer?.kind === 'telling' ? [...answer.telling.sections] : [];
  }

  /** Ends whatever runs; what waits is answered with null. */
  cancel(): void {
    if (this.waiting.size === 0) return;
    this.port?.terminate();
    this.port = null;
    const waiting = [...this.waiting.values()];
    this.waiting.clear();
    for (const answer of waiting) answer(null);
  }

  private ask(request: Unnumbered): Promise<LayerAnswer | null> {
    const job = this.next++;
    return new Promise((resolve) => {
      this.waiting.set(job, resolve);
      this.open().postMessage({ ...request, job } as LayerRequest);
    });
  }

  private open(): LayerPort {
    if (this.port) return this.port;
    const port = this.start();
    port.onmessage = ({ data }) => {
      this.waiting.get(data.job)?.(data);
      this.waiting.delete(data.job);
    };
    this.port = port;
    return port;
  }
}

export function startLayerSolver(): LayerSolver {
  return new LayerSolver(
    () => new Worker(new URL('./layer.worker.ts', import.meta.url), { type: 'module' }) as LayerPort,
  );
}
