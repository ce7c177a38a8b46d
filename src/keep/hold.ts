/**
 * One tab at a time changes a lesson: it holds a lock that goes with the tab, however the tab ends. Browsers that have
 * no locks let every tab hold; then the revision of each writing still tells of another writer.
 */
import type { Hold } from './kept.ts';

/**
 * @param later called when the lesson, held elsewhere at first, has become free and is held here
 */
export function hold(id: string, later: () => void): Hold {
  const locks = typeof navigator === 'undefined' ? undefined : navigator.locks;
  if (!locks) return { known: Promise.resolve(true), release: () => {} };
  const name = `creaseway lesson ${id}`;
  const waiting = new AbortController();
  let letGo = () => {};
  const until = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  const known = new Promise<boolean>((resolve) => {
    locks
      .request(name, { ifAvailable: true }, (lock) => {
        resolve(lock !== null);
        return lock ? until : undefined;
      })
      .catch(() => resolve(true));
  });
  void known.then((held) => {
    if (held || waiting.signal.aborted) return;
    locks
      .request(name, { signal: waiting.signal }, () => {
        later();
        return until;
      })
      .catch(() => {});
  });
  return {
    known,
    release: () => {
      waiting.abort();
      letGo();
    },
  };
}
