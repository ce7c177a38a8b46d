/** Keeps how a lesson is looked at, and a small picture of it: no edits, and no loss if the page dies before. */
import type { EyePlace } from '../../core/lesson/eye.ts';
import type { Last, ShelfOfLessons } from '../../keep/kept.ts';
import type { Clock, End } from '../around.ts';
import type { Playhead } from '../play/playhead.ts';
import type { StepLooks } from '../play/step-looks.ts';
import type { State, Store } from '../store.ts';
import type { Homes } from './homes.ts';
import type { ShelfNews } from './shelf-news.ts';

/** The place of the slider is written this long after it came to rest; small pictures a while later. */
const REST_MILLISECONDS = 250;
const PICTURE_MILLISECONDS = 1000;

interface Parts {
  readonly store: Store;
  readonly homes: Homes;
  readonly news: ShelfNews;
  readonly playhead: Playhead;
  readonly stepLooks: StepLooks;
  readonly shelf: ShelfOfLessons;
  readonly clock: Clock;
}

export class KeptLooks {
  private lookHalt: End = () => {};
  private pictureHalt: End = () => {};
  /** The eye as it was written last. */
  private eyePut: EyePlace | null = null;

  constructor(private readonly parts: Parts) {}

  begin(): End {
    const { store, playhead, news } = this.parts;
    const ends = [
      store.subscribe((now, before) => this.follow(now, before)),
      playhead.subscribe(() => this.lookSoon()),
      news.subscribe(() => this.lookSoon()),
    ];
    return () => {
      for (const end of ends) end();
    };
  }

  /** After each picture: the eye may have moved. */
  eyeMoved(): void {
    if (!isSameEye(this.parts.stepLooks.eyeNow(), this.eyePut)) this.lookSoon();
  }

  /** Writes how the lesson is looked at now. */
  put(): void {
    this.lookHalt();
    const { store, homes, shelf, playhead, stepLooks } = this.parts;
    const { computing, bend, free } = store.run;
    const { turned, view } = store.look;
    const key = homes.current && lookKey(homes.current);
    // while tracks are computed the slider is still on its way to where it was
    if (!key || computing) return;
    this.eyePut = stepLooks.eyeNow();
    void shelf.putLook(key, { place: playhead.place, bend, free, turned, view, eye: this.eyePut });
  }

  private follow(now: State, before: State): void {
    const choices = (['bend', 'free'] as const).some((key) => now.run[key] !== before.run[key]);
    const looks = (['turned', 'view'] as const).some((key) => now.look[key] !== before.look[key]);
    if (choices || looks || (before.run.computing && !now.run.computing)) this.lookSoon();
    if (now.run.steps !== before.run.steps) this.pictureSoon();
  }

  private lookSoon(): void {
    if (this.parts.playhead.quiet) return;
    this.lookHalt();
    this.lookHalt = this.parts.clock.later(() => this.put(), REST_MILLISECONDS);
  }

  private pictureSoon(): void {
    this.pictureHalt();
    this.pictureHalt = this.parts.clock.later(() => void this.putPicture(), PICTURE_MILLISECONDS);
  }

  private async putPicture(): Promise<void> {
    const { store, homes, shelf, news } = this.parts;
    const picture = store.run.steps.findLast((one) => one.picture)?.picture;
    const key = homes.current && lookKey(homes.current);
    if (!key || store.run.computing || !picture) return;
    await shelf.putPicture(key, picture);
    news.hear();
  }
}

/** Under which name looks and pictures lie: of a kept lesson its own, of a sample one of the sample. */
export const lookKey = ({ id, sample }: Last) => id ?? (sample ? `sample ${sample}` : null);

const isSameEye = (a: EyePlace | null, b: EyePlace | null) =>
  a === b || (a !== null && b !== null && a.bearing === b.bearing && a.fall === b.fall && a.zoom === b.zoom);
