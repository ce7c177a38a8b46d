import type { ReactNode } from 'react';
import type { ShelfPanelName } from '../../desk/store.ts';
import { words } from '../../words/words.ts';
import { desk } from '../desk.ts';
import { Panel } from '../parts/panel.tsx';
import './shelf.css';

/** A panel over the table, closed by Escape, beside it, or its button. */
export function ShelfPanel({
  panel,
  title,
  children,
}: {
  panel: ShelfPanelName;
  title: string;
  children: ReactNode;
}) {
  return (
    <Panel
      title={title}
      size={panel === 'library' ? 'plain' : 'small'}
      leave={words.dismiss}
      close={() => desk.library.show(null)}
    >
      {children}
    </Panel>
  );
}
