/** The folded model. The scene is fetched after the first paint; poses reach it without passing through React. */

import { ArrowDownToLine, Eye, FlipHorizontal2, Maximize, RotateCcw, RotateCw } from 'lucide-react';
import { type KeyboardEvent, useRef, useState } from 'react';
import { type ViewName, viewNames } from '../../core/lesson/eye.ts';
import { usualTurn } from '../../core/lesson/lesson.ts';
import { stepAt } from '../../desk/play/playhead.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { viewWords, words } from '../../words/words.ts';
import { desk, useDesk, usePlace } from '../desk.ts';
import { InsideRows, InsideTools } from '../inside/inside-tools.tsx';
import { LargeSection } from '../inside/section-part.tsx';
import { MenuButton } from '../parts/menu-button.tsx';
import { Tool } from '../parts/tool.tsx';
import { AcrossRow, AcrossTool } from './across-tool.tsx';
import { ModelHand } from './model-hand.ts';
import { SliceHandle } from './slice-handle.tsx';
import { useModel } from './use-model.ts';
import './model-view.css';

export function ModelView() {
  const canvas = useRef<HTMLCanvasElement>(null);
  const overlay = useRef<SVGSVGElement>(null);
  const stage = useRef<ModelStage | null>(null);
  const title = useDesk((state) => state.document.lesson?.title);
  useModel(canvas, overlay, stage);
  const [hand] = useState(() => new ModelHand(() => stage.current));
  return (
    <section className="view model-view" aria-label={words.model}>
      <h2 className="view-name">{words.model}</h2>
      <div
        className="model-board"
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys turn the view
        tabIndex={0}
        aria-label={words.modelPicture(title ?? '')}
        onKeyDown={(event) => onModelKey(event, stage.current)}
        onPointerDownCapture={hand.down}
        onPointerMoveCapture={hand.move}
        onPointerUpCapture={hand.up}
        onPointerCancelCapture={hand.up}
        onPointerLeave={hand.leave}
      >
        <canvas ref={canvas} data-testid="model-canvas" />
        <svg ref={overlay} className="model-overlay" aria-hidden="true" />
      </div>
      <GraphicsWords />
      <TurnMark />
      <SliceHandle stage={stage} />
      <AcrossRow />
      <InsideRows />
      <LargeSection />
      <div className="tool-dock">
        <ModelTools />
        <InsideTools />
      </div>
    </section>
  );
}

/** A press of an arrow, radians, and of plus or minus. */
const turns: Readonly<Record<string, readonly [number, number, number]>> = {
  ArrowLeft: [-0.12, 0, 1],
  ArrowRight: [0.12, 0, 1],
  ArrowUp: [0, -0.1, 1],
  ArrowDown: [0, 0.1, 1],
  '+': [0, 0, 1 / 1.15],
  '=': [0, 0, 1 / 1.15],
  '-': [0, 0, 1.15],
};

function onModelKey(event: KeyboardEvent, stage: ModelStage | null): void {
  const turn = turns[event.key];
  if (!stage || !turn || event.ctrlKey || event.metaKey) return;
  stage.rig.nudge(...turn);
  stage.invalidate();
  event.preventDefault();
  event.stopPropagation();
}

/** Why there is no picture. */
function GraphicsWords() {
  const graphics = useDesk((state) => state.look.graphics);
  if (graphics === 'none') return <p className="model-words">{words.noGraphics}</p>;
  if (graphics !== 'lost') return null;
  return (
    <p className="model-words" role="status">
      {words.contextLost}
    </p>
  );
}

function ModelTools() {
  const verdict = useDesk((state) => state.look.verdict);
  const turned = useDesk((state) => state.look.turned !== state.look.stepTurned);
  return (
    <div className="tools">
      <MenuButton
        className="tool tool-wide"
        menu={() => ({
          ...{ label: words.view, placement: 'top', onChoose: (id) => desk.views.look(id as ViewName) },
          parts: [
            { entries: viewNames.map((id, k) => ({ id, name: viewWords[id], keyName: String(k + 1) })) },
          ],
        })}
      >
        <Eye size={17} strokeWidth={1.75} aria-hidden="true" />
        {words.view}
      </MenuButton>
      <Tool
        label={words.turnOver}
        icon={FlipHorizontal2}
        keyName={desk.commands.keyOf('turnOver')}
        pressed={turned}
        onPress={desk.paper.turnOver}
      />
      <Tool
        label={verdict ? words.liftFromTable : words.setOnTable}
        icon={ArrowDownToLine}
        keyName={desk.commands.keyOf('setOnTable')}
        pressed={verdict !== null}
        onPress={() => void desk.setDown.toggle()}
      />
      <Tool
        label={words.fitModel}
        icon={Maximize}
        keyName={desk.commands.keyOf('fit')}
        onPress={desk.views.fit}
      />
      <AcrossTool />
    </div>
  );
}

/** A turning arrow while a step turns the model round. */
function TurnMark() {
  const lesson = useDesk((state) => state.document.lesson);
  const place = usePlace();
  if (!lesson || place === 0) return null;
  const step = lesson.steps[stepAt(place, lesson.steps.length)];
  if (step?.kind !== 'rotate' || step.off) return null;
  const { turn = usualTurn } = step;
  const Arrow = turn > 0 ? RotateCcw : RotateCw;
  return (
    <p className="turn-mark" aria-hidden="true">
      <Arrow size={30} strokeWidth={1.5} />
      {words.degreesOf(Math.abs(turn))}
    </p>
  );
}
