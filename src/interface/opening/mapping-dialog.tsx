/** Asks what the strokes of a drawing mean: a sample of each, a count, and the guess filled in. */

import { ChevronDown } from 'lucide-react';
import { useEffect, useMemo, useState } from 'react';
import { Button, Label, ListBox, ListBoxItem, Popover, Select, SelectValue } from 'react-aria-components';
import type { LineMapping, StrokeGroup } from '../../core/storage/drawing/mapping.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Panel } from '../parts/panel.tsx';
import './mapping-dialog.css';

const meanings = ['mountain', 'valley', 'unassigned', 'edge', 'flat', 'cut', 'ignore'] as const;
type Meaning = (typeof meanings)[number];

export default function MappingDialog() {
  const asked = useDesk((state) => state.document.mapping);
  const [mapping, setMapping] = useState<LineMapping>({});
  useEffect(() => setMapping(asked?.guess ?? {}), [asked]);
  if (!asked) return null;
  return (
    <Panel
      title={words.mappingTitle}
      about={asked.title}
      leave={words.mappingLeave}
      close={() => desk.store.put({ document: { mapping: null } })}
      buttons={
        <Button className="strong-button" onPress={() => void desk.opening.takeMapping(mapping)}>
          {words.mappingUse}
        </Button>
      }
    >
      <p className="sentence">{words.mappingIntro}</p>
      {asked.leftOut > 0 && (
        <p className="left-out">
          {words.mappingLeftOut(asked.leftOut)}{' '}
          <Button className="link-button" onPress={() => void desk.opening.takeSheet('all')}>
            {words.mappingTakeAll}
          </Button>
        </p>
      )}
      <div className="groups">
        {asked.groups.map((group) => (
          <GroupLine
            key={group.key}
            group={group}
            meaning={(mapping[group.key]?.kind ?? 'ignore') as Meaning}
            onChange={(kind) => setMapping({ ...mapping, [group.key]: { kind } })}
          />
        ))}
      </div>
    </Panel>
  );
}

function GroupLine({
  group,
  meaning,
  onChange,
}: {
  group: StrokeGroup;
  meaning: Meaning;
  onChange: (meaning: Meaning) => void;
}) {
  const what = [words.dashes[group.dash], group.layer ? words.mappingLayer(group.layer) : '']
    .filter(Boolean)
    .join(', ');
  return (
    <div className="group">
      <Sample group={group} />
      <div className="group-words">
        <span>
          <span className="swatch" style={{ background: group.colour }} /> {what}
        </span>
        <small>{words.mappingCount(group.count)}</small>
      </div>
      <Select
        className="select"
        aria-label={words.meaningOf(what)}
        value={meaning}
        onChange={(key) => key && onChange(key as Meaning)}
      >
        <Label className="unseen">{words.meaningOf(what)}</Label>
        <Button className="quiet-button select-button">
          <SelectValue />
          <ChevronDown size={16} strokeWidth={1.75} aria-hidden="true" />
        </Button>
        <Popover className="popover">
          <ListBox className="menu">
            {meanings.map((one) => (
              <ListBoxItem key={one} id={one} className="menu-item">
                {words.meanings[one]}
              </ListBoxItem>
            ))}
          </ListBox>
        </Popover>
      </Select>
    </div>
  );
}

/** Some strokes of the group, drawn as they lie. */
function Sample({ group }: { group: StrokeGroup }) {
  const drawn = useMemo(() => {
    const strokes = group.sample;
    const xs = strokes.flatMap((s) => [s.x1, s.x2]);
    const ys = strokes.flatMap((s) => [s.y1, s.y2]);
    const [x, y] = [Math.min(...xs), Math.min(...ys)];
    const scale = 1 / Math.max(Math.max(...xs) - x, Math.max(...ys) - y, 1e-12);
    return strokes
      .map(
        (s) =>
          `M${(s.x1 - x) * scale} ${1 - (s.y1 - y) * scale}L${(s.x2 - x) * scale} ${1 - (s.y2 - y) * scale}`,
      )
      .join('');
  }, [group]);
  return (
    <svg className={`group-sample dash-${group.dash}`} viewBox="-0.08 -0.08 1.16 1.16" aria-hidden="true">
      <path d={drawn} stroke={group.colour} />
    </svg>
  );
}
