/** What is drawn over the sheet while drawing: what was told, the answers as they would be, the place under the hand. */

import type { Stretch } from '../../core/draw/line.ts';
import type { LineKind } from '../../core/sheet/kind.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { desk, useDesk } from '../desk.ts';
import { isRightToLeft } from '../language.ts';
import './draw-layer.css';

interface LineStyle {
  readonly stroke: string;
  readonly strokeDasharray: string | undefined;
}

/**
 * Everything here is in the sheet's own coordinates.
 * @param scale pixels per sheet unit
 * @param styleOf how lines of a kind are printed on this paper
 */
export default function DrawLayer({
  sheet,
  scale,
  styleOf,
}: {
  sheet: Sheet;
  scale: number;
  styleOf: (kind: LineKind) => LineStyle;
}) {
  const { on, given, cursor, choice, stroke, kind, parts, tool } = useDesk((state) => state.drawing);
  useDesk((state) => state.document.lesson?.pattern);
  if (!on) return null;
  const { frame } = sheet;
  const x = (value: number) => (value - frame.x) / frame.scale;
  const y = (value: number) => (value - frame.y) / frame.scale;
  const path = ({ from, to }: Stretch) => `M${x(from[0])} ${y(from[1])}L${x(to[0])} ${y(to[1])}`;
  const lineWanted = desk.drawing.hands.now.wanted === 'line';
  const corners =
    tool === 'outline' ? given.slice(1).map((one, k) => ({ from: given[k]!.at, to: one.at })) : [];
  return (
    <g className="draw-layer">
      {parts > 1 &&
        !lineWanted &&
        desk.drawing.hands.now.snaps?.places
          .filter(({ isPart }) => isPart)
          .map(({ at }) => (
            <circle key={at.join()} className="draw-tick" cx={x(at[0])} cy={y(at[1])} r={2.2 / scale} />
          ))}
      {desk.drawing.hands.now.proposals.map((proposal, k) =>
        proposal.map((one) => (
          <path
            key={path(one)}
            className={choice === null || choice === k ? 'draw-answer' : 'draw-answer draw-faint'}
            d={path(one)}
            {...styleOf(one.kind ?? kind)}
            data-draw="answer"
          />
        )),
      )}
      {given.map((one) =>
        one.kind === 'line' ? (
          <path key={path(one.stretch)} className="draw-told" d={path(one.stretch)} />
        ) : (
          <circle
            key={one.at.join()}
            className="draw-point"
            cx={x(one.at[0])}
            cy={y(one.at[1])}
            r={5 / scale}
          />
        ),
      )}
      {corners.length > 0 && <path className="draw-told" d={corners.map(path).join('')} />}
      {stroke && <path className="draw-stroke" d={path(stroke)} />}
      {cursor?.line && lineWanted && <path className="draw-told" d={path(cursor.line)} />}
      {cursor && !lineWanted && choice === null && (
        <circle className="draw-cursor" cx={x(cursor.at[0])} cy={y(cursor.at[1])} r={6.5 / scale} />
      )}
      {cursor && choice === null && (
        <text
          className="draw-name"
          transform={`translate(${x(cursor.at[0])} ${y(cursor.at[1])}) scale(${1 / scale} ${-1 / scale})`}
          textAnchor={x(cursor.at[0]) > 0.6 === isRightToLeft() ? 'start' : 'end'}
          x={x(cursor.at[0]) > 0.6 ? -12 : 12}
          y={-12}
        >
          {cursor.name}
        </text>
      )}
    </g>
  );
}
