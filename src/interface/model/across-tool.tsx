import { FoldVertical } from 'lucide-react';
import { lazy, Suspense } from 'react';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { NamedTool } from '../parts/tool.tsx';

const Row = lazy(() => import('./across-row.tsx'));

/** Takes the tool that folds on the model in hand, and puts it away. */
export function AcrossTool() {
  const on = useDesk((state) => state.folding.on);
  return (
    <NamedTool
      label={words.across}
      shown={words.acrossShort}
      keyName={desk.commands.keyOf('foldOnModel')}
      icon={FoldVertical}
      pressed={on}
      onPress={() => void desk.folding.toggle()}
    />
  );
}

/** Its choices, while it is in hand. */
export function AcrossRow() {
  const on = useDesk((state) => state.folding.on);
  if (!on) return null;
  return (
    <Suspense>
      <Row />
    </Suspense>
  );
}
