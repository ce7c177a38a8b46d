/** What must not move anything under a pointer that is pressed: a button that moves away would never get the release. */
class Press {
  private isDown = false;

  /** Begins to follow the pointer. */
  follow(signal: AbortSignal): void {
    const hear = (type: string, isDown: boolean) =>
      window.addEventListener(type, () => (this.isDown = isDown), { signal, capture: true });
    hear('pointerdown', true);
    for (const type of ENDS) hear(type, false);
  }

  /** Does it now, or as soon as the pointer is let go, before what the press is for. */
  after(deed: () => void): void {
    if (!this.isDown) {
      deed();
      return;
    }
    const both = new AbortController();
    const once = () => {
      both.abort();
      deed();
    };
    for (const type of ENDS) window.addEventListener(type, once, { signal: both.signal });
  }
}

const ENDS = ['pointerup', 'pointercancel'] as const;

export const press = new Press();
