/** The row of choices under the model while a fold is being made on it. */

import { ArrowLeftRight, ChevronDown } from 'lucide-react';
import { useSyncExternalStore } from 'react';
import { type FoldTrouble, isRefused } from '../../core/lesson/on-model/folded.ts';
import { callingOf } from '../../desk/run/told-findings.ts';
import type { FoldWay } from '../../desk/tools/folding-state.ts';
import { foldWays, isStraight } from '../../desk/tools/folding-state.ts';
import { called } from '../../words/calling.ts';
import { foldWords, words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Row } from '../inside/inside-row.tsx';
import { Button, Chips } from '../parts/button.tsx';
import { NumberInput } from '../parts/fields.tsx';
import type { MenuEntry } from '../parts/menu.ts';
import { MenuButton } from '../parts/menu-button.tsx';
import { Tool } from '../parts/tool.tsx';
import './across-row.css';

export default function AcrossRow() {
  const { points, otherSide } = useDesk((state) => state.folding);
  useSyncExternalStore(desk.layersNow.subscribe, () => desk.layersNow.stacks);
  if (points.length < 2)
    return (
      <div className="inside-rows across-rows">
        <Row name={words.acrossShort} close={desk.folding.close}>
          <span role="status">
            {points[0] ? `${words.acrossTook[points[0].took]} ${words.acrossSecond}` : words.acrossFirst}
          </span>
        </Row>
      </div>
    );
  const folded = desk.folding.hands.now.folded;
  return (
    <div className="inside-rows across-rows">
      <Row name={words.acrossShort} close={desk.folding.close}>
        <WayMenu />
        <LayersChoice />
        <Tool
          label={words.otherSide}
          icon={ArrowLeftRight}
          pressed={otherSide}
          onPress={() => desk.folding.hands.choose({ otherSide: !otherSide })}
        />
        <Button
          className="strong-button"
          isDisabled={!folded || 'refused' in folded}
          onPress={desk.folding.hands.fold}
        >
          {words.foldIt}
        </Button>
        {folded && 'refused' in folded && (
          <span className="row-trouble" role="alert">
            {troubleText(folded.refused)}
          </span>
        )}
      </Row>
    </div>
  );
}

const troubleText = (trouble: FoldTrouble) =>
  called(callingOf(desk.store.document), () => words.foldTrouble(trouble));

/** How it is folded; what this line does not allow is shown with the reason. */
function WayMenu() {
  const way = useDesk((state) => state.folding.way);
  return (
    <MenuButton
      className="quiet-button way-button"
      name={words.wayNow(foldWords[way].way)}
      menu={() => ({
        ...{ label: words.acrossWay, placement: 'top', menuClassName: 'way-menu', chosen: way },
        parts: [{ entries: foldWays.map(wayEntry) }],
        onChoose: (id) => desk.folding.hands.chooseWay(id as FoldWay),
      })}
    >
      {foldWords[way].way}
      <ChevronDown size={13} strokeWidth={1.75} aria-hidden="true" />
    </MenuButton>
  );
}

function wayEntry(way: FoldWay): MenuEntry {
  const folded = isStraight(way) ? null : desk.folding.hands.now.foldedBy(way);
  const reason = folded && isRefused(folded) ? troubleText(folded.refused) : null;
  return { id: way, name: foldWords[way].way, note: reason, isDisabled: reason !== null };
}

/** All layers, or so many from the eye on. */
function LayersChoice() {
  const { layers, way } = useDesk((state) => state.folding);
  const depth = desk.folding.hands.now.depth;
  return (
    <>
      {isStraight(way) && (
        <Chips
          label={words.acrossLayers}
          value={layers === 'all' ? 'all' : 'top'}
          options={[
            { value: 'all', shown: words.allLayers },
            { value: 'top', shown: words.topLayers },
          ]}
          onChange={(one) => desk.folding.hands.choose({ layers: one === 'all' ? 'all' : 1 })}
        />
      )}
      {layers !== 'all' && depth > 1 && <LayersField layers={Math.min(layers, depth)} depth={depth} />}
    </>
  );
}

function LayersField({ layers, depth }: { layers: number; depth: number }) {
  const choose = (count: number) =>
    desk.folding.hands.choose({ layers: Math.max(1, Math.min(depth, Number.isNaN(count) ? 1 : count)) });
  return (
    <div className="layers-field">
      <Button className="step-button" aria-label={words.fewerLayers} onPress={() => choose(layers - 1)}>
        −
      </Button>
      <NumberInput
        className="minutes-input"
        label={words.layersFromTop}
        value={layers}
        least={1}
        most={depth}
        digits={0}
        onChange={choose}
      />
      <Button className="step-button" aria-label={words.moreLayers} onPress={() => choose(layers + 1)}>
        +
      </Button>
      <span>{words.layersOf(depth)}</span>
    </div>
  );
}
