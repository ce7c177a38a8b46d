/** The worker of layers: a thin door to the core, see layer-jobs.ts. */
import { takeLayerRequest } from './layer-jobs.ts';
import type { LayerAnswer, LayerRequest } from './layer-protocol.ts';

interface WorkerScope {
  postMessage(answer: LayerAnswer): void;
  onmessage: ((event: { data: LayerRequest }) => void) | null;
}

const scope = globalThis as unknown as WorkerScope;

scope.onmessage = ({ data }) => scope.postMessage(takeLayerRequest(data));
