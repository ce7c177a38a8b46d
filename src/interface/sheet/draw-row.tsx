/** The rows of choices over the sheet while drawing. */

import { ChevronDown } from 'lucide-react';
import { type Ref, useState } from 'react';
import { paperSizes, rectangle, rootTwo, square } from '../../core/draw/outline.ts';
import { constructions, type Extent } from '../../core/draw/told.ts';
import type { Point } from '../../core/numeric/vector.ts';
import type { LineKind } from '../../core/sheet/kind.ts';
import { kindKeys, toolKeys } from '../../desk/commands.ts';
import type { DrawTool } from '../../desk/tools/drawing-state.ts';
import { changes, isConstruction, isStroke } from '../../desk/tools/drawing-state.ts';
import { numberIn } from '../../words/numbers.ts';
import { boxText, drawWords } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Button, Chips } from '../parts/button.tsx';
import { LineSample } from '../parts/line-sample.tsx';
import type { MenuEntry } from '../parts/menu.ts';
import { MenuButton } from '../parts/menu-button.tsx';
import './draw-row.css';

export default function DrawRows({ rows }: { rows: Ref<HTMLDivElement> }) {
  const state = useDesk((state) => state.drawing);
  useDesk((store) => store.look.picked);
  useDesk((store) => store.document.lesson);
  if (!state.on) return null;
  return (
    <div ref={rows} className="draw-rows" role="toolbar" aria-label={drawWords.draw}>
      <div className="draw-row">
        <ToolMenu tool={state.tool} />
        <KindPicker kind={state.kind} />
      </div>
      <div className="draw-row">
        <Options />
      </div>
      <Prompt />
    </div>
  );
}

function ToolMenu({ tool }: { tool: DrawTool }) {
  const entry = (id: DrawTool): MenuEntry => ({
    ...{ id, name: drawWords.tools[id] },
    keyName: Object.entries(toolKeys)
      .find(([, name]) => name === id)?.[0]
      ?.toUpperCase(),
  });
  const choose = (id: string) => {
    const outline = sheetsToChoose()[id];
    if (outline) desk.drawing.hands.setOutline(outline());
    else desk.drawing.hands.choose(id as DrawTool);
  };
  return (
    <MenuButton
      className="quiet-button draw-tool"
      name={drawWords.toolNow(drawWords.tools[tool])}
      menu={() => ({
        ...{ label: drawWords.draw, placement: 'top start', menuClassName: 'draw-menu', onChoose: choose },
        parts: [
          { heading: drawWords.draw, entries: constructions.map(entry) },
          { heading: drawWords.change, entries: changes.filter((one) => one !== 'outline').map(entry) },
          {
            heading: drawWords.sheet,
            entries: [...Object.keys(sheetsToChoose()).map((id) => ({ id, name: id })), entry('outline')],
          },
        ],
      })}
    >
      {drawWords.tools[tool]} <ChevronDown size={15} strokeWidth={1.9} aria-hidden="true" />
    </MenuButton>
  );
}

const sheetsToChoose = (): Record<string, () => readonly Point[]> => ({
  [drawWords.squareOf(150)]: () => square(150),
  [drawWords.squareOf(200)]: () => square(200),
  ...Object.fromEntries(
    Object.entries(paperSizes).map(([name, [width, height]]) => [
      `${name}, ${boxText([width, height])}`,
      () => rectangle(width, height),
    ]),
  ),
  [drawWords.rootTwo]: () => rootTwo(210),
});

function KindPicker({ kind }: { kind: LineKind }) {
  return (
    <Chips
      className="draw-kinds"
      label={drawWords.kindOfLine}
      value={kind}
      options={Object.entries(kindKeys).map(([key, value]) => ({
        value,
        name: drawWords.kind[value],
        shown: (
          <span aria-hidden="true" className="draw-kind">
            <LineSample kind={value} />
            <kbd>{key.toUpperCase()}</kbd>
          </span>
        ),
      }))}
      onChange={(one) => desk.drawing.hands.setKind(one)}
    />
  );
}

/** What the tool in hand can be told by numbers. */
function Options() {
  const { tool, extent, kind } = useDesk((state) => state.drawing);
  const makesLines = isConstruction(tool) && !['grid', 'mirror', 'repeat'].includes(tool);
  const wanted = desk.drawing.hands.now.wanted;
  return (
    <>
      {tool === 'outline' && <CornersBox />}
      {tool === 'parallel' && <NumberBox of="distance" />}
      {(tool === 'parts' || tool === 'grid') && <NumberBox of="count" />}
      {makesLines && <ExtentChoice extent={extent} />}
      {makesLines && extent === 'length' && <NumberBox of="length" />}
      {(wanted === 'point' || tool === 'square') && <NumberBox of="parts" />}
      {wanted !== null && !isStroke(tool) && tool !== 'outline' && <PlaceBox />}
      {(isConstruction(tool) || tool === 'look') && (kind === 'mountain' || kind === 'valley') && (
        <NumberBox of="angle" />
      )}
      {tool === 'erase' && (
        <Button className="quiet-button" onPress={desk.drawing.hands.eraseMarks}>
          {drawWords.allMarks}
        </Button>
      )}
      {wanted === null && (
        <Button className="strong-button" onPress={() => desk.drawing.hands.press()}>
          {drawWords.drawIt}
        </Button>
      )}
    </>
  );
}

