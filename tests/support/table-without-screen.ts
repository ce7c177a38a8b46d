/**
 * The interface's own actions without a page: the store, its edits, undo and redo run as they do in the browser, while
 * workers stay silent. Import this before anything of `src/interface`.
 */
import { vi } from 'vitest';

vi.stubGlobal(
  'Worker',
  class {
    onmessage = null;
    postMessage(): void {}
    terminate(): void {}
  },
);
vi.stubGlobal('cancelAnimationFrame', () => {});
vi.stubGlobal('localStorage', { getItem: () => 'light', setItem: () => {} });
vi.stubGlobal('window', { setTimeout: () => 0 });
vi.stubGlobal('matchMedia', () => ({ matches: true }));
