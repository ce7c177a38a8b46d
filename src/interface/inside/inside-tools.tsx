/** Glass, Fan, Slice and Peel: their buttons under the model, and a row of controls for each that is on. */

import { Glasses, Layers2, RotateCw, Slice, StickyNote } from 'lucide-react';
import {
  Button,
  Slider,
  SliderThumb,
  SliderTrack,
  ToggleButton,
  ToggleButtonGroup,
  Tooltip,
  TooltipTrigger,
} from 'react-aria-components';
import type { GlassOf } from '../../desk/tools/inside-wishes.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Tool } from '../parts/parts.tsx';
import { Row } from './inside-row.tsx';
import { PeelButtons } from './stack-list.tsx';
import { TuckRow } from './tuck-row.tsx';

export function InsideTools() {
  const { glass, fan, slice, peeling, tuck } = useDesk((state) => state.inside);
  return (
    <fieldset className="inside-tools" aria-label={words.lookInside}>
      <InsideTool
        name={words.glass}
        keyName="G"
        icon={Glasses}
        on={glass !== null}
        press={desk.lookInside.toggleGlass}
      />
      <InsideTool
        name={words.fan}
        keyName="V"
        icon={Layers2}
        on={fan > 0}
        press={desk.lookInside.toggleFan}
      />
      <InsideTool
        name={words.slice}
        keyName="C"
        icon={Slice}
        on={slice !== null && !tuck}
        press={desk.lookInside.toggleSlice}
      />
      <InsideTool
        name={words.peel}
        keyName="L"
        icon={StickyNote}
        on={peeling}
        press={desk.lookInside.togglePeel}
      />
    </fieldset>
  );
}

function InsideTool({
  name,
  keyName,
  icon: Icon,
  on,
  press,
}: {
  name: string;
  keyName: string;
  icon: typeof Slice;
  on: boolean;
  press: () => void;
}) {
  return (
    <TooltipTrigger delay={500}>
      <Button className="tool tool-wide tool-named" aria-label={name} aria-pressed={on} onPress={press}>
        <Icon size={17} strokeWidth={1.75} aria-hidden="true" />
        <span aria-hidden="true">{name}</span>
      </Button>
      <Tooltip className="tooltip" offset={6}>
        {words.insideHint[name as keyof typeof words.insideHint]}
        <kbd>{keyName}</kbd>
      </Tooltip>
    </TooltipTrigger>
  );
}

/** One row for each way of looking that is on. */
export function InsideRows() {
  const { glass, fan, slice, peeling, tuck } = useDesk((state) => state.inside);
  if (!glass && fan === 0 && !slice && !peeling && !tuck) return null;
  return (
    <div className="inside-rows" data-testid="inside-rows">
      {tuck && <TuckRow />}
      {glass && !tuck && <GlassRow glass={glass} />}
      {fan > 0 && <FanRow fan={fan} />}
      {slice && !tuck && <SliceRow />}
      {peeling && (
        <Row name={words.peel} close={desk.lookInside.togglePeel}>
          <PeelButtons counted />
        </Row>
      )}
    </div>
  );
}

function GlassRow({ glass }: { glass: GlassOf }) {
  const selected = useDesk((state) => state.look.selection?.kind === 'panel');
  const chosen = useDesk((state) => state.inside.chosen.length);
  return (
    <Row name={words.glass} close={desk.lookInside.toggleGlass}>
      <ToggleButtonGroup
        className="choice-chips"
        aria-label={words.glassWhat}
        selectionMode="single"
        disallowEmptySelection
        selectedKeys={[glass]}
        onSelectionChange={(keys) => desk.lookInside.glassOf([...keys][0] as GlassOf)}
      >
        <ToggleButton id="all">{words.glassOf.all}</ToggleButton>
        <ToggleButton id="front">{words.glassOf.front}</ToggleButton>
        <ToggleButton id="chosen">{words.glassOf.chosen}</ToggleButton>
      </ToggleButtonGroup>
      {((glass === 'front' && !selected) || (glass === 'chosen' && chosen === 0)) && (
        <span className="inside-row-hint">{words.glassPick}</span>
      )}
    </Row>
  );
}

function FanRow({ fan }: { fan: number }) {
  return (
    <Row name={words.fan} close={desk.lookInside.toggleFan}>
      <SlimSlider label={words.fanOpen} value={fan} min={0.02} onChange={desk.lookInside.fan} />
      <span className="schematic">{words.schematic}</span>
    </Row>
  );
}

function SliceRow() {
  const slice = useDesk((state) => state.inside.slice)!;
  const { low, high } = desk.lookInside.reachOf(slice.normal);
  const axis = [0, 1, 2].find((k) => Math.abs(slice.normal[k as 0]) > 0.999);
  return (
    <Row name={words.slice} close={desk.lookInside.toggleSlice}>
      <ToggleButtonGroup
        className="choice-chips"
        aria-label={words.sliceFrom}
        selectionMode="single"
        selectedKeys={axis === undefined ? [] : [String(axis)]}
        onSelectionChange={(keys) => {
          const [key] = [...keys];
          if (key !== undefined) desk.lookInside.sliceAlong(Number(key) as 0 | 1 | 2);
        }}
      >
        <ToggleButton id="0">{words.sliceSide}</ToggleButton>
        <ToggleButton id="1">{words.sliceFront}</ToggleButton>
        <ToggleButton id="2">{words.sliceAbove}</ToggleButton>
      </ToggleButtonGroup>
      <Tool label={words.turnSlice} icon={RotateCw} onPress={() => desk.lookInside.turnSlice(Math.PI / 12)} />
      <SlimSlider
        label={words.slicePlace}
        value={high > low ? (slice.offset - low) / (high - low) : 0.5}
        min={0}
        onChange={desk.lookInside.placeSlice}
      />
    </Row>
  );
}

function SlimSlider({
  label,
  value,
  min,
  onChange,
}: {
  label: string;
  value: number;
  min: number;
  onChange: (value: number) => void;
}) {
  return (
    <Slider
      className="slim-slider"
      aria-label={label}
      minValue={min}
      maxValue={1}
      step={0.01}
      value={value}
      onChange={(next) => onChange(next as number)}
    >
      <SliderTrack className="slim-track">
        <SliderThumb className="slim-thumb" />
      </SliderTrack>
    </Slider>
  );
}
