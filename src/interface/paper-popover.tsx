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
import { words } from '../words/words.ts';
import { desk, useDesk } from './desk.ts';
import { Tool } from './parts/tool.tsx';
import './paper-popover.css';

export default function PaperPopover({ anchor }: { anchor: RefObject<HTMLElement | null> }) {
  const paper = useDesk((state) => state.document.lesson?.sheet);
  const isOpen = useDesk((state) => state.look.paperShown);
  const bend = useDesk((state) => state.run.bend);
  const free = useDesk((state) => state.run.free);
  if (!paper) return null;
  return (
    <Popover
      className="popover paper-popover"
      triggerRef={anchor}
      placement="bottom start"
      isOpen={isOpen}
      onOpenChange={(open) => desk.store.put({ look: { paperShown: open } })}
    >
      <Dialog className="dialog" aria-label={words.paper}>
        <NumberField
          className="field"
          value={paper.size}
          minValue={1}
          maxValue={5000}
          formatOptions={{ maximumFractionDigits: 1, useGrouping: false }}
          onChange={desk.paper.setSize}
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
          onChange={desk.paper.setThickness}
        >
          <Label>{words.paperThickness}</Label>
          <Input />
        </NumberField>
        <div className="sides">
          <Side side="a" />
          <Tool
            label={words.swapColours}
            keyName={desk.commands.keyOf('swapColours')}
            icon={ArrowLeftRight}
            onPress={desk.paper.swapColours}
          />
          <Side side="b" />
        </div>
        <RadioGroup
          className="choice"
          value={paper.sideUp}
          onChange={(side) => desk.paper.setSideUp(side as 'a' | 'b')}
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
          <Switch className="switch" isSelected={bend} onChange={desk.paper.toggleBend}>
            <span className="switch-track" />
            {words.bend}
          </Switch>
          <Switch className="switch" isSelected={free} onChange={desk.paper.toggleFree}>
            <span className="switch-track" />
            {words.free}
          </Switch>
        </div>
      </Dialog>
    </Popover>
  );
}

function Side({ side }: { side: 'a' | 'b' }) {
  const look = useDesk((state) => state.document.lesson?.sheet.sides[side]);
  if (!look) return null;
  return (
    <div className="side">
      <span className="side-name">{words.sideName(side)}</span>
      <label className="colour" style={{ background: look.colour }}>
        <input
          type="color"
          aria-label={words.colourOf(side)}
          value={look.colour}
          onChange={(event) => desk.paper.setColour(side, event.currentTarget.value)}
        />
      </label>
      <TextField
        className="field side-field"
        aria-label={words.nameOf(side)}
        value={look.name}
        maxLength={24}
        onChange={(name) => desk.paper.setName(side, name)}
      >
        <Input />
      </TextField>
    </div>
  );
}
