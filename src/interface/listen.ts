/** What the whole page hears: keys that no place on it took, and that it is about to go. */
import type { Desk } from '../desk/desk.ts';

/** @returns a call that ends it */
export function listenToPage(desk: Desk): () => void {
  const leaving = new AbortController();
  const { signal } = leaving;
  window.addEventListener('keydown', (event) => onKey(desk, event), { signal });
  window.addEventListener('pagehide', () => desk.keptLooks.put(), { signal });
  document.addEventListener('visibilitychange', () => document.hidden && desk.keptLooks.put(), { signal });
  window.addEventListener('beforeunload', (event) => desk.keeping.unkept && event.preventDefault(), {
    signal,
  });
  return () => leaving.abort();
}

/** Undo and redo, which a field keeps for itself only while it holds text that is not kept yet. */
const takesBack = (key: string): boolean => ['z', 'y'].includes(key.toLowerCase());

/** Keys meant for a field, a button or a menu are left alone. */
function onKey(desk: Desk, event: KeyboardEvent): void {
  if (event.defaultPrevented || event.altKey) return;
  const target = event.target as HTMLElement;
  const held = event.ctrlKey || event.metaKey;
  const field = target.closest<HTMLElement>('input, textarea, select');
  const isSlider = target instanceof HTMLInputElement && target.type === 'range';
  if (target.closest('[role=dialog], [role=menu], [role=listbox]')) return;
  if (field && !isSlider && !(held && takesBack(event.key) && !field.dataset.typed)) return;
  if (event.key === ' ' && target.closest('button')) return;
  if (desk.commands.press(event.key, held)) event.preventDefault();
}
