/** The desk at which this page sits. It does nothing before `begin` (main.tsx). */
import { useSyncExternalStore } from 'react';
import { useStore } from 'zustand/react';
import { Desk } from '../desk/desk.ts';
import type { State } from '../desk/store.ts';
import { browserAround } from './browser.ts';

export const desk = new Desk(browserAround());

/** What a view reads of the session; it is drawn anew when that changes. */
export const useDesk = <T>(read: (state: State) => T): T => useStore(desk.store.api, read);

/** Where the slider stands. */
export const usePlace = (): number =>
  useSyncExternalStore(desk.playhead.subscribe, () => desk.playhead.place);
