/** The slim column: the step, what is selected, and what was found. */
import { CircleAlert, Info, TriangleAlert } from 'lucide-react';
import { useState } from 'react';
import { Button } from 'react-aria-components';
import type { Finding } from '../core/finding/finding.ts';
import { lineKinds } from '../core/sheet/kind.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { creaseLength, creasesAround, panelArea } from '../core/sheet/walk.ts';
import { panelNormal } from '../scene/stack.ts';
import { actions } from './actions.ts';
import { Live } from './parts.tsx';
import { playhead } from './playhead.ts';
import { trueUp } from './session.ts';
import { get, type State, set, useStore } from './store.ts';
import { stepAt, usePlace } from './storyboard.tsx';
import { TrueUpDialog } from './true-up-dialog.tsx';
import { angleText, freedomsText, kindWords, millimetres, squareCentimetres, words } from './words.ts';

export function Column() {
  return (
    <aside className="column" aria-label={words.about}>
      <StepSection />
      <SelectionSection />
      <FindingsSection />
    </aside>
  );
}

function StepSection() {
  const lesson = useStore((state) => state.lesson);
  const place = usePlace();
  const byHand = useStore((state) => state.byHand);
  if (!lesson || lesson.steps.length === 0) return null;
  const here = stepAt(place, lesson.steps.length);
  const step = lesson.steps[here]!;
  return (
    <section className="column-part step-part">
      <p className="over-title">{words.stepOf(here + 1, lesson.steps.length)}</p>
      <h3>{step.title}</h3>
      <p className="sentence">{step.sentence}</p>
      {(step.kind === 'tuck' || step.kind === 'lock') && <p className="passage">{words.passageLong}</p>}
      {byHand && (
        <p className="by-hand">
          {words.movedByHand}{' '}
          <Button className="link-button" onPress={actions.backToTrack}>
            {words.backToTrack}
          </Button>
        </p>
      )}
    </section>
  );
}

export function SelectionSection() {
  const selection = useStore((state) => state.selection);
  const sheet = useStore((state) => state.sheet);
  if (!sheet) return null;
  return (
    <section className="column-part selection-part" aria-live="polite" data-testid="selection">
      {!selection && (
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
  const rest = useStore((state) => state.rest);
  const computing = useStore((state) => state.computing);
  if (!rest || computing) return null;
  return (
    <p className="hint">
      {freedomsText(rest.freedoms)} {rest.freedoms > 0 && words.dragHint}
    </p>
  );
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
  const size = useStore((state) => state.lesson?.sheet.size ?? 0);
  const stages = useStore((state) => state.stages);
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
              <Live read={() => angleText(playhead.pose?.angle[crease] ?? 0)} />
            </Fact>
            {!Number.isNaN(finished) && <Fact name={words.atTheEnd}>{angleText(finished)}</Fact>}
          </>
        )}
        <Fact name={words.length}>{millimetres(creaseLength(sheet, crease) * size)}</Fact>
        {folds && <Fact name={words.madeIn}>{made >= 0 ? made + 1 : words.follows}</Fact>}
      </dl>
    </>
  );
}

/** A short stroke in the style of a kind. */
export function LineSample({ kind }: { kind: (typeof lineKinds)[number] }) {
  return (
    <svg className={`sample sample-${kind}`} viewBox="0 0 44 10" aria-hidden="true">
      <path d="M1 5H43" />
    </svg>
  );
}

function PanelFacts({ sheet, panel }: { sheet: Sheet; panel: number }) {
  const lesson = useStore((state) => state.lesson)!;
  const size = lesson.sheet.size;
  const bent = () => {
    const { pose, board } = playhead;
    if (!pose || !board) return 0;
    return pose.bends.find((_, p) => board.ownPanel(pose.step, p) === panel) ?? 0;
  };
  const facing = () => {
    const { pose } = playhead;
    if (!pose) return '';
    const up = panelNormal(pose.placement, panel)[2] * (get().turned ? -1 : 1);
    if (Math.abs(up) < 0.05) return words.onEdge;
    const side = up > 0 === (lesson.sheet.sideUp === 'a') ? 'a' : 'b';
    return words.facesText(side.toUpperCase(), lesson.sheet.sides[side].name);
  };
  const stays = playhead.board?.stillPanel(sheet) === panel;
  return (
    <>
      <h3 className="selected-title">
        {words.panel} <small>{words.number(panel)}</small>
      </h3>
      <dl>
        <Fact name={words.area}>{squareCentimetres((panelArea(sheet, panel) * size * size) / 100)}</Fact>
        <Fact name={words.faces}>
          <Live read={facing} />
        </Fact>
        <Live read={() => (bent() >= 0.1 ? <Fact name="Bends by">{`${bent().toFixed(1)}°`}</Fact> : null)} />
      </dl>
      {stays ? (
        <p className="hint">{words.stillYes}</p>
      ) : (
        <Button className="quiet-button" onPress={actions.keepSelectedStill}>
          {words.keepStill}
        </Button>
      )}
    </>
  );
}

