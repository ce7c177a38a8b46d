/** The worker that reads files, apart from all others, so that it can be ended whatever a file makes it do. */
import type { Broke } from './answers.ts';
import { FileJobs } from './file-jobs.ts';
import type { FileAnswer, FileRequest } from './file-protocol.ts';

interface WorkerScope {
  postMessage(answer: FileAnswer | Broke): void;
  onmessage: ((event: { data: FileRequest }) => void) | null;
}

const scope = globalThis as unknown as WorkerScope;
const jobs = new FileJobs((answer) => scope.postMessage(answer));

scope.onmessage = ({ data }) => {
  // libraries that read files post messages of their own
  if (typeof data?.job !== 'number') return;
  jobs.take(data).catch((error: unknown) => {
    const message = error instanceof Error ? error.message : String(error);
    scope.postMessage({ kind: 'broke', job: data.job, message });
  });
};
