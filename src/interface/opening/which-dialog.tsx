/** Asks which of several sheets in a drawing, or pages of a file, is meant, each shown small. */
import { Button } from 'react-aria-components';
import { words } from '../../words/words.ts';
import type { DrawnLines } from '../../worker/file-protocol.ts';
import { desk, useDesk } from '../desk.ts';
import { Panel } from '../parts/panel.tsx';
import './which-dialog.css';

export default function WhichDialog() {
  const asked = useDesk((state) => state.opening.which);
  if (!asked) return null;
  return (
    <Panel
      title={words.whichTitle[asked.of](asked.samples.length)}
      about={asked.title}
      leave={words.mappingLeave}
      close={desk.opening.leave}
    >
      <ul className="sheet-choices">
        {asked.samples.map(({ number, lines, count }) => (
          <li key={number}>
            <Button className="sheet-choice" onPress={() => void desk.opening.take(number)}>
              <Outline lines={lines} />
              {words.whichOne[asked.of](number, count)}
            </Button>
          </li>
        ))}
      </ul>
    </Panel>
  );
}

/** Its lines, y up, in a square. */
function Outline({ lines }: { lines: DrawnLines }) {
  const across = extent(lines.filter((_, k) => k % 2 === 0));
  const up = extent(lines.filter((_, k) => k % 2 === 1));
  const scale = 100 / Math.max(across.high - across.low, up.high - up.low, Number.MIN_VALUE);
  const place = (k: number) => `${(lines[k]! - across.low) * scale} ${(up.high - lines[k + 1]!) * scale}`;
  const strokes = Array.from({ length: lines.length / 4 }, (_, k) => `M${place(4 * k)}L${place(4 * k + 2)}`);
  return (
    <svg
      viewBox={`-2 -2 ${(across.high - across.low) * scale + 4} ${(up.high - up.low) * scale + 4}`}
      className="sheet-outline"
      aria-hidden="true"
    >
      <path d={strokes.join('')} />
    </svg>
  );
}

const extent = (values: DrawnLines) => ({
  low: values.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY),
  high: values.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY),
});
