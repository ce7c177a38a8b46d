/** Which stacking of a step is meant, where several are left. */
import { lazy, Suspense, useState } from 'react';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Button } from '../parts/button.tsx';

const StackingChoice = lazy(() => import('./stacking-choice.tsx'));

export function StackingPart({ step }: { step: number }) {
  const layers = useDesk((state) => state.run.steps[step]?.layers ?? null);
  const chosen = useDesk((state) => (state.document.lesson?.steps[step]?.orders?.length ?? 0) > 0);
  const [choosing, setChoosing] = useState(false);
  if (!layers) return null;
  const taken = !layers.asks && !chosen && layers.choices.length > 1;
  return (
    <>
      {(layers.asks || (choosing && taken)) && (
        <Suspense>
          <StackingChoice step={step} layers={layers} />
        </Suspense>
      )}
      {taken && !choosing && (
        <p className="hint">
          {words.stackingTaken(layers.states)}{' '}
          <Button className="link-button" onPress={() => setChoosing(true)}>
            {words.chooseAgain}
          </Button>
        </p>
      )}
      {chosen && (
        <p className="hint">
          {layers.asks ? words.stackingNarrowed : words.stackingChosen}{' '}
          <Button className="link-button" onPress={() => desk.paper.chooseStacking(step, null)}>
            {words.chooseAgain}
          </Button>
        </p>
      )}
    </>
  );
}
