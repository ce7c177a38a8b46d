/** The worker of layers: a thin door to the core, see layer-jobs.ts. */
import type { Alive } from './answers.ts';
import { signOfLife } from './door.ts';
import { takeLayerRequest } from './layer-jobs.ts';
import type { LayerAnswer, LayerRequest } from './layer-protocol.ts';

interface WorkerScope {
  postMessage(answer: LayerAnswer | Alive): void;
  onmessage: ((event: { data: LayerRequest }) => void) | null;
}

const scope = globalThis as unknown as WorkerScope;

scope.onmessage = ({ data }) => {
  const alive = signOfLife(data.job, (sign) => scope.postMessage(sign));
  scope.postMessage(takeLayerRequest(data, alive));
};
