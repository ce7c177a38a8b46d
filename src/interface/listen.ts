/** What the whole page hears: keys that no place on it took, and that it is about to go. */
import type { Desk } from '../desk/desk.ts';
import { press } from './parts/press.ts';

/** @returns a call that ends it */
export function listenToPage(desk: Desk): () => void {
  const leaving = new AbortController();
  const { signal } = leaving;
  press.follow(signal);
  window.addEventListener('keydown', (event) => onKey(desk, event), { signal });
  window.addEventListener('pagehide', () => desk.keptLooks.put(), { signal });
  document.addEventListener('visibilitychange', () => document.hidden && desk.keptLooks.put(), { signal });
  window.addEventListener('beforeunload', (event) => desk.keeping.unkept && event.preventDefault(), {
    signal,
  });
  return () => leaving.abort();
}

/** Keys meant for a field, a button or a menu are left alone. */
function onKey(desk: Desk, event: KeyboardEvent): void {
  if (event.defaultPrevented || event.altKey) return;
  const target = event.target as HTMLElement;
  const held = event.ctrlKey || event.metaKey;
  if (target.closest('[role=dialog], [role=menu], [role=listbox]')) return;
  const field = target.closest<HTMLInputElement>('input, textarea, select');
  if (field && field.type !== 'range') {
    if (!passesField(event.key, held, field)) return;
    // what it holds is kept first
    if (held && !takesBack(event.key)) field.blur();
  }
  if (event.key === ' ' && target.closest('button')) return;
  if (desk.commands.press(event.key, held)) event.preventDefault();
}

/** Undo and redo, which a field has for itself only while it holds text that is not kept yet. */
const takesBack = (key: string): boolean => ['z', 'y'].includes(key.toLowerCase());

/** From within a field the lesson is saved, with what the field holds, and the keyboard goes on to the next room. */
function passesField(key: string, held: boolean, field: HTMLElement): boolean {
  if (held && takesBack(key)) return !field.dataset.typed;
  return (held && key.toLowerCase() === 's') || key === 'F6';
}
