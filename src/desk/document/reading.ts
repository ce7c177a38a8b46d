/** Reads files, and says what is being done where that takes its time. */
import type { LineMapping } from '../../core/storage/drawing/mapping.ts';
import { words } from '../../words/words.ts';
import type { ReadingStage } from '../../worker/file-protocol.ts';
import type { FileReply, FileWork, ToldStage } from '../../worker/work.ts';
import type { Clock } from '../around.ts';
import type { Store } from '../store.ts';

/** What is done within this time needs no words. */
const PROMPT_MILLISECONDS = 300;

export class Reading {
  private asked = 0;

  constructor(
    private readonly store: Store,
    private readonly files: FileWork,
    private readonly clock: Clock,
  ) {}

  open(name: string, bytes: Uint8Array): Promise<FileReply> {
    return this.waited(name, (told) => this.files.open(name, bytes, words.names, told));
  }

  takeSheet(name: string, region: number | 'all'): Promise<FileReply> {
    return this.waited(name, (told) => this.files.takeSheet(region, told));
  }

  takePage(name: string, page: number): Promise<FileReply> {
    return this.waited(name, (told) => this.files.takePage(page, told));
  }

  map(name: string, mapping: LineMapping): Promise<FileReply> {
    return this.waited(name, (told) => this.files.map(mapping, told));
  }

  cancel(): void {
    this.files.cancel();
  }

  private async waited(name: string, ask: (told: ToldStage) => Promise<FileReply>): Promise<FileReply> {
    const own = ++this.asked;
    const now: { stage: ReadingStage; isShown: boolean } = { stage: 'reading', isShown: false };
    const show = () => {
      if (now.isShown && own === this.asked)
        this.store.put({ opening: { reading: { name, stage: now.stage } } });
    };
    const end = this.clock.later(() => {
      now.isShown = true;
      show();
    }, PROMPT_MILLISECONDS);
    const answer = await ask((stage) => {
      now.stage = stage;
      show();
    });
    end();
    if (own === this.asked) this.store.put({ opening: { reading: null } });
    return answer;
  }
}
