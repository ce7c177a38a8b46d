/** The stack at a point, from the eye's side down: which panel, which side up; and the buttons that peel it. */
import { ArrowUpFromLine, Undo2 } from 'lucide-react';
import { useSyncExternalStore } from 'react';
import { Button } from 'react-aria-components';
import { insideNow } from '../../desk/tools/inside.ts';
import { lookInside } from '../../desk/tools/look-inside.ts';
import { setInside, useInside } from '../../desk/tools/inside-wishes.ts';
import { set, useStore } from '../../desk/store.ts';
import { words } from '../../words/words.ts';

export function useInsideNow(): typeof insideNow {
  useSyncExternalStore(insideNow.subscribe, () => insideNow.turn);
  return insideNow;
}

export function StackPart() {
  const { stack, kept } = useInsideNow();
  const sides = useStore((state) => state.lesson?.sheet);
  const hover = useStore((state) => state.hover);
  const peeled = useInside((state) => (state.peeling && stack === kept ? state.peeled : 0));
  if (!stack || !sides) return null;
  return (
    <section className="stack-part" aria-label={words.stackTitle} data-testid="stack">
      <h3 className="stack-count">
        {words.layersHere(stack.layers.length)}
        {peeled > 0 && <small>{words.liftedOf(peeled, stack.layers.length)}</small>}
      </h3>
      <ol className="stack" onMouseLeave={() => set({ hover: null })}>
        {stack.layers.map(({ panel, up }, k) => {
          const side = up === (sides.sideUp === 'a') ? 'a' : 'b';
          const lit = hover?.kind === 'panel' && hover.id === panel;
          return (
            <li key={`${k} ${panel}`}>
              <Button
                className={`layer${k < peeled ? ' layer-lifted' : ''}${lit ? ' layer-lit' : ''}`}
                onHoverStart={() => set({ hover: { kind: 'panel', id: panel } })}
                onFocus={() => set({ hover: { kind: 'panel', id: panel } })}
                onBlur={() => set({ hover: null })}
                onPress={() => {
                  setInside({ pointer: null });
                  set({ marks: { vertices: [], creases: [], panels: [panel] } });
                }}
              >
                <span className="layer-number">{k + 1}</span>
                <span
                  className="layer-chip"
                  style={{ background: sides.sides[side].colour }}
                  aria-hidden="true"
                />
                <span className="layer-name">{words.layerName(panel)}</span>
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
  const peeled = useInside((state) => (state.peeling ? state.peeled : 0));
  const count = kept?.layers.length ?? 0;
  return (
    <div className="peel-buttons">
      <Button className="quiet-button" onPress={lookInside.peel} isDisabled={peeled >= count}>
        <ArrowUpFromLine size={15} strokeWidth={1.75} aria-hidden="true" />
        {words.liftOne}
      </Button>
      <Button className="quiet-button" onPress={lookInside.putBack} isDisabled={peeled === 0}>
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
