/** The solver's worker: a thin door to the core. Jobs and their rules live in jobs.ts. */
import { Jobs } from './jobs.ts';
import type { Answer, Request } from './protocol.ts';

interface WorkerScope {
  postMessage(answer: Answer, transfer: Transferable[]): void;
  onmessage: ((event: { data: Request }) => void) | null;
}

const scope = globalThis as unknown as WorkerScope;
const jobs = new Jobs((answer, transfer) => scope.postMessage(answer, transfer ?? []));

scope.onmessage = (event) => {
  void jobs.take(event.data);
};
