/** "If yours looks different": likely wrong folds of a step, fetched and folded when they are asked for. */

import { lazy, Suspense, useState } from 'react';
import { words } from '../../words/words.ts';
import { useDesk } from '../desk.ts';
import { Button } from '../parts/button.tsx';
import './what-if-part.css';

const WrongLooks = lazy(() => import('./wrong-looks.tsx'));

export function WhatIfPart({ step }: { step: number }) {
  const ready = useDesk((state) => state.run.steps[step]?.status === 'ready');
  const drives = useDesk((state) => (state.document.lesson?.steps[step]?.drives.length ?? 0) > 0);
  const [open, setOpen] = useState(false);
  if (!ready || !drives) return null;
  return (
    <div className="what-if">
      <Button className="link-button" aria-expanded={open} onPress={() => setOpen(!open)}>
        {words.whatIf}
      </Button>
      {open && (
        <Suspense>
          <WrongLooks step={step} />
        </Suspense>
      )}
    </div>
  );
}
