import { X } from 'lucide-react';
import type { ReactNode } from 'react';
import { words } from '../../words/words.ts';
import { Tool } from '../parts/tool.tsx';

/** A row of controls for one way of looking inside. */
export function Row({ name, close, children }: { name: string; close: () => void; children: ReactNode }) {
  return (
    <div className="inside-row">
      <span className="inside-row-name">{name}</span>
      <div className="inside-row-parts">{children}</div>
      <Tool label={words.closeInside(name)} icon={X} onPress={close} />
    </div>
  );
}
