/** A page that is never idle still gets what it asked for after this long, milliseconds. */
const PATIENCE = 4000;

/** Calls once when the page has nothing else to do. @returns a call that ends the wait */
export function whenIdle(call: () => unknown): () => void {
  if (typeof requestIdleCallback === 'undefined') {
    const timer = setTimeout(call, PATIENCE);
    return () => clearTimeout(timer);
  }
  const waits = requestIdleCallback(call, { timeout: PATIENCE });
  return () => cancelIdleCallback(waits);
}
