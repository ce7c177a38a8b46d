/** A row of controls for each way of looking inside that is on. */
import { RotateCw } from 'lucide-react';
import type { GlassOf } from '../../desk/tools/inside-wishes.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Chips } from '../parts/button.tsx';
import { Tool } from '../parts/tool.tsx';
import { Row } from './inside-row.tsx';
import { PeelButtons } from './stack-list.tsx';
import { TuckRow } from './tuck-row.tsx';

export default function InsideRows() {
  const { glass, fan, slice, peeling, tuck } = useDesk((state) => state.inside);
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
      <Chips
        label={words.glassWhat}
        value={glass}
        options={(['all', 'front', 'chosen'] as const).map((value) => ({
          value,
          shown: words.glassOf[value],
        }))}
        onChange={(one) => desk.lookInside.glassOf(one)}
      />
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
      <Chips
        label={words.sliceFrom}
        value={axis ?? -1}
        options={[words.sliceSide, words.sliceFront, words.sliceAbove].map((shown, value) => ({
          value,
          shown,
        }))}
        onChange={(one) => desk.lookInside.sliceAlong(one as 0 | 1 | 2)}
      />
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
    <span className="slim-slider">
      <input
        type="range"
        aria-label={label}
        min={min}
        max={1}
        step={0.01}
        value={value}
        onChange={(event) => onChange(Number(event.currentTarget.value))}
      />
    </span>
  );
}
