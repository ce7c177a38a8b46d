/** The layers of a DXF file, found by their names in any case. */
import { folded } from './groups.ts';

export interface DxfLayer {
  /** As the table of layers writes it, or as it is first met. */
  readonly name: string;
  readonly colour: string;
  readonly lineType: string;
  /** What lies on it is not shown; a block put on it still shows what lies on other layers. */
  readonly off: boolean;
  /** Neither what lies on it nor a block put on it is shown. */
  readonly frozen: boolean;
}

/** Longest name that is told; the format has none longer, from memory. */
const NAME_LENGTH = 255;

const plain = { colour: '#000000', lineType: 'CONTINUOUS', off: false, frozen: false };

export class DxfLayers {
  private readonly byName = new Map<string, DxfLayer>();

  declare(name: string, layer: Omit<DxfLayer, 'name'>): void {
    this.byName.set(folded(name), { ...layer, name: name.slice(0, NAME_LENGTH) });
  }

  /** The layer of a name; one that no table declares is shown, black and solid. */
  of(name: string): DxfLayer {
    const known = this.byName.get(folded(name));
    if (known) return known;
    this.declare(name, plain);
    return this.of(name);
  }
}
