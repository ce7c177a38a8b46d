import { PenLine } from 'lucide-react';
import { drawWords } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { NamedTool } from '../parts/tool.tsx';

/** Takes the drawing tools in hand, and puts them away. */
export function DrawButton() {
  const on = useDesk((state) => state.drawing.on);
  return (
    <NamedTool
      label={drawWords.draw}
      hint={drawWords.drawWhat}
      keyName={desk.commands.keyOf('draw')}
      icon={PenLine}
      pressed={on}
      onPress={() => void desk.drawing.toggle()}
      className=""
    />
  );
}
