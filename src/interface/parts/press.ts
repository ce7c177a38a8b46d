/** What must not move anything under a pointer that is pressed: a button that moves away would never get the release. */
let isPressed = false;
for (const [type, now] of [
  ['pointerdown', true],
  ['pointerup', false],
  ['pointercancel', false],
] as const)
  window.addEventListener(
    type,
    () => {
      isPressed = now;
    },
    true,
  );

/** Does it now, or as soon as the pointer is let go, before what the press is for. */
export function afterPress(deed: () => void): void {
  if (!isPressed) {
    deed();
    return;
  }
  const both = new AbortController();
  const once = () => {
    both.abort();
    deed();
  };
  for (const type of ['pointerup', 'pointercancel'])
    window.addEventListener(type, once, { signal: both.signal });
}
