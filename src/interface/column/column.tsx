/** The slim column: the step, what is selected, and what was found. */

import { CircleAlert, Info, TriangleAlert } from 'lucide-react';
import { lazy, Suspense, useEffect, useMemo, useRef, useState } from 'react';
import { extentOfPose } from '../../core/drawn/extent.ts';
import type { Finding } from '../../core/finding/finding.ts';
import type { Mend } from '../../core/lesson/check/mends.ts';
import { isLandmark } from '../../core/lesson/landmarks.ts';
import type { Lesson } from '../../core/lesson/lesson.ts';
import { BEFORE_FIRST } from '../../core/lesson/makings.ts';
import { calledPart } from '../../core/lesson/part-names.ts';
import { panelNormal } from '../../core/pose/place.ts';
import { lineKinds } from '../../core/sheet/kind.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { creaseLength, creasesAround, panelArea } from '../../core/sheet/walk.ts';
import { stepAt, stepInto } from '../../desk/play/playhead.ts';
import { findingsNow, summaryOf } from '../../desk/run/standing.ts';
import { callingOf, type ToldFinding } from '../../desk/run/told-findings.ts';
import type { State } from '../../desk/store.ts';
import { called } from '../../words/calling.ts';
import { proposedPartName } from '../../words/part-words.ts';
import { verdictSentence } from '../../words/verdict-words.ts';
import {
  angleText,
  boxText,
  freedomsText,
  kindWords,
  millimetres,
  squareCentimetres,
  words,
} from '../../words/words.ts';
import { desk, useDesk, usePlace } from '../desk.ts';
import { LockPart } from '../inside/lock-part.tsx';
import { SectionPart } from '../inside/section-part.tsx';
import { StackPart, useInsideNow } from '../inside/stack-list.tsx';
import { StackingPart } from '../inside/stacking-part.tsx';
import { TuckButton } from '../inside/tuck-button.tsx';
import { Button, Switch } from '../parts/button.tsx';
import { KeptText } from '../parts/fields.tsx';
import { LineSample } from '../parts/line-sample.tsx';
import { Live } from '../parts/live.tsx';
import { BendOffer } from '../storyboard/storyboard.tsx';
import { useHeldStep } from './held-step.ts';
import { LimitsPart } from './limits-part.tsx';
import { PrecreaseToggle, PreparePart } from './prepare-part.tsx';
import {
  AngleField,
  PickedButtons,
  StepFolds,
  StepFollowers,
  StepKindMenu,
  StepLandmark,
  StepMinutes,
  StepTurn,
  StepWords,
} from './step-editor.tsx';
import { WhatIfPart } from './what-if-part.tsx';
import './column.css';

export function Column() {
  const place = useRef<HTMLElement>(null);
  const title = useDesk((state) => state.document.lesson?.title);
  // another lesson is read from its top
  useEffect(() => {
    place.current?.scrollTo(0, 0);
  }, [title]);
  return (
    <aside ref={place} className="column" aria-label={words.about}>
      {title !== undefined && <ColumnParts />}
    </aside>
  );
}

/** What the column tells; on a phone a sheet from below tells the same. */
export function ColumnParts() {
  return (
    <>
      <SectionPart />
      <StepSection />
      <FindingsSection />
      <LocksHere />
      <StepFacts />
      <SelectionSection />
      <LimitsPart />
    </>
  );
}

/** What holds the model together where the slider stands. */
function LocksHere() {
  const count = useDesk((state) => state.document.lesson?.steps.length ?? 0);
  const place = usePlace();
  return count > 0 ? <LockPart step={stepAt(place, count)} /> : null;
}

