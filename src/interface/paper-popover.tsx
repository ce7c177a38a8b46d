/** The paper: its size, its two sides, which is up at the start, and how freely it may fold. */
import { ArrowLeftRight } from 'lucide-react';
import type { RefObject } from 'react';
import {
  Dialog,
  Input,
  Label,
  NumberField,
  Popover,
  Radio,
  RadioGroup,
  Switch,
  TextField,
} from 'react-aria-components';
import { usualThickness } from '../core/lesson/lesson.ts';
import { actions } from '../desk/document/paper.ts';
import { Tool } from './parts/parts.tsx';
import { set, useStore } from '../desk/store.ts';
import { words } from '../words/words.ts';

export function PaperPopover({ anchor }: { anchor: RefObject<HTMLElement | null> }) {
  const paper = useStore((state) => state.lesson?.sheet);
  const isOpen = useStore((state) => state.paperShown);
  const bend = useStore((state) => state.bend);
  const free = useStore((state) => state.free);
  if (!paper) return null;
  return (
    <Popover
      className="popover paper-popover"
      triggerRef={anchor}
      placement="bottom start"
      isOpen={isOpen}
      onOpenChange={(open) => set({ paperShown: open })}
    >
      <Dialog className="dialog" aria-label={words.paper}>
        <NumberField
          className="field"
          value={paper.size}
          minValue={1}
          maxValue={5000}
          formatOptions={{ maximumFractionDigits: 1, useGrouping: false }}
          onChange={actions.setSize}
        >
          <Label>{words.paperSize}</Label>
          <Input />
        </NumberField>
        <NumberField
          className="field"
          value={paper.thickness ?? usualThickness}
          minValue={0.01}
          maxValue={5}
          step={0.005}
          formatOptions={{ maximumFractionDigits: 3 }}
          onChange={actions.setThickness}
        >
          <Label>{words.paperThickness}</Label>
          <Input />
        </NumberField>
        <div className="sides">
          <Side side="a" />
          <Tool label={words.swapColours} keyName="X" icon={ArrowLeftRight} onPress={actions.swapColours} />
          <Side side="b" />
        </div>
        <RadioGroup
          className="choice"
          value={paper.sideUp}
          onChange={(side) => actions.setSideUp(side as 'a' | 'b')}
        >
          <Label>{words.sideUp}</Label>
          <div className="choice-row">
            {(['a', 'b'] as const).map((side) => (
              <Radio key={side} value={side} className="choice-one">
                <span className="swatch" style={{ background: paper.sides[side].colour }} />
                {paper.sides[side].name}
              </Radio>
            ))}
          </div>
        </RadioGroup>
        <div className="switches">
          <Switch className="switch" isSelected={bend} onChange={actions.toggleBend}>
            <span className="switch-track" />
            {words.bend}
          </Switch>
          <Switch className="switch" isSelected={free} onChange={actions.toggleFree}>
            <span className="switch-track" />
            {words.free}
          </Switch>
        </div>
      </Dialog>
    </Popover>
  );
}

function Side({ side }: { side: 'a' | 'b' }) {
  const look = useStore((state) => state.lesson?.sheet.sides[side]);
  if (!look) return null;
  return (
    <div className="side">
      <span className="side-name">{words.sideName(side)}</span>
      <label className="colour" style={{ background: look.colour }}>
        <input
          type="color"
          aria-label={words.colourOf(side)}
          value={look.colour}
          onChange={(event) => actions.setColour(side, event.currentTarget.value)}
        />
      </label>
      <TextField
        className="field side-field"
        aria-label={words.nameOf(side)}
        value={look.name}
        maxLength={24}
        onChange={(name) => actions.setName(side, name)}
      >
        <Input />
      </TextField>
    </div>
  );
}
