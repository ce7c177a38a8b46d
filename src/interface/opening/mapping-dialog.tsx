/** Asks what the lines of a drawing mean: a row for each look, or one for many, beside the drawing itself. */
import { useEffect, useMemo, useState } from 'react';
import { Button } from 'react-aria-components';
import type { LineMapping, StrokeGroup } from '../../core/storage/drawing/mapping.ts';
import {
  firstGathering,
  type Gathering,
  type LineRow,
  lineRows,
  meaningOfRow,
  usefulGatherings,
} from '../../desk/document/line-rows.ts';
import { words } from '../../words/words.ts';
import type { AskedDrawing, AskedPicture } from '../../worker/file-protocol.ts';
import { desk, useDesk } from '../desk.ts';
import { Panel } from '../parts/panel.tsx';
import { DrawnLinesBoard } from './drawn-lines.tsx';
import './mapping-dialog.css';

const meanings = ['mountain', 'valley', 'unassigned', 'edge', 'flat', 'cut', 'ignore'] as const;
type Meaning = (typeof meanings)[number];

/** A list of more rows answers no question: the lines are to be gathered otherwise. */
const MOST_ROWS = 200;

const nothingLit: ReadonlySet<number> = new Set();

export default function MappingDialog() {
  const asked = useDesk((state) => state.opening.asked);
  return asked && <Questions key={asked.title} asked={asked} />;
}

function Questions({ asked }: { asked: AskedDrawing }) {
  const whyNot = useDesk((state) => state.opening.whyNot);
  const stage = useDesk((state) => state.opening.reading?.stage);
  const { groups, guess, title } = asked;
  const [mapping, setMapping] = useState<LineMapping>(guess);
  const [by, setBy] = useState<Gathering>(() => firstGathering(groups));
  const [asideShown, setAsideShown] = useState(false);
  const [lit, setLit] = useState(nothingLit);
  useEffect(() => {
    setMapping(asked.guess);
    setBy(firstGathering(asked.groups));
  }, [asked]);
  const marks = asked.picture ? doubtsIn(asked.picture) : 0;
  const rows = useMemo(() => lineRows(groups, by), [groups, by]);
  const answer = (row: LineRow, kind: Meaning) =>
    setMapping({ ...mapping, ...Object.fromEntries(row.groups.map((one) => [groups[one]!.key, { kind }])) });
  const light = (row: LineRow | undefined) => setLit(row ? new Set(row.groups) : nothingLit);
  return (
    <Panel
      title={words.mappingTitle}
      about={title}
      size="wide"
      leave={words.mappingLeave}
      close={desk.opening.leave}
      buttons={
        <>
          <span role="status" className="mapping-stage">
            {stage && words.readingStages[stage]}
          </span>
          <Button
            className="strong-button"
            isDisabled={stage !== undefined}
            onPress={() => void desk.opening.takeMapping(mapping)}
          >
            {words.mappingUse}
          </Button>
        </>
      }
    >
      <div className="mapping">
        <DrawnLinesBoard
          {...{ asked, asideShown, lit }}
          label={words.mappingPicture(asked.groupOf.length)}
          onPoint={(group) =>
            light(group === null ? undefined : rows.find((row) => row.groups.includes(group)))
          }
        />
        <div className="mapping-questions">
          <p className="sentence">{asked.picture ? words.pictureIntro(marks) : words.mappingIntro}</p>
          {whyNot !== null && (
            <p className="why-not" role="alert">
              {whyNot}
            </p>
          )}
          <LeftOut asked={asked} shown={asideShown} show={setAsideShown} />
          <GatherChoice ways={usefulGatherings(groups)} by={by} choose={setBy} />
          <ul className="line-rows">
            {rows.slice(0, MOST_ROWS).map((row) => (
              <Row
                key={row.key}
                row={row}
                groups={groups}
                isLit={row.groups.some((one) => lit.has(one))}
                meaning={meaningOfRow(row, groups, mapping)}
                answer={(kind) => answer(row, kind)}
                light={(on) => light(on ? row : undefined)}
              />
            ))}
          </ul>
          {rows.length > MOST_ROWS && (
            <p className="left-out">{words.mappingMore(rows.length - MOST_ROWS)}</p>
          )}
        </div>
      </div>
    </Panel>
  );
}

const doubtsIn = ({ doubtful, unexplained }: AskedPicture) =>
  doubtful.reduce((sum, one) => sum + one, 0) + unexplained.length;

/** What stands round and beside the sheet: how much, where, and back in again. */
function LeftOut({
  asked,
  shown,
  show,
}: {
  asked: AskedDrawing;
  shown: boolean;
  show: (shown: boolean) => void;
}) {
  const count = asked.aside.length / 4;
  if (count === 0) return null;
  return (
    <p className="left-out">
      {words.mappingLeftOut(count)}{' '}
      <Button className="link-button" aria-pressed={shown} onPress={() => show(!shown)}>
        {shown ? words.mappingHideAside : words.mappingShowAside}
      </Button>{' '}
      <Button className="link-button" onPress={() => void desk.opening.takeSheet('all')}>
        {words.mappingTakeAll}
      </Button>
    </p>
  );
}

function GatherChoice({
  ways,
  by,
  choose,
}: {
  ways: readonly Gathering[];
  by: Gathering;
  choose: (by: Gathering) => void;
}) {
  if (ways.length < 2) return null;
  return (
    <label className="gather-choice">
      {words.mappingGather}
      <select
        className="plain-select"
        value={by}
        onChange={(event) => choose(event.target.value as Gathering)}
      >
        {ways.map((way) => (
          <option key={way} value={way}>
            {words.gatherings[way]}
          </option>
        ))}
      </select>
    </label>
  );
}

function Row({
  row,
  groups,
  isLit,
  meaning,
  answer,
  light,
}: {
  row: LineRow;
  groups: readonly StrokeGroup[];
  isLit: boolean;
  meaning: Meaning | null;
  answer: (meaning: Meaning) => void;
  light: (on: boolean) => void;
}) {
  const what = whatOf(row);
  return (
    <li
      className={isLit ? 'line-row is-lit' : 'line-row'}
      onPointerEnter={() => light(true)}
      onPointerLeave={() => light(false)}
      onFocus={() => light(true)}
      onBlur={() => light(false)}
    >
      <LookSample row={row} colour={row.colour ?? groups[row.groups[0]!]!.colour} />
      <span className="line-row-words">
        {what}
        <small>{words.mappingCount(row.count)}</small>
      </span>
      <select
        className="plain-select"
        aria-label={words.meaningOf(what)}
        value={meaning ?? ''}
        onChange={(event) => answer(event.target.value as Meaning)}
      >
        {meaning === null && <option value="">{words.meaningsDiffer}</option>}
        {meanings.map((one) => (
          <option key={one} value={one}>
            {words.meanings[one]}
          </option>
        ))}
      </select>
    </li>
  );
}

function whatOf({ dash, layer, onRim, groups }: LineRow): string {
  const parts = [
    dash ? words.dashes[dash] : words.mappingLooks(groups.length),
    onRim ? words.mappingOnRim : '',
    layer ? words.mappingLayer(layer) : '',
  ];
  return parts.filter(Boolean).join(', ');
}

/** A short stroke as the row's lines are drawn; plain where they differ. */
function LookSample({ row: { dash }, colour }: { row: LineRow; colour: string }) {
  return (
    <svg className={`look-sample dash-${dash ?? 'solid'}`} viewBox="0 0 56 22" aria-hidden="true">
      <path d="M6 11H50" stroke={colour} />
    </svg>
  );
}
