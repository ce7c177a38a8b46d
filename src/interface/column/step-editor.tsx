/** The words and the folds of a step, as they stand and ready to be changed. */

import { ChevronDown, Locate, type LucideIcon, RotateCcw, RotateCw } from 'lucide-react';
import { useEffect, useMemo, useState } from 'react';
import { followersOf } from '../../core/lesson/followers.ts';
import { type StepKind, usualTurn } from '../../core/lesson/lesson.ts';
import { lineKinds } from '../../core/sheet/kind.ts';
import { creasesInLine } from '../../core/sheet/walk.ts';
import { turnsOf } from '../../desk/tools/steps.ts';
import { angleText, stepKindWords, words } from '../../words/words.ts';
import { desk, useDesk, usePlace } from '../desk.ts';
import { Button, Chips } from '../parts/button.tsx';
import { KeptText, NumberInput } from '../parts/fields.tsx';
import { whenIdle } from '../parts/idle.ts';
import { LineSample } from '../parts/line-sample.tsx';
import { MenuButton } from '../parts/menu-button.tsx';
import './step-editor.css';

const kinds = Object.keys(stepKindWords) as StepKind[];

/** Is what proposes words there? It is fetched once the page has a moment. */
function useProposing(): boolean {
  const [fetched, setFetched] = useState(desk.proposing.isFetched);
  useEffect(() => whenIdle(() => desk.proposing.fetch().then(() => setFetched(true))), []);
  return fetched;
}

/** Title and sentence, changed where they stand. */
export function StepWords({ step }: { step: number }) {
  const plan = useDesk((state) => state.document.lesson?.steps[step]);
  const ready = useDesk((state) => state.run.steps[step]?.status === 'ready');
  const fetched = useProposing();
  const proposed = useMemo(
    () => (fetched && ready && plan && !plan.sentence ? desk.proposing.sentenceFor(step) : ''),
    [fetched, ready, plan, step],
  );
  if (!plan) return null;
  return (
    <>
      <KeptText
        label={words.stepTitle}
        value={plan.title}
        keep={(title) => desk.steps.setTitle(step, title)}
        inputClassName="title-input"
        oneLine
      />
      <KeptText
        label={words.stepSentence}
        value={plan.sentence}
        keep={(sentence) => desk.steps.setSentence(step, sentence)}
        inputClassName="sentence-input"
        placeholder={proposed || words.sentenceWanted}
      />
    </>
  );
}

/** How the step is located, in the folder's words: asked of a fold, told of any other that has it. */
export function StepLandmark({ step }: { step: number }) {
  const plan = useDesk((state) => state.document.lesson?.steps[step]);
  if (plan?.kind !== 'fold' && !plan?.landmark) return null;
  return (
    <KeptText
      className="step-landmark"
      label={words.stepLandmark}
      value={plan.landmark ?? ''}
      keep={(landmark) => desk.steps.setLandmark(step, landmark)}
      placeholder={words.landmarkWanted}
    >
      <Locate size={14} strokeWidth={1.75} aria-hidden="true" />
    </KeptText>
  );
}

export function StepKindMenu({ step }: { step: number }) {
  const kind = useDesk((state) => state.document.lesson?.steps[step]?.kind);
  if (!kind) return null;
  return (
    <MenuButton
      className="kind-button"
      name={words.kindOfStep(stepKindWords[kind])}
      menu={() => ({
        ...{ label: words.kindOfStepMenu, placement: 'bottom end', chosen: kind },
        parts: [{ entries: kinds.map((id) => ({ id, name: stepKindWords[id] })) }],
        onChoose: (id) => desk.steps.setKind(step, id as StepKind),
      })}
    >
      {stepKindWords[kind]}
      <ChevronDown size={13} strokeWidth={1.75} aria-hidden="true" />
    </MenuButton>
  );
}

export function StepMinutes({ step }: { step: number }) {
  const minutes = useDesk((state) => state.document.lesson?.steps[step]?.minutes);
  return (
    <span className="minutes-field">
      <NumberInput
        className="minutes-input"
        label={words.minutesOfStep}
        placeholder="–"
        value={minutes ?? Number.NaN}
        least={0}
        most={600}
        onChange={(value) => desk.steps.setMinutes(step, Number.isNaN(value) ? 0 : value)}
      />
      <span>{words.minutesShort}</span>
    </span>
  );
}

/** How far and which way a step turns the model round on the table. */
export function StepTurn({ step }: { step: number }) {
  const plan = useDesk((state) => state.document.lesson?.steps[step]);
  if (plan?.kind !== 'rotate') return null;
  const { turn = usualTurn } = plan;
  const [far, way] = [Math.abs(turn), turn > 0 ? 1 : -1];
  return (
    <div className="turn-field">
      <Chips
        label={words.turnBy}
        value={far}
        options={[...new Set([...turns, far])]
          .sort((a, b) => a - b)
          .map((value) => ({ value, shown: words.degreesOf(value) }))}
        onChange={(one) => desk.steps.setTurn(step, way * one)}
      />
      {far !== 180 && (
        <Chips
          label={words.acrossWay}
          value={way}
          options={[
            { value: 1, name: words.counterClockwise, shown: <Turned icon={RotateCcw} /> },
            { value: -1, name: words.clockwise, shown: <Turned icon={RotateCw} /> },
          ]}
          onChange={(one) => desk.steps.setTurn(step, far * one)}
        />
      )}
    </div>
  );
}

const Turned = ({ icon: Icon }: { icon: LucideIcon }) => (
  <Icon size={15} strokeWidth={1.75} aria-hidden="true" />
);

