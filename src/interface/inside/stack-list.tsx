/** The stack at a point, from the eye's side down: which panel, which side up; and the buttons that peel it. */

import { ArrowUpFromLine, Undo2 } from 'lucide-react';
import { useSyncExternalStore } from 'react';
import { calledPart } from '../../core/lesson/part-names.ts';
import { partName } from '../../words/part-words.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Button } from '../parts/button.tsx';
import './stack-list.css';

export function useInsideNow(): typeof desk.inside {
  useSyncExternalStore(desk.inside.subscribe, () => desk.inside.turn);
  return desk.inside;
}

export function StackPart() {
  const { stack, kept } = useInsideNow();
  const lesson = useDesk((state) => state.document.lesson);
  const sheet = useDesk((state) => state.document.sheet);
  const sides = lesson?.sheet;
  const hover = useDesk((state) => state.look.hover);
  const peeled = useDesk(({ inside }) => (inside.peeling && stack === kept ? inside.peeled : 0));
  if (!stack || !sides) return null;
  return (
    <section className="stack-part" aria-label={words.stackTitle} data-testid="stack">
      <h3 className="stack-count">
        {words.layersHere(stack.layers.length)}
        {peeled > 0 && <small>{words.liftedOf(peeled, stack.layers.length)}</small>}
      </h3>
      <ol className="stack" onMouseLeave={() => desk.store.put({ look: { hover: null } })}>
        {stack.layers.map(({ panel, up }, k) => {
          const side = up === (sides.sideUp === 'a') ? 'a' : 'b';
          const lit = hover?.kind === 'panel' && hover.id === panel;
          return (
            <li key={`${k} ${panel}`}>
              <Button
                className={`layer${k < peeled ? ' layer-lifted' : ''}${lit ? ' layer-lit' : ''}`}
                onPointerEnter={() => desk.store.put({ look: { hover: { kind: 'panel', id: panel } } })}
                onFocus={() => desk.store.put({ look: { hover: { kind: 'panel', id: panel } } })}
                onBlur={() => desk.store.put({ look: { hover: null } })}
                onPress={() => {
                  desk.store.put({ inside: { pointer: null } });
                  desk.store.put({ look: { marks: { vertices: [], creases: [], panels: [panel] } } });
                }}
              >
                <span className="layer-number">{k + 1}</span>
                <span
                  className="layer-chip"
                  style={{ background: sides.sides[side].colour }}
                  aria-hidden="true"
                />
                <span className="layer-name">
                  {lesson && sheet ? partName(calledPart(lesson, sheet, panel)) : ''}
                </span>
                <span className="layer-side">{words.layerSide(side, sides.sides[side].name)}</span>
              </Button>
            </li>
          );
        })}
      </ol>
      {kept && stack === kept && kept.layers.length > 1 && <PeelButtons counted={false} />}
    </section>
  );
}

/** @param counted says how many are lifted, where no heading does */
export function PeelButtons({ counted }: { counted: boolean }) {
  const { kept } = useInsideNow();
  const peeled = useDesk(({ inside }) => (inside.peeling ? inside.peeled : 0));
  const count = kept?.layers.length ?? 0;
  return (
    <div className="peel-buttons">
      <Button className="quiet-button" onPress={desk.lookInside.peel} isDisabled={peeled >= count}>
        <ArrowUpFromLine size={15} strokeWidth={1.75} aria-hidden="true" />
        {words.liftOne}
      </Button>
      <Button className="quiet-button" onPress={desk.lookInside.putBack} isDisabled={peeled === 0}>
        <Undo2 size={15} strokeWidth={1.75} aria-hidden="true" />
        {words.putBack}
      </Button>
      {counted && (
        <span className="peel-count" role="status" data-testid="peel-count">
          {words.liftedOf(peeled, count)}
        </span>
      )}
    </div>
  );
}
