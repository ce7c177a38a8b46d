/** What is drawn over the sheet while drawing: what was told, the answers, the place under the hand. */
import type { Stretch } from '../core/draw/line.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { proposalsNow, useDraw } from './draw.ts';
import { useStore } from './store.ts';

/** @param scale pixels per sheet unit; everything here is in the sheet's own coordinates */
export function DrawLayer({ sheet, scale }: { sheet: Sheet; scale: number }) {
  const { on, given, cursor, choice, stroke } = useDraw();
  useStore((state) => state.lesson?.pattern);
  if (!on) return null;
  const { frame } = sheet;
  const x = (value: number) => (value - frame.x) / frame.scale;
  const y = (value: number) => (value - frame.y) / frame.scale;
  const path = ({ from, to }: Stretch) => `M${x(from[0])} ${y(from[1])}L${x(to[0])} ${y(to[1])}`;
  return (
    <g className="draw-layer">
      {proposalsNow().map((proposal, k) => (
        <path
          key={k}
          className={choice === null || choice === k ? 'draw-answer' : 'draw-answer draw-faint'}
          d={proposal.map(path).join('')}
        />
      ))}
      {given.map((one, k) =>
        one.kind === 'line' ? (
          <path key={k} className="draw-told" d={path(one.stretch)} />
        ) : (
          <circle key={k} className="draw-point" cx={x(one.at[0])} cy={y(one.at[1])} r={5 / scale} />
        ),
      )}
      {stroke && <path className="draw-stroke" d={path(stroke)} />}
      {cursor?.line && <path className="draw-told" d={path(cursor.line)} />}
      {cursor && !cursor.line && (
        <circle className="draw-cursor" cx={x(cursor.at[0])} cy={y(cursor.at[1])} r={6.5 / scale} />
      )}
    </g>
  );
}