const extents: readonly Extent[] = ['whole', 'next', 'between', 'length'];

function ExtentChoice({ extent }: { extent: Extent }) {
  return (
    <MenuButton
      className="quiet-button"
      name={drawWords.extentNow(drawWords.extents[extent])}
      menu={() => ({
        ...{ label: drawWords.extent, placement: 'top start' },
        parts: [{ entries: extents.map((id) => ({ id, name: drawWords.extents[id] })) }],
        onChoose: (id) => desk.drawing.hands.set({ extent: id as Extent }),
      })}
    >
      {drawWords.extents[extent]} <ChevronDown size={15} strokeWidth={1.9} aria-hidden="true" />
    </MenuButton>
  );
}

function Prompt() {
  const { tool, given, choice, trouble, took, cursor } = useDesk((state) => state.drawing);
  const answers = choice === null ? 0 : desk.drawing.hands.now.proposals.length;
  const text =
    answers > 1
      ? drawWords.chooseAnswer(answers)
      : (drawWords.prompts[tool][Math.min(given.length, drawWords.prompts[tool].length - 1)] ?? '');
  return (
    <p className="draw-prompt">
      {trouble ? (
        <span role="alert" className="row-trouble">
          {trouble}
        </span>
      ) : (
        <span role="status">
          {took && `${drawWords.took(took)} `}
          {text}
        </span>
      )}
      <span className="draw-at" aria-live="polite">
        {cursor?.name}
      </span>
    </p>
  );
}

/** Numbers that a tool can be told, with their limits. */
const boxes = {
  distance: { unit: 'mm', min: 0, max: 100000, whole: false },
  length: { unit: 'mm', min: 0.1, max: 100000, whole: false },
  count: { unit: '', min: 2, max: 64, whole: true },
  parts: { unit: '', min: 1, max: 64, whole: true },
  angle: { unit: '°', min: 0, max: 180, whole: false },
} as const;

function NumberBox({ of }: { of: keyof typeof boxes }) {
  const { unit, min, max, whole } = boxes[of];
  const value = useDesk((state) => state.drawing[of]);
  const [text, setText] = useState<string | null>(null);
  const take = (typed: string) => {
    setText(typed);
    const number = numberIn(typed);
    if (number === null || Number.isNaN(number) || number < min || number > max) return;
    if (!whole || Number.isInteger(number)) desk.drawing.hands.set({ [of]: number });
  };
  return (
    <label className="draw-number">
      <span>{drawWords[of]}</span>
      <input
        inputMode={whole ? 'numeric' : 'decimal'}
        value={text ?? String(value)}
        data-typed={(text !== null && text !== String(value)) || undefined}
        onChange={(event) => take(event.currentTarget.value)}
        onFocus={(event) => event.currentTarget.select()}
        onBlur={() => setText(null)}
        onKeyDown={leaveField}
      />
      {unit && <span>{unit}</span>}
    </label>
  );
}

/** Enter and Esc lead back to the sheet. */
function leaveField(event: React.KeyboardEvent<HTMLInputElement>): void {
  if (event.key !== 'Enter' && event.key !== 'Escape') return;
  event.preventDefault();
  event.currentTarget.blur();
  toSheet();
}

const toSheet = () => document.querySelector<HTMLElement>('.sheet-board')?.focus();

/** A place by numbers: Enter takes it. */
function PlaceBox() {
  const [text, setText] = useState('');
  return (
    <label className="draw-number draw-place">
      <span>{drawWords.at}</span>
      <input
        value={text}
        data-typed={text !== '' || undefined}
        placeholder={drawWords.placeShape}
        onChange={(event) => setText(event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key === 'Escape') leaveField(event);
          if (event.key !== 'Enter') return;
          event.preventDefault();
          const [x, y] = numbersIn(text);
          if (x === undefined || y === undefined) return;
          setText('');
          desk.drawing.hands.pressAt(x, y);
          // several answers: the field is gone, and the keys go on at the sheet
          if (desk.drawing.hands.now.wanted === null) toSheet();
        }}
      />
      <span>mm</span>
    </label>
  );
}

function CornersBox() {
  const [text, setText] = useState('');
  const corners = () => {
    const numbers = numbersIn(text);
    return Array.from(
      { length: Math.ceil(numbers.length / 2) },
      (_, k): Point => [numbers[2 * k]!, numbers[2 * k + 1] ?? Number.NaN],
    );
  };
  return (
    <label className="draw-number draw-corners">
      <span>{drawWords.corners}</span>
      <input
        value={text}
        data-typed={text !== '' || undefined}
        placeholder="0, 0; 200, 0; 200, 120; 0, 120"
        onChange={(event) => setText(event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key === 'Enter') desk.drawing.hands.setOutline(corners());
          if (event.key === 'Escape') leaveField(event);
        }}
      />
      <span>mm</span>
    </label>
  );
}

const numbersIn = (text: string) => (text.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);
