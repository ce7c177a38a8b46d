/** The row of choices under the model while a fold is being made on it. */
import { FoldVertical } from 'lucide-react';
import { useSyncExternalStore } from 'react';
import { Button, ToggleButton, ToggleButtonGroup, Tooltip, TooltipTrigger } from 'react-aria-components';
import { acrossActions, foldedNow, useAcross } from './across.ts';
import { Row } from './inside-row.tsx';
import { layersNow } from './layers-now.ts';
import { words } from './words.ts';

export function AcrossTool() {
  const on = useAcross((state) => state.on);
  return (
    <TooltipTrigger delay={500}>
      <Button
        className="tool tool-wide tool-named"
        aria-label={words.across}
        aria-pressed={on}
        onPress={acrossActions.toggle}
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
  const { on, points, layers, toEye, otherSide } = useAcross();
  useSyncExternalStore(layersNow.subscribe, () => layersNow.stacks);
  if (!on) return null;
  if (points.length < 2)
    return (
      <div className="inside-rows across-rows">
        <Row name={words.acrossShort} close={acrossActions.close}>
          <span role="status">{points.length === 0 ? words.acrossFirst : words.acrossSecond}</span>
        </Row>
      </div>
    );
  const folded = foldedNow();
  return (
    <div className="inside-rows across-rows">
      <Row name={words.acrossShort} close={acrossActions.close}>
        <ToggleButtonGroup
          className="choice-chips"
          aria-label={words.acrossLayers}
          selectionMode="single"
          disallowEmptySelection
          selectedKeys={[layers]}
          onSelectionChange={(keys) => acrossActions.choose({ layers: [...keys][0] as 'one' | 'all' })}
        >
          <ToggleButton id="all">{words.allLayers}</ToggleButton>
          <ToggleButton id="one">{words.topLayer}</ToggleButton>
        </ToggleButtonGroup>
        <ToggleButtonGroup
          className="choice-chips"
          aria-label={words.acrossWay}
          selectionMode="single"
          disallowEmptySelection
          selectedKeys={[toEye ? 'over' : 'behind']}
          onSelectionChange={(keys) => acrossActions.choose({ toEye: [...keys][0] === 'over' })}
        >
          <ToggleButton id="over">{words.towardYou}</ToggleButton>
          <ToggleButton id="behind">{words.behind}</ToggleButton>
        </ToggleButtonGroup>
        <Button className="quiet-button" onPress={() => acrossActions.choose({ otherSide: !otherSide })}>
          {words.otherSide}
        </Button>
        <Button
          className="strong-button"
          isDisabled={!folded || 'refused' in folded}
          onPress={acrossActions.fold}
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
