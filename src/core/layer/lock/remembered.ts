/** What the orders of one pose have in common: found for the first of them, and kept with the planes of the pose. */
import type { Planes } from '../planes.ts';
import type { Folded } from './sides.ts';

export class Remembered<T extends object | null> {
  private readonly known = new WeakMap<Planes, Map<string, T>>();

  /** @param name tells all apart that is asked of a pose, whatever the order of its layers */
  of({ stacks: { planes } }: Folded, name: string, find: () => T): T {
    let own = this.known.get(planes);
    if (!own) this.known.set(planes, (own = new Map()));
    let found = own.get(name);
    if (found === undefined) own.set(name, (found = find()));
    return found;
  }
}
