/** What comes up over the table, each fetched when it is first wanted. */
import { lazy, Suspense } from 'react';
import { useDesk } from './desk.ts';

const MappingDialog = lazy(() => import('./opening/mapping-dialog.tsx'));
const WhichDialog = lazy(() => import('./opening/which-dialog.tsx'));
const KeysPanel = lazy(() => import('./parts/keys-panel.tsx'));
const shelf = {
  library: lazy(() => import('./shelf/library-panel.tsx')),
  about: lazy(() => import('./shelf/credit-panel.tsx')),
  versions: lazy(() => import('./shelf/versions-panel.tsx')),
};

export function Panels() {
  const asksMapping = useDesk((state) => state.opening.asked !== null);
  const asksWhich = useDesk((state) => state.opening.which !== null);
  const keysShown = useDesk((state) => state.look.keysShown);
  const shown = useDesk((state) => state.shelf.shown);
  const ShelfPanel = shown && shelf[shown];
  return (
    <Suspense>
      {asksMapping && <MappingDialog />}
      {asksWhich && <WhichDialog />}
      {keysShown && <KeysPanel />}
      {ShelfPanel && <ShelfPanel />}
    </Suspense>
  );
}
