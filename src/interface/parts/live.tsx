import { type ReactNode, useSyncExternalStore } from 'react';
import { desk } from '../desk.ts';

/** Reads a text off the shown pose; only the text is drawn anew as the slider moves. */
export function Live({ read }: { read: () => ReactNode }) {
  useSyncExternalStore(desk.playhead.subscribe, () => desk.playhead.pose);
  return <>{read()}</>;
}