/** The words of the step that is shown. */
function StepSection() {
  const count = useDesk((state) => state.document.lesson?.steps.length ?? 0);
  const place = usePlace();
  const { step: here, hold } = useHeldStep(count);
  if (count === 0) return null;
  return (
    <section className="column-part step-part" {...hold}>
      <div className="over-title step-head">
        <span>{place === 0 ? words.flatStart : words.stepOf(here + 1, count)}</span>
        <StepKindMenu step={here} />
        <StepMinutes step={here} />
      </div>
      <StepWords key={here} step={here} />
      <StepTurn step={here} />
      <StepLandmark key={`landmark ${here}`} step={here} />
    </section>
  );
}

/** What the step is made of, how large the model is, and what can be asked about it. */
function StepFacts() {
  const count = useDesk((state) => state.document.lesson?.steps.length ?? 0);
  const place = usePlace();
  if (count === 0) return null;
  const here = stepAt(place, count);
  return (
    <section className="column-part">
      <PreparePart
        key={`makes ${place === 0 ? BEFORE_FIRST : here}`}
        step={place === 0 ? BEFORE_FIRST : here}
      />
      <StepFolds key={`folds ${here}`} step={here} />
      <StepFollowers step={here} />
      <ModelSize />
      <TuckButton step={here} />
      <StackingPart step={here} />
      <WhatIfPart key={`what if ${here}`} step={here} />
      <ByHand step={here} />
    </section>
  );
}

function ModelSize() {
  const lesson = useDesk((state) => state.document.lesson)!;
  const place = usePlace();
  const byHand = useDesk((state) => state.run.byHand);
  const finished = useDesk((state) => state.run.steps.every((one) => one.status === 'ready'));
  return (
    <p className="model-size" data-testid="model-size">
      <Live read={() => sizeOfPose(lesson.sheet.size, finished && place >= lesson.steps.length && !byHand)} />
    </p>
  );
}

/** The model is off its track: the way back, and how to keep where it was pulled. */
function ByHand({ step }: { step: number }) {
  const byHand = useDesk((state) => state.run.byHand);
  const shapeShown = useDesk((state) => state.run.shapeShown);
  if (!byHand) return null;
  return (
    <p className="by-hand">
      {shapeShown ? words.shapeShown : words.movedByHand}{' '}
      <Button className="link-button" onPress={desk.atRest.backToTrack}>
        {words.backToTrack}
      </Button>
      {!shapeShown && (
        <Button className="link-button" onPress={() => desk.steps.keepPose(step)}>
          {words.keepPose}
        </Button>
      )}
    </p>
  );
}

/** The box of the shown pose along the still panel's axes; of the finished model its lengths, the largest first. */
function sizeOfPose(sheetSize: number, finished: boolean): string {
  const { pose } = desk.playhead;
  if (!pose) return '';
  const lengths = extentOfPose(pose.sheet, pose.placement).map((length) => length * sheetSize);
  return finished
    ? words.sizeFinished(boxText(lengths.sort((a, b) => b - a)))
    : words.sizeNow(boxText(lengths));
}

export function SelectionSection() {
  const selection = useDesk((state) => state.look.selection);
  const sheet = useDesk((state) => state.document.sheet);
  const { stack } = useInsideNow();
  if (!sheet) return null;
  return (
    <section className="column-part selection-part" aria-live="polite" data-testid="selection">
      <StackPart />
      {!selection && !stack && (
        <>
          <p className="hint">{words.nothingSelected}</p>
          <RestWords />
        </>
      )}
      {selection?.kind === 'crease' && <CreaseFacts sheet={sheet} crease={selection.id} />}
      {selection?.kind === 'panel' && <PanelFacts sheet={sheet} panel={selection.id} />}
      {selection?.kind === 'vertex' && <CornerFacts sheet={sheet} vertex={selection.id} />}
    </section>
  );
}

function RestWords() {
  const rest = useDesk((state) => state.run.rest);
  const computing = useDesk((state) => state.run.computing);
  if (!rest || computing) return null;
  return <p className="hint">{freedomsText(rest.freedoms)}</p>;
}

