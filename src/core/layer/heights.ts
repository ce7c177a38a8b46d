/** Heights at which the layers of one plane can be drawn without passing through one another. */

/**
 * A height for each layer over each cell: whole numbers from 0 that grow within every cell. A panel keeps one height
 * over all its cells, but for panels that lie over one another in a ring, as round a twist: these step from cell to
 * cell.
 * @param cells per cell its panels from the lowest to the highest
 */
export function layerHeights(cells: readonly (readonly number[])[]): number[][] {
  const inRing = panelsInRings(cells);
  const node = new Map<string, number>();
  const nodeOf = (panel: number, cell: number): number => {
    const key = inRing.has(panel) ? `${panel},${cell}` : `${panel}`;
    const known = node.get(key);
    if (known !== undefined) return known;
    node.set(key, node.size);
    return node.size - 1;
  };
  const nodes = cells.map((panels, cell) => panels.map((panel) => nodeOf(panel, cell)));
  const height = longestWays(node.size, nodes);
  return nodes.map((chain) => chain.map((n) => height[n]!));
}

/** Height of each node: the longest chain of layers below it. */
function longestWays(count: number, chains: readonly (readonly number[])[]): Int32Array {
  const above: Set<number>[] = Array.from({ length: count }, () => new Set());
  const waiting = new Int32Array(count);
  for (const chain of chains)
    for (let k = 1; k < chain.length; k++) {
      const [low, high] = [chain[k - 1]!, chain[k]!];
      if (above[low]!.has(high)) continue;
      above[low]!.add(high);
      waiting[high]!++;
    }
  const height = new Int32Array(count);
  const ready = [...waiting.keys()].filter((n) => waiting[n] === 0);
  while (ready.length > 0) {
    const low = ready.pop()!;
    for (const high of above[low]!) {
      height[high] = Math.max(height[high]!, height[low]! + 1);
      if (--waiting[high]! === 0) ready.push(high);
    }
  }
  return height;
}

/** Panels that lie over themselves by way of others: strongly connected sets of more than one panel (Tarjan 1972). */
function panelsInRings(cells: readonly (readonly number[])[]): Set<number> {
  const above = new Map<number, Set<number>>();
  for (const panels of cells)
    panels.forEach((panel, k) => {
      const own = above.get(panel) ?? new Set();
      above.set(panel, own);
      if (k + 1 < panels.length) own.add(panels[k + 1]!);
    });
  const index = new Map<number, number>();
  const lowest = new Map<number, number>();
  const open: number[] = [];
  const isOpen = new Set<number>();
  const found = new Set<number>();
  for (const start of above.keys()) {
    if (index.has(start)) continue;
    const path: { panel: number; next: Iterator<number> }[] = [];
    const enter = (panel: number) => {
      index.set(panel, index.size);
      lowest.set(panel, index.get(panel)!);
      open.push(panel);
      isOpen.add(panel);
      path.push({ panel, next: above.get(panel)!.values() });
    };
    enter(start);
    while (path.length > 0) {
      const { panel, next } = path.at(-1)!;
      const { value, done } = next.next();
      if (!done) {
        if (!index.has(value)) enter(value);
        else if (isOpen.has(value)) lowest.set(panel, Math.min(lowest.get(panel)!, index.get(value)!));
        continue;
      }
      path.pop();
      const parent = path.at(-1)?.panel;
      if (parent !== undefined) lowest.set(parent, Math.min(lowest.get(parent)!, lowest.get(panel)!));
      if (lowest.get(panel) !== index.get(panel)) continue;
      const set = open.splice(open.indexOf(panel));
      for (const one of set) isOpen.delete(one);
      if (set.length > 1) for (const one of set) found.add(one);
    }
  }
  return found;
}
