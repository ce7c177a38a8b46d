/** Asks which of several sheets in a drawing is meant, each shown small. */
import { Button } from 'react-aria-components';
import { words } from '../../words/words.ts';
import type { SheetSample } from '../../worker/protocol.ts';
import { desk, useDesk } from '../desk.ts';
import { Panel } from '../parts/panel.tsx';
import './sheet-choice-dialog.css';

export default function SheetChoiceDialog() {
  const asked = useDesk((state) => state.document.sheetChoice);
  if (!asked) return null;
  const close = () => desk.store.put({ document: { sheetChoice: null } });
  return (
    <Panel
      title={words.sheetsTitle(asked.sheets.length)}
      about={asked.title}
      leave={words.mappingLeave}
      close={close}
    >
      <ul className="sheet-choices">
        {asked.sheets.map((sheet, k) => (
          <li key={k}>
            <Button className="sheet-choice" onPress={() => void desk.opening.takeSheet(k + 1)}>
              <SheetOutline sheet={sheet} />
              {words.sheetOfSeveral(k + 1, sheet.creases)}
            </Button>
          </li>
        ))}
      </ul>
    </Panel>
  );
}

/** Its lines, y up, in a square. */
function SheetOutline({ sheet: { strokes } }: { sheet: SheetSample }) {
  const [left, right] = extent(strokes.flatMap(([x1, , x2]) => [x1, x2]));
  const [low, high] = extent(strokes.flatMap(([, y1, , y2]) => [y1, y2]));
  const scale = 100 / Math.max(right - left, high - low, Number.MIN_VALUE);
  const place = (x: number, y: number) => `${(x - left) * scale} ${(high - y) * scale}`;
  return (
    <svg
      viewBox={`-2 -2 ${(right - left) * scale + 4} ${(high - low) * scale + 4}`}
      className="sheet-outline"
      aria-hidden="true"
    >
      <path d={strokes.map(([x1, y1, x2, y2]) => `M${place(x1, y1)}L${place(x2, y2)}`).join('')} />
    </svg>
  );
}

function extent(values: readonly number[]): [number, number] {
  return values.reduce(
    ([low, high], value) => [Math.min(low, value), Math.max(high, value)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  );
}
