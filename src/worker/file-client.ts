/**
 * The page's side of the worker that reads files. Each file has a worker of its own, ended with the last answer about it,
 * so that its memory comes back; a file that is opened while another is being read takes its place.
 */
import type { LessonNames } from '../core/lesson/plain-sides.ts';
import type { Unnumbered } from './answers.ts';
import { Door, type WorkerPort } from './door.ts';
import type { FileAnswer, FileRequest } from './file-protocol.ts';
import type { FileReply, FileWork, ToldStage } from './work.ts';

/** Reading may be silent for this long, milliseconds: Cancel ends it at any time. */
const SILENCE = 300_000;

export class Files implements FileWork {
  private readonly door: Door<FileRequest, FileAnswer>;

  constructor(start: () => WorkerPort, needed?: () => Promise<unknown>) {
    this.door = new Door(start, SILENCE, needed);
  }

  open(name: string, bytes: Uint8Array, names: LessonNames, told: ToldStage): Promise<FileReply> {
    this.cancel();
    return this.ask({ kind: 'open', name, bytes, names }, told, [bytes.buffer as ArrayBuffer]);
  }

  takeSheet(region: number | 'all', told: ToldStage): Promise<FileReply> {
    return this.ask({ kind: 'take-sheet', region }, told);
  }

  takePage(page: number, told: ToldStage): Promise<FileReply> {
    return this.ask({ kind: 'take-page', page }, told);
  }

  map(mapping: Extract<FileRequest, { kind: 'map' }>['mapping'], told: ToldStage): Promise<FileReply> {
    return this.ask({ kind: 'map', mapping }, told);
  }

  cancel(): void {
    this.door.close();
  }

  private ask(request: Unnumbered<FileRequest>, told: ToldStage, transfer: Transferable[] = []) {
    return new Promise<FileReply>((resolve) => {
      const job = this.door.listen(
        request,
        (answer) => {
          if (answer.kind === 'stage') {
            told(answer.stage);
            return;
          }
          this.door.forget(job);
          // answers that make no sheet may be given anew
          if (answer.kind === 'ready' || (answer.kind === 'refused' && request.kind === 'open'))
            this.door.close();
          resolve(answer);
        },
        transfer,
      );
    });
  }
}

export function startFiles(needed: () => Promise<unknown>): Files {
  return new Files(
    () => new Worker(new URL('./file.worker.ts', import.meta.url), { type: 'module' }),
    needed,
  );
}
