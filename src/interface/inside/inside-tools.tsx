/** Glass, Fan, Slice and Peel: their buttons under the model, and their rows while they are on. */
import { Glasses, Layers2, type LucideIcon, Slice, StickyNote } from 'lucide-react';
import { lazy, Suspense } from 'react';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { NamedTool } from '../parts/tool.tsx';
import './inside.css';

const Rows = lazy(() => import('./inside-rows.tsx'));

export function InsideTools() {
  const { glass, fan, slice, peeling, tuck } = useDesk((state) => state.inside);
  return (
    <fieldset className="inside-tools" aria-label={words.lookInside}>
      <InsideTool
        tool="glass"
        keyName={desk.commands.keyOf('glass')}
        icon={Glasses}
        on={glass !== null}
        press={desk.lookInside.toggleGlass}
      />
      <InsideTool
        tool="fan"
        keyName={desk.commands.keyOf('fan')}
        icon={Layers2}
        on={fan > 0}
        press={desk.lookInside.toggleFan}
      />
      <InsideTool
        tool="slice"
        keyName={desk.commands.keyOf('slice')}
        icon={Slice}
        on={slice !== null && !tuck}
        press={desk.lookInside.toggleSlice}
      />
      <InsideTool
        tool="peel"
        keyName={desk.commands.keyOf('peel')}
        icon={StickyNote}
        on={peeling}
        press={desk.lookInside.togglePeel}
      />
    </fieldset>
  );
}

function InsideTool({
  tool,
  keyName,
  icon,
  on,
  press,
}: {
  tool: keyof typeof words.insideHint;
  keyName: string;
  icon: LucideIcon;
  on: boolean;
  press: () => void;
}) {
  return (
    <NamedTool
      label={words[tool]}
      hint={words.insideHint[tool]}
      keyName={keyName}
      icon={icon}
      pressed={on}
      onPress={press}
    />
  );
}

export function InsideRows() {
  const any = useDesk(
    ({ inside: { glass, fan, slice, peeling, tuck } }) =>
      glass !== null || fan > 0 || slice !== null || peeling || tuck !== null,
  );
  if (!any) return null;
  return (
    <Suspense>
      <Rows />
    </Suspense>
  );
}