/** Turns that are offered, degrees. */
const turns = [45, 90, 180];

/** Creases that turn in a step, in groups that go to the same angle. */
export function StepFolds({ step }: { step: number }) {
  const sheet = useDesk((state) => state.document.sheet);
  const stage = useDesk((state) => state.document.stages[step]);
  const before = useDesk((state) => state.document.stages[step - 1]);
  const [open, setOpen] = useState(false);
  if (!sheet || !stage) return null;
  const groups = new Map<number, number[]>();
  stage.target.forEach((angle, crease) => {
    if (Number.isNaN(angle)) return;
    const was = before?.target[crease] ?? 0;
    if (Math.abs(angle - (Number.isNaN(was) ? 0 : was)) < 1e-6) return;
    groups.set(angle, [...(groups.get(angle) ?? []), crease]);
  });
  if (groups.size === 0) return <FoldAllHere step={step} />;
  const count = [...groups.values()].reduce((sum, one) => sum + one.length, 0);
  return (
    <div className="step-folds">
      <Button className="link-button" aria-expanded={open} onPress={() => setOpen(!open)}>
        {words.turnsCreases(count)}
      </Button>
      {open && (
        <ul>
          {[...groups].map(([angle, creases]) => (
            <li key={angle}>
              <Button
                className="fold-line"
                onPress={() =>
                  desk.store.put({
                    look: { picked: creases, selection: { kind: 'crease', id: creases[0]! } },
                  })
                }
              >
                <LineSample kind={lineKinds[sheet.creaseKind[creases[0]!]!]!} />
                <span>{words.creasesTo(creases.length)}</span>
                <span className="fold-angle">{angleText(angle)}</span>
              </Button>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** A step that folds nothing yet may fold all that is left. */
function FoldAllHere({ step }: { step: number }) {
  const plan = useDesk((state) => state.document.lesson?.steps[step]);
  useDesk((state) => state.run.steps);
  if (!plan || plan.off || !foldingKinds.has(plan.kind)) return null;
  const creases = desk.steps.unfolded;
  if (creases.length === 0) return null;
  return (
    <Button className="quiet-button" onPress={() => desk.steps.finish(step, creases)}>
      {words.foldAllHere(creases.length)}
    </Button>
  );
}

const foldingKinds: ReadonlySet<StepKind> = new Set(['fold', 'collapse', 'tuck', 'lock']);

/** Creases that a step does not name and yet moves, once its motion is known. */
export function StepFollowers({ step }: { step: number }) {
  const stage = useDesk((state) => state.document.stages[step]);
  const ready = useDesk((state) => state.run.steps[step]?.status === 'ready');
  usePlace();
  const record = desk.playhead.board?.steps[step];
  if (!stage || !ready || !record || record.poses.length === 0) return null;
  if (record.poses[0]!.angle.length < stage.target.length) return null;
  const creases = followersOf(stage, record.poses);
  if (creases.length === 0) return null;
  return (
    <Button
      className="link-button"
      onPress={() =>
        desk.store.put({ look: { picked: creases, selection: { kind: 'crease', id: creases[0]! } } })
      }
    >
      {words.creasesFollow(creases)}
    </Button>
  );
}

/** The angle of the picked creases at the end of the step that is shown. */
export function AngleField({ step, creases }: { step: number; creases: readonly number[] }) {
  const target = useDesk((state) => state.document.stages[step]?.target[creases[0]!] ?? Number.NaN);
  const title = useDesk((state) => state.document.lesson?.steps[step]?.title);
  const sheet = useDesk((state) => state.document.sheet);
  if (title === undefined) return null;
  const both = sheet !== null && turnsOf(sheet, creases).size > 1;
  const turn = both ? Math.abs(target) : target;
  const degrees = Number.isNaN(turn) ? Number.NaN : Math.round(((turn * 180) / Math.PI) * 1e4) / 1e4;
  return (
    // biome-ignore lint/a11y/noLabelWithoutControl: the field is inside
    <label className="field angle-field">
      <span>{words.angleAtEnd(title, creases.length)}</span>
      <NumberInput
        label={words.angleAtEnd(title, creases.length)}
        placeholder={words.follows}
        value={degrees}
        least={both ? 0 : -180}
        most={180}
        digits={4}
        signed={!both}
        onChange={(value) => desk.steps.setAngle(step, creases, Number.isNaN(value) ? null : value)}
      />
    </label>
  );
}

/**
 * What can be done with the picked creases at a press.
 * @param step the step that the slider stands in; null while there is none
 * @param after the step that a new one follows; -1 at the flat sheet
 */
export function PickedButtons({
  step,
  after,
  creases,
}: {
  step: number | null;
  after: number;
  creases: readonly number[];
}) {
  const sheet = useDesk((state) => state.document.sheet);
  if (!sheet) return null;
  const line = creasesInLine(sheet, creases);
  const together = creases.length > 1 ? creases : line;
  const folds = together.some((crease) => Math.abs(sheet.creaseAngle[crease]!) > 0);
  return (
    <div className="picked-buttons">
      {folds && (
        <Button className="quiet-button" onPress={() => void desk.steps.foldNext(after, together)}>
          {creases.length > 1 ? words.foldPickedNext : words.foldLineNext}
        </Button>
      )}
      {folds && step !== null && (
        <Button className="link-button" onPress={() => desk.steps.finish(step, creases)}>
          {words.foldToFinish}
        </Button>
      )}
      {line.length > creases.length && (
        <Button className="link-button" onPress={() => desk.picking.pickWholeLine(creases)}>
          {words.wholeLine}
        </Button>
      )}
    </div>
  );
}
