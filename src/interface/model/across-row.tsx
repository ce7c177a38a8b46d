/** The row of choices under the model while a fold is being made on it. */

import { ArrowLeftRight, ChevronDown, FoldVertical } from 'lucide-react';
import { useSyncExternalStore } from 'react';
import {
  Button,
  Input,
  Menu,
  MenuItem,
  MenuTrigger,
  NumberField,
  Popover,
  Text,
  ToggleButton,
  ToggleButtonGroup,
  Tooltip,
  TooltipTrigger,
} from 'react-aria-components';
import { isRefused } from '../../core/lesson/on-model/folded.ts';
import type { FoldWay } from '../../desk/tools/folding-state.ts';
import { foldWays, isStraight } from '../../desk/tools/folding-state.ts';
import { foldWords, words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Row } from '../inside/inside-row.tsx';
import { Tool } from '../parts/parts.tsx';
import './across-row.css';

export function AcrossTool() {
  const on = useDesk((state) => state.folding.on);
  return (
    <TooltipTrigger delay={500}>
      <Button
        className="tool tool-wide tool-named"
        aria-label={words.across}
        aria-pressed={on}
        onPress={desk.folding.toggle}
      >
        <FoldVertical size={17} strokeWidth={1.75} aria-hidden="true" />
        <span aria-hidden="true">{words.acrossShort}</span>
      </Button>
      <Tooltip className="tooltip" offset={6}>
        {words.across}
        <kbd>A</kbd>
      </Tooltip>
    </TooltipTrigger>
  );
}

export function AcrossRow() {
  const { on, points, otherSide } = useDesk((state) => state.folding);
  useSyncExternalStore(desk.layersNow.subscribe, () => desk.layersNow.stacks);
  if (!on) return null;
  if (points.length < 2)
    return (
      <div className="inside-rows across-rows">
        <Row name={words.acrossShort} close={desk.folding.close}>
          <span role="status">{points.length === 0 ? words.acrossFirst : words.acrossSecond}</span>
        </Row>
      </div>
    );
  const folded = desk.folding.now.folded;
  return (
    <div className="inside-rows across-rows">
      <Row name={words.acrossShort} close={desk.folding.close}>
        <WayMenu />
        <LayersChoice />
        <Tool
          label={words.otherSide}
          icon={ArrowLeftRight}
          pressed={otherSide}
          onPress={() => desk.folding.choose({ otherSide: !otherSide })}
        />
        <Button
          className="strong-button"
          isDisabled={!folded || 'refused' in folded}
          onPress={desk.folding.fold}
        >
          {words.foldIt}
        </Button>
        {folded && 'refused' in folded && (
          <span className="row-trouble" role="alert">
            {folded.refused}
          </span>
        )}
      </Row>
    </div>
  );
}

/** How it is folded; what this line does not allow is shown with the reason. */
function WayMenu() {
  const way = useDesk((state) => state.folding.way);
  return (
    <MenuTrigger>
      <Button className="quiet-button way-button" aria-label={words.wayNow(foldWords[way].way)}>
        {foldWords[way].way}
        <ChevronDown size={13} strokeWidth={1.75} aria-hidden="true" />
      </Button>
      <Popover className="popover" placement="top">
        <WayItems way={way} />
      </Popover>
    </MenuTrigger>
  );
}

function WayItems({ way }: { way: FoldWay }) {
  const reasons = new Map(
    foldWays.map((one) => {
      const folded = isStraight(one) ? null : desk.folding.now.foldedBy(one);
      return [one, folded && isRefused(folded) ? folded.refused : null];
    }),
  );
  return (
    <Menu
      className="menu way-menu"
      aria-label={words.acrossWay}
      selectionMode="single"
      selectedKeys={[way]}
      disabledKeys={foldWays.filter((one) => reasons.get(one))}
      onAction={(key) => desk.folding.chooseWay(key as FoldWay)}
    >
      {foldWays.map((one) => (
        <MenuItem key={one} id={one} className="menu-item menu-item-two" textValue={foldWords[one].way}>
          <Text slot="label">{foldWords[one].way}</Text>
          {reasons.get(one) && (
            <Text slot="description" className="choice-note">
              {reasons.get(one)}
            </Text>
          )}
        </MenuItem>
      ))}
    </Menu>
  );
}

/** All layers, or so many from the eye on. */
function LayersChoice() {
  const { layers, way } = useDesk((state) => state.folding);
  const depth = desk.folding.now.depth;
  return (
    <>
      {isStraight(way) && (
        <ToggleButtonGroup
          className="choice-chips"
          aria-label={words.acrossLayers}
          selectionMode="single"
          disallowEmptySelection
          selectedKeys={[layers === 'all' ? 'all' : 'top']}
          onSelectionChange={(keys) => desk.folding.choose({ layers: [...keys][0] === 'all' ? 'all' : 1 })}
        >
          <ToggleButton id="all">{words.allLayers}</ToggleButton>
          <ToggleButton id="top">{words.topLayers}</ToggleButton>
        </ToggleButtonGroup>
      )}
      {layers !== 'all' && depth > 1 && (
        <NumberField
          className="layers-field"
          aria-label={words.layersFromTop}
          value={Math.min(layers, depth)}
          minValue={1}
          maxValue={depth}
          onChange={(value) => desk.folding.choose({ layers: Number.isNaN(value) ? 1 : value })}
        >
          <Button slot="decrement" className="step-button" aria-label={words.fewerLayers}>
            −
          </Button>
          <Input className="minutes-input" />
          <Button slot="increment" className="step-button" aria-label={words.moreLayers}>
            +
          </Button>
          <span>{words.layersOf(depth)}</span>
        </NumberField>
      )}
    </>
  );
}
