/** What is creased before the first step, while the sheet lies flat: each line with how it is found. */
import { useState } from 'react';
import { Button, Switch } from 'react-aria-components';
import { isPrecreased, togglePrecrease } from '../core/lesson/check/mends.ts';
import { creasesOnLine } from '../core/lesson/stages.ts';
import { lineKinds } from '../core/sheet/kind.ts';
import { editLesson } from './edits.ts';
import { LineSample } from './line-sample.tsx';
import { set, useStore } from './store.ts';
import { words } from './words.ts';

/** Lines shown before "more". */
const SHOWN = 4;

export function PreparePart() {
  const precreases = useStore((state) => state.lesson?.precreases);
  const sheet = useStore((state) => state.sheet);
  const [all, setAll] = useState(false);
  if (!precreases || precreases.length === 0 || !sheet) return null;
  const shown = all ? precreases : precreases.slice(0, SHOWN);
  return (
    <section className="prepare-part" aria-label={words.prepareTitle} data-testid="prepare">
      <h3 className="small-title">{words.prepare(precreases.length)}</h3>
      <ol className="prepare">
        {shown.map((made) => {
          const creases = creasesOnLine(sheet, made);
          const kind =
            made.pinch || creases.length === 0 ? 'flat' : lineKinds[sheet.creaseKind[creases[0]!]!]!;
          return (
            <li key={`${made.from} ${made.to}`}>
              <Button
                className="prepare-line"
                isDisabled={creases.length === 0}
                onPress={() => set({ picked: creases, selection: { kind: 'crease', id: creases[0]! } })}
              >
                <LineSample kind={kind} />
                <span>{made.landmark ?? words.noLandmark}</span>
              </Button>
            </li>
          );
        })}
      </ol>
      {precreases.length > shown.length && (
        <Button className="link-button" onPress={() => setAll(true)}>
          {words.moreCreases(precreases.length - shown.length)}
        </Button>
      )}
    </section>
  );
}

/** Says of the picked creases whether they are made before the first step. */
export function PrecreaseToggle({ creases }: { creases: readonly number[] }) {
  const lesson = useStore((state) => state.lesson);
  const sheet = useStore((state) => state.sheet);
  if (!lesson || !sheet) return null;
  return (
    <Switch
      className="switch"
      isSelected={isPrecreased(lesson, sheet, creases)}
      onChange={() => editLesson('precrease', (one) => togglePrecrease(one, sheet, creases))}
    >
      <span className="switch-track" aria-hidden="true" />
      {words.precreaseFirst}
    </Switch>
  );
}
