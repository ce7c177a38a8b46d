/** Things that lie over one another in a circle. */

/**
 * Sets of at least three things of which each leads to every other by the given arrows (Tarjan, "Depth-first search and
 * linear graph algorithms", SIAM J. Comput. 1 (1972)).
 */
export function circlesOf<T>(arrows: readonly (readonly [T, T])[]): Set<T>[] {
  const next = new Map<T, T[]>();
  for (const [from, to] of arrows) {
    const own = next.get(from);
    if (own) own.push(to);
    else next.set(from, [to]);
  }
  const index = new Map<T, number>();
  const lowest = new Map<T, number>();
  const open: T[] = [];
  const found: Set<T>[] = [];
  const visit = (node: T) => {
    index.set(node, index.size);
    lowest.set(node, index.get(node)!);
    open.push(node);
    for (const to of next.get(node) ?? []) {
      if (!index.has(to)) visit(to);
      if (open.includes(to)) lowest.set(node, Math.min(lowest.get(node)!, lowest.get(to)!));
    }
    if (lowest.get(node) !== index.get(node)) return;
    const circle = open.splice(open.indexOf(node));
    if (circle.length >= 3) found.push(new Set(circle));
  };
  for (const node of next.keys()) if (!index.has(node)) visit(node);
  return found;
}