function CornerFacts({ sheet, vertex }: { sheet: Sheet; vertex: number }) {
  const open = useStore((state) => state.rest?.open.find((one) => one.vertex === vertex));
  return (
    <>
      <h3 className="selected-title">
        {words.corner} <small>{words.number(vertex)}</small>
      </h3>
      <dl>
        <Fact name={words.creasesMeet}>{creasesAround(sheet, vertex).length}</Fact>
        {open && <Fact name={words.leftOver}>{angleText(open.rotation)}</Fact>}
      </dl>
    </>
  );
}

const SHOWN = 7;
const rank = { error: 0, warning: 1, note: 2 } as const;

function allFindings(state: Pick<State, 'findings' | 'steps'>): Finding[] {
  const all = [...state.findings, ...state.steps.flatMap((one) => one.report?.findings ?? [])];
  return all.sort((a, b) => rank[a.severity] - rank[b.severity]);
}

function FindingsSection() {
  const findings = useStore((state) => state.findings);
  const steps = useStore((state) => state.steps);
  const computing = useStore((state) => state.computing);
  const moved = useStore((state) => state.trueUp);
  const [all, setAll] = useState(false);
  const [asking, setAsking] = useState(false);
  const list = allFindings({ findings, steps });
  const shown = all ? list : list.slice(0, SHOWN);
  return (
    <section className="column-part findings-part" aria-label={words.findings}>
      <h3>{words.findings}</h3>
      <p className="summary" role="status" data-testid="summary">
        <Summary steps={steps} computing={computing} />
      </p>
      <VerdictWords />
      {moved !== null && (
        <div className="offer">
          <p>{words.trueUpOffer(moved)}</p>
          <Button className="quiet-button" onPress={() => (moved > 0.5 ? setAsking(true) : void trueUp())}>
            {words.trueUp(moved)}
          </Button>
          <TrueUpDialog moved={moved} isOpen={asking} onOpenChange={setAsking} />
        </div>
      )}
      <ul className="findings">
        {shown.map((one, k) => (
          <FindingLine key={k} finding={one} />
        ))}
      </ul>
      {list.length > shown.length && (
        <Button className="link-button" onPress={() => setAll(true)}>
          {words.moreFindings(list.length - shown.length)}
        </Button>
      )}
    </section>
  );
}

function Summary({ steps, computing }: { steps: State['steps']; computing: boolean }) {
  const lesson = useStore((state) => state.lesson);
  const findings = useStore((state) => state.findings);
  const stages = useStore((state) => state.stages);
  const failed = steps.findIndex((one) => one.status === 'fails');
  if (failed >= 0)
    return <span className="is-bad">{words.stepFails(lesson?.steps[failed]?.title ?? '')}</span>;
  if (computing) return <>{words.stillComputing}</>;
  if (steps.length === 0 || steps.some((one) => one.status !== 'ready')) return null;
  // no praise over an error, nor for a sheet on which nothing moves
  if (findings.some((one) => one.severity === 'error')) return null;
  if (!stages.some(({ target }) => target.some((angle) => angle !== 0 && !Number.isNaN(angle)))) return null;
  const bend = Math.max(...steps.map((one) => one.report?.bendDegrees ?? 0));
  return <span className="is-well">{bend > 0.05 ? words.allWellBending(bend) : words.allWell}</span>;
}

function VerdictWords() {
  const verdict = useStore((state) => state.verdict);
  const sides = useStore((state) => state.lesson?.sheet);
  if (!verdict || !sides) return null;
  const { base } = verdict;
  const side = base.side === 'up' ? sides.sideUp : sides.sideUp === 'a' ? 'b' : 'a';
  const rests =
    base.panels.length > 0
      ? words.restsOn(words.panelsList(base.panels), sides.sides[side].name.toLowerCase())
      : words.restsOnRim;
  return (
    <p className="verdict" role="status" data-testid="verdict">
      {words.verdictText(words.verdict[verdict.verdict], rests)}
    </p>
  );
}

const icons = { error: CircleAlert, warning: TriangleAlert, note: Info } as const;

function FindingLine({ finding }: { finding: Finding }) {
  const Icon = icons[finding.severity];
  const somewhere = finding.vertices.length + finding.creases.length + finding.panels.length > 0;
  const showWhere = () => {
    const { vertices, creases, panels } = finding;
    const selection =
      creases.length > 0
        ? ({ kind: 'crease', id: creases[0]! } as const)
        : panels.length > 0
          ? ({ kind: 'panel', id: panels[0]! } as const)
          : ({ kind: 'vertex', id: vertices[0]! } as const);
    set({ selection, marks: { vertices, creases, panels } });
  };
  const body = (
    <>
      <Icon size={16} strokeWidth={1.9} aria-label={words.severity[finding.severity]} />
      <span>{finding.message}</span>
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
    </li>
  );
}
