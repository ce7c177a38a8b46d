/** Creases that are folded and unfolded before they are needed: each line with how it is found and from which side. */

import { useState } from 'react';
import type { MadeCrease } from '../../core/lesson/lesson.ts';
import { BEFORE_FIRST, isMade, makingsOf, toggleMade, withMaking } from '../../core/lesson/makings.ts';
import { creasesOnLine } from '../../core/lesson/stages.ts';
import { lineKinds } from '../../core/sheet/kind.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Button, Switch } from '../parts/button.tsx';
import { KeptText } from '../parts/fields.tsx';
import { LineSample } from '../parts/line-sample.tsx';
import './prepare-part.css';

/** Lines shown before "more". */
const SHOWN = 4;

/** Does a step of this kind say which creases it makes? */
const makesCreases = (kind: string | undefined) => kind === 'precrease' || kind === 'pinch';

/** The creases made before the first step, or in a precrease or pinch step. */
export function PreparePart({ step }: { step: number }) {
  const lesson = useDesk((state) => state.document.lesson);
  const [all, setAll] = useState(false);
  const kind = lesson?.steps[step]?.kind;
  if (!lesson || (step !== BEFORE_FIRST && !makesCreases(kind))) return null;
  const makings = makingsOf(lesson, step);
  if (makings.length === 0) return step === BEFORE_FIRST ? null : <p className="hint">{words.pickToMake}</p>;
  const shown = all ? makings : makings.slice(0, SHOWN);
  return (
    <section
      className="prepare-part"
      aria-label={step === BEFORE_FIRST ? words.prepareTitle : words.makesTitle}
      data-testid="prepare"
    >
      {step === BEFORE_FIRST && <h3 className="small-title">{words.prepare(makings.length)}</h3>}
      <ol className="prepare">
        {shown.map((made, index) => (
          <MadeLine key={`${made.from} ${made.to}`} made={made} step={step} index={index} />
        ))}
      </ol>
      {makings.length > shown.length && (
        <Button className="link-button" onPress={() => setAll(true)}>
          {words.moreCreases(makings.length - shown.length)}
        </Button>
      )}
    </section>
  );
}

/** One line: its look picks it, its words are typed over, its side and whether it is only pinched change at a press. */
function MadeLine({ made, step, index }: { made: MadeCrease; step: number; index: number }) {
  const sheet = useDesk((state) => state.document.sheet);
  if (!sheet) return null;
  const creases = creasesOnLine(sheet, made);
  const kind = made.pinch || creases.length === 0 ? 'flat' : lineKinds[sheet.creaseKind[creases[0]!]!]!;
  const tell = (change: Partial<MadeCrease>) =>
    desk.edits.lesson('making', (lesson) => withMaking(lesson, step, index, change));
  const keepLandmark = (landmark: string) => {
    const told = landmark.trim() || undefined;
    if (told !== made.landmark) tell({ landmark: told });
  };
  return (
    <li>
      <Button
        className="prepare-line"
        aria-label={words.pickMade(index + 1)}
        isDisabled={creases.length === 0}
        onPress={() =>
          desk.store.put({ look: { picked: creases, selection: { kind: 'crease', id: creases[0]! } } })
        }
      >
        <LineSample kind={kind} />
      </Button>
      <KeptText
        className="prepare-words"
        label={words.landmarkOf(index + 1)}
        value={made.landmark ?? ''}
        keep={keepLandmark}
        placeholder={words.noLandmark}
      />
      <span className="prepare-choices">
        <Button className="prepare-choice" onPress={() => tell({ side: nextSide(made.side) })}>
          {words.madeSide[made.side ?? 'either']}
        </Button>
        <Button className="prepare-choice" onPress={() => tell({ pinch: made.pinch ? undefined : true })}>
          {made.pinch ? words.pinched : words.creased}
        </Button>
      </span>
    </li>
  );
}

const nextSide = (side: MadeCrease['side']) => (side === undefined ? 'a' : side === 'a' ? 'b' : undefined);

/** Says of the picked creases whether they are made here: before the first step, or in a precrease or pinch step. */
export function PrecreaseToggle({ creases, step }: { creases: readonly number[]; step: number | null }) {
  const lesson = useDesk((state) => state.document.lesson);
  const sheet = useDesk((state) => state.document.sheet);
  if (!lesson || !sheet) return null;
  const inStep = step !== null && makesCreases(lesson.steps[step]?.kind);
  const where = inStep ? step : BEFORE_FIRST;
  return (
    <Switch
      isOn={isMade(lesson, where, sheet, creases)}
      onChange={() => desk.edits.lesson('precrease', (one) => toggleMade(one, where, sheet, creases))}
    >
      {inStep ? words.madeInStep : words.precreaseFirst}
    </Switch>
  );
}
