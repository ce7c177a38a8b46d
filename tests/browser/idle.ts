/** Waits for the page to have nothing left to do, instead of for a time that was long enough on somebody's machine. */
import { type BrowserContext, expect, type Page } from '@playwright/test';

/** So long a door waits for a worker to speak (worker/door.ts), milliseconds. */
const SILENCE = 20_000;
/** Timers up to this length put off what is seen; longer ones keep, or watch over something, milliseconds. */
const LONGEST_DELAY = 500;
/** Pictures in a row without anything to do: what one answer starts has started by then. */
const CALM_PICTURES = 3;
/** A page that does not come to rest in this time does something that it should not, milliseconds. */
const PATIENCE = 60_000;

interface Work {
  /** The timers, pictures and transitions that are still to come, in words; empty where there are none. */
  left(workers: boolean): string;
  /** The browser's own, uncounted. */
  nextPicture(call: () => void): void;
}

type Watched = Window & { work?: Work };

/** Lets every page of the context count what it still has to do. */
export async function countWork(context: BrowserContext): Promise<void> {
  await context.addInitScript(
    ({ longest, silence }) => {
      const page = window as unknown as Watched & typeof globalThis;
      const timers = new Map<unknown, number>();
      const pictures = new Set<number>();
      const { setTimeout, clearTimeout, requestAnimationFrame, cancelAnimationFrame } = page;
      page.setTimeout = ((call: (...given: unknown[]) => void, delay = 0, ...given: unknown[]) => {
        const id = setTimeout(() => {
          timers.delete(id);
          call(...given);
        }, delay);
        if (delay <= longest || delay === silence) timers.set(id, delay);
        return id;
      }) as typeof setTimeout;
      page.clearTimeout = (id) => {
        timers.delete(id);
        clearTimeout(id);
      };
      page.requestAnimationFrame = (call) => {
        const id = requestAnimationFrame((now) => {
          pictures.delete(id);
          call(now);
        });
        pictures.add(id);
        return id;
      };
      page.cancelAnimationFrame = (id) => {
        pictures.delete(id);
        cancelAnimationFrame(id);
      };
      const moving = () =>
        document
          .getAnimations()
          .filter(({ playState, effect }) => playState === 'running' && effect?.getTiming().iterations === 1);
      page.work = {
        left: (workers) =>
          [
            ...[...timers.values()]
              // a door waits this long for its worker to speak: as long as it waits, the worker is at work
              .filter((delay) => workers || delay !== silence)
              .map((delay) => (delay === silence ? 'a worker' : `a timer of ${delay} ms`)),
            ...[...pictures].map(() => 'a picture'),
            ...moving().map((one) => `a transition of ${(one as CSSTransition).transitionProperty}`),
          ].join(', '),
        nextPicture: (call) => void requestAnimationFrame(call),
      };
    },
    { longest: LONGEST_DELAY, silence: SILENCE },
  );
}

/** Waits until nothing on the page moves, nothing is put off, and no worker is asked; with `workers` false they may go on. */
export async function idle(page: Page, { workers = true } = {}): Promise<void> {
  const left = await page.evaluate(
    ({ calm, patience, workers }) => {
      const { work } = window as unknown as Watched;
      if (!work) return 'Nobody counts what this page has to do.';
      const until = performance.now() + patience;
      return new Promise<string>((resolve) => {
        let run = 0;
        const look = () => {
          const things = work.left(workers);
          run = things ? 0 : run + 1;
          if (run >= calm) resolve('');
          else if (performance.now() > until) resolve(`The page still waits for ${things}.`);
          else work.nextPicture(look);
        };
        look();
      });
    },
    { calm: CALM_PICTURES, patience: PATIENCE, workers },
  );
  expect(left).toBe('');
}
