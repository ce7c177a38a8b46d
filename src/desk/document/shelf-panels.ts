/** Which panel about kept lessons is open, and what it lists. */
import { create } from 'zustand';
import type { KeptLesson, Version } from '../../keep/shelf.ts';
import { homeNow, onShelf, shelf } from './keeping.ts';

export const panels = ['library', 'about', 'versions'] as const;
export type Panel = (typeof panels)[number];
export const isPanel = (key: unknown): key is Panel => panels.includes(key as Panel);

interface ShelfState {
  readonly shown: Panel | null;
  readonly lessons: readonly KeptLesson[];
  readonly pictures: ReadonlyMap<string, string>;
  readonly versions: readonly Version[];
  /** The lesson deleted last while the panel is open; it can be had back. */
  readonly deleted: KeptLesson | null;
}

export const useShelf = create<ShelfState>()(() => ({
  shown: null,
  lessons: [],
  pictures: new Map(),
  versions: [],
  deleted: null,
}));

export function showPanel(shown: Panel | null): void {
  useShelf.setState({ shown, deleted: null });
  void readShelf();
}

/** Reads anew what the open panel lists. */
async function readShelf(): Promise<void> {
  const { shown } = useShelf.getState();
  if (shown === 'library') {
    const lessons = await shelf.list();
    const found = await Promise.all(lessons.map(async ({ id }) => [id, await shelf.picture(id)] as const));
    const pictures = new Map(found.filter((one): one is [string, string] => one[1] !== null));
    useShelf.setState({ lessons, pictures });
  }
  const id = homeNow()?.id;
  if (shown === 'versions') useShelf.setState({ versions: id ? await shelf.versions(id) : [] });
}

onShelf.call = () => void readShelf();