function Fact({ name, children }: { name: string; children: React.ReactNode }) {
  return (
    <div className="fact">
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

function CreaseFacts({ sheet, crease }: { sheet: Sheet; crease: number }) {
  const size = useDesk((state) => state.document.lesson?.sheet.size ?? 0);
  const stages = useDesk((state) => state.document.stages);
  const kind = lineKinds[sheet.creaseKind[crease]!]!;
  const finished = sheet.creaseAngle[crease]!;
  const folds = kind === 'mountain' || kind === 'valley' || kind === 'unassigned';
  const made = stages.findIndex(({ target }) => !Number.isNaN(target[crease]!) && target[crease] !== 0);
  return (
    <>
      <h3 className="selected-title">
        <LineSample kind={kind} /> {kindWords[kind]} <small>{words.number(crease)}</small>
      </h3>
      <dl>
        {folds && (
          <>
            <Fact name={words.now}>
              <Live read={() => angleText(desk.playhead.pose?.angle[crease] ?? 0)} />
            </Fact>
            {!Number.isNaN(finished) && <Fact name={words.atTheEnd}>{angleText(finished)}</Fact>}
          </>
        )}
        <Fact name={words.length}>{millimetres(creaseLength(sheet, crease) * size)}</Fact>
        {folds && <Fact name={words.madeIn}>{made >= 0 ? made + 1 : words.follows}</Fact>}
      </dl>
      {folds && <AngleHere crease={crease} />}
    </>
  );
}

/** Sets the angle of this crease, or of all picked with it, at the end of the step that is shown. */
function AngleHere({ crease }: { crease: number }) {
  const picked = useDesk((state) => state.look.picked);
  const count = useDesk((state) => state.document.lesson?.steps.length ?? 0);
  const place = usePlace();
  const { step, hold } = useHeldStep(count);
  const creases = picked.includes(crease) ? picked : [crease];
  const here = count > 0 ? step : null;
  return (
    <div className="angle-here" {...hold}>
      {here !== null && <AngleField step={here} creases={creases} />}
      <PickedButtons step={here} after={stepInto(place)} creases={creases} />
      <PrecreaseToggle creases={creases} step={place > 0 ? here : null} />
    </div>
  );
}

function PanelFacts({ sheet, panel }: { sheet: Sheet; panel: number }) {
  const lesson = useDesk((state) => state.document.lesson)!;
  const size = lesson.sheet.size;
  const bent = () => {
    const { pose, board } = desk.playhead;
    if (!pose || !board) return 0;
    return pose.bends.find((_, p) => board.ownPanel(pose.step, p) === panel) ?? 0;
  };
  const facing = () => {
    const { pose } = desk.playhead;
    if (!pose) return '';
    const up = panelNormal(pose.placement, panel)[2] * (desk.store.isTurned ? -1 : 1);
    if (Math.abs(up) < 0.05) return words.onEdge;
    const side = up > 0 === (lesson.sheet.sideUp === 'a') ? 'a' : 'b';
    return words.facesText(side.toUpperCase(), lesson.sheet.sides[side].name);
  };
  const called = calledPart(lesson, sheet, panel);
  const stays = desk.playhead.board?.stillPanel(sheet) === panel;
  return (
    <>
      <h3 className="selected-title">
        <KeptText
          key={panel}
          label={words.nameOfPart}
          value={called.name ?? ''}
          placeholder={proposedPartName(called)}
          keep={(name) => desk.paper.namePanel(panel, name)}
          inputClassName="title-input"
          oneLine
        />
      </h3>
      <dl>
        <Fact name={words.area}>{squareCentimetres((panelArea(sheet, panel) * size * size) / 100)}</Fact>
        <Fact name={words.faces}>
          <Live read={facing} />
        </Fact>
        <Live
          read={() => (bent() >= 0.1 ? <Fact name={words.bendsBy}>{words.bendText(bent())}</Fact> : null)}
        />
      </dl>
      {stays ? (
        <p className="hint">{words.stillYes}</p>
      ) : (
        <Button className="quiet-button" onPress={desk.paper.keepSelectedStill}>
          {words.keepStill}
        </Button>
      )}
    </>
  );
}

function CornerFacts({ sheet, vertex }: { sheet: Sheet; vertex: number }) {
  const open = useDesk((state) => state.run.rest?.open.find((one) => one.vertex === vertex));
  return (
    <>
      <h3 className="selected-title">
        {words.corner} <small>{words.number(vertex)}</small>
      </h3>
      <dl>
        <Fact name={words.creasesMeet}>{creasesAround(sheet, vertex).length}</Fact>
        {open && <Fact name={words.leftOver}>{angleText(open.rotation)}</Fact>}
      </dl>
      <LandmarkToggle vertex={vertex} />
    </>
  );
}

/** Says whether the step that the slider stands in is located by this corner. */
function LandmarkToggle({ vertex }: { vertex: number }) {
  const lesson = useDesk((state) => state.document.lesson);
  const sheet = useDesk((state) => state.document.sheet);
  const place = usePlace();
  const step = stepInto(place);
  if (!lesson?.steps[step] || !sheet) return null;
  return (
    <Switch
      isOn={isLandmark(lesson, step, sheet, vertex)}
      onChange={() => desk.steps.toggleLandmark(step, vertex)}
    >
      {words.locatesStep(lesson.steps[step].title)}
    </Switch>
  );
}

const TrueUpDialog = lazy(() => import('../opening/true-up-dialog.tsx'));

const SHOWN = 3;

function FindingsSection() {
  const document = useDesk((state) => state.document);
  const run = useDesk((state) => state.run);
  const moved = document.trueUp;
  const all = useDesk((state) => state.look.allFindings);
  const [asking, setAsking] = useState(false);
  const list = useMemo(() => findingsNow({ document, run }), [document, run]);
  const shown = all ? list : list.slice(0, SHOWN);
  return (
    <section className="column-part findings-part" aria-label={words.findings}>
      <h3>{words.findings}</h3>
      <p className="summary" role="status" data-testid="summary">
        <Summary />
      </p>
      <OnPurpose />
      <OfferToBend steps={run.steps} />
      <ShapeOffer />
      <VerdictWords />
      {moved !== null && (
        <div className="offer">
          <p>{words.trueUpOffer(moved)}</p>
          <Button
            className="quiet-button"
            onPress={() => (moved > 0.5 ? setAsking(true) : void desk.opening.trueUp())}
          >
            {words.trueUp(moved)}
          </Button>
          {asking && (
            <Suspense>
              <TrueUpDialog moved={moved} isOpen onOpenChange={setAsking} />
            </Suspense>
          )}
        </div>
      )}
      <ul className="findings">
        {shown.map((one, k) => (
          <FindingLine key={k} told={one} />
        ))}
      </ul>
      {list.length > shown.length && (
        <Button className="link-button" onPress={() => desk.store.put({ look: { allFindings: true } })}>
          {words.moreFindings(list.length - shown.length)}
        </Button>
      )}
      {shown.some(({ isPlaced }) => isPlaced) && <p className="hint">{words.placesFrom}</p>}
    </section>
  );
}

/** A step that no motion was found for may end in a state all the same, which its layers allow too. */
function ShapeOffer() {
  const failed = useDesk((state) => state.run.steps.find(({ end }) => end?.alone && end.closes));
  const look = failed?.layers;
  if (look?.replies.layers !== 'yes' || look.replies.contact === 'no') return null;
  return (
    <div className="offer">
      <p>{words.shapeCloses(look.states, look.exact, look.deepest)}</p>
      <Button className="quiet-button" onPress={desk.atRest.showShape}>
        {words.showShape}
      </Button>
    </div>
  );
}

/** A sample that fails says that it is meant to. */
function OnPurpose() {
  const title = useDesk((state) => state.document.lesson?.title);
  const meant = useDesk(({ shelf }) => shelf.samples.some((one) => one.refused && one.title === title));
  const fails = useDesk(({ run }) => run.steps.some(({ status }) => status === 'fails'));
  return meant && fails ? <p className="hint">{words.refusedOnPurpose}</p> : null;
}

function OfferToBend({ steps }: { steps: State['run']['steps'] }) {
  const failed = steps.findIndex((one) => one.status === 'fails');
  return failed < 0 ? null : <BendOffer index={failed} />;
}

function Summary() {
  const document = useDesk((state) => state.document);
  const run = useDesk((state) => state.run);
  const { tone, text, again } = useMemo(() => summaryOf({ document, run }), [document, run]);
  return (
    <>
      {tone === 'plain' ? text : <span className={`is-${tone}`}>{text}</span>}
      {again !== undefined && (
        <Button className="link-button" onPress={() => tryAgain(again)}>
          {words.tryAgain}
        </Button>
      )}
    </>
  );
}

/** Asks again what broke: the motions, or the looks from a step on. */
function tryAgain(step: number): void {
  if (desk.store.run.broke !== null) void desk.tracks.compute(desk.playhead.place);
  else desk.looks.askAgain(step);
}

function VerdictWords() {
  const verdict = useDesk((state) => state.look.verdict);
  const sides = useDesk((state) => state.document.lesson?.sheet);
  if (!verdict || !sides) return null;
  return (
    <p className="verdict" role="status" data-testid="verdict">
      {called(callingOf(desk.store.document), () => verdictSentence(verdict, sides))}
    </p>
  );
}

/** Where a mend was tried and does away with what was found, one press makes it. */
function MendButton({ finding }: { finding: Finding }) {
  const lesson = useDesk((state) => state.document.lesson);
  const settled = useDesk(
    ({ document: { checked }, run: { computing, steps } }) =>
      checked &&
      !computing &&
      steps.every(({ end, layers, lookBroke }) => !end?.closes || layers || lookBroke),
  );
  const [mend, setMend] = useState<{ readonly of: Lesson; readonly mend: Mend | null } | null>(null);
  useEffect(() => {
    let wanted = settled && lesson !== null;
    if (wanted)
      void desk.mends.mendFor(finding).then((known) => wanted && setMend({ of: lesson!, mend: known }));
    return () => {
      wanted = false;
    };
  }, [settled, lesson, finding]);
  if (!mend?.mend || mend.of !== lesson) return null;
  const { name, lesson: mended } = mend.mend;
  return (
    <Button className="link-button mend-button" onPress={() => desk.edits.lesson('mend', () => mended)}>
      {words.mendText(name)}
    </Button>
  );
}

const icons = { error: CircleAlert, warning: TriangleAlert, note: Info } as const;

function FindingLine({ told: { finding, sentence, where } }: { told: ToldFinding }) {
  const Icon = icons[finding.severity];
  const somewhere = where.vertices.length + where.creases.length + where.panels.length > 0;
  const showWhere = () => {
    const { vertices, creases, panels } = where;
    const selection =
      creases.length > 0
        ? ({ kind: 'crease', id: creases[0]! } as const)
        : panels.length > 0
          ? ({ kind: 'panel', id: panels[0]! } as const)
          : ({ kind: 'vertex', id: vertices[0]! } as const);
    desk.store.put({ look: { toldMore: false, selection, marks: { vertices, creases, panels } } });
  };
  const body = (
    <>
      <Icon size={16} strokeWidth={1.9} aria-label={words.severity[finding.severity]} />
      <span>{sentence}</span>
    </>
  );
  return (
    <li className={`finding finding-${finding.severity}`}>
      {somewhere ? (
        <Button className="finding-button" onPress={showWhere}>
          {body}
        </Button>
      ) : (
        <p>{body}</p>
      )}
      <MendButton finding={finding} />
    </li>
  );
}
