/** A menu as plain data: what the button that opens it and the menu itself both know. */
import type { RefObject } from 'react';

export interface MenuEntry {
  readonly id: string;
  readonly name: string;
  /** Said below the name. */
  readonly note?: string | null;
  readonly keyName?: string;
  readonly isDisabled?: boolean;
}

/** Entries under a heading, or set apart by a line where there is none. */
export interface MenuPart {
  readonly heading?: string;
  readonly entries: readonly MenuEntry[];
}

export interface MenuProps {
  readonly label: string;
  readonly parts: readonly MenuPart[];
  readonly onChoose: (id: string) => void;
  /** One of the entries is the present one. */
  readonly chosen?: string;
  readonly placement: 'bottom end' | 'bottom start' | 'top end' | 'top start' | 'top';
  readonly menuClassName?: string;
}

export interface OpenMenuProps extends MenuProps {
  readonly anchor: RefObject<HTMLButtonElement | null>;
  readonly close: () => void;
}
