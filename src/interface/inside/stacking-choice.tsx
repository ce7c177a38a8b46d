/** Where the folds leave several stackings, the teacher says which is meant, by pictures of a cut through each. */

import { useEffect, useMemo, useState } from 'react';
import { holds, type Lock, strengthOf } from '../../core/layer/lock/locks.ts';
import type { Section } from '../../core/layer/section.ts';
import { placePanels } from '../../core/pose/place.ts';
import type { StepLayers } from '../../core/run/step-layers.ts';
import { callingOf } from '../../desk/run/told-findings.ts';
import { called } from '../../words/calling.ts';
import { stackingSentence } from '../../words/stacking-words.ts';
import { millimetres, words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Button } from '../parts/button.tsx';
import { SectionSketch } from './section-sketch.tsx';
import './stacking-choice.css';

/** Choices shown before "more". */
const SHOWN = 4;

export default function StackingChoice({ step, layers }: { step: number; layers: StepLayers }) {
  const paper = useDesk((state) => state.document.lesson!.sheet);
  const sheet = useDesk((state) => state.document.sheet!);
  const [sections, setSections] = useState<readonly Section[]>([]);
  const [all, setAll] = useState(false);
  const moved = useMemo(() => panelsMoved(step), [step]);
  useEffect(() => {
    const { board } = desk.playhead;
    const angle = board?.steps[step]?.poses.at(-1)?.angle;
    const { sheet } = desk.store.document;
    if (!board || !angle || !sheet) return;
    let gone = false;
    const own = angle.slice(0, sheet.creaseKind.length);
    void desk.around.layers
      .telling({ sheet, angle: own, still: board.stillPanel(sheet), orders: layers.choices })
      .then((found) => {
        if (!gone) setSections(found);
      });
    return () => {
      gone = true;
    };
  }, [step, layers]);
  const ranked = layers.choices
    .map((_, choice) => ({ choice, locks: layers.locks[choice] ?? [] }))
    .sort((a, b) => strengthOf(b.locks) - strengthOf(a.locks));
  const shown = all ? ranked : ranked.slice(0, SHOWN);
  const other = paper.sideUp === 'a' ? 'b' : 'a';
  return (
    <section className="stacking-part" aria-label={words.whichStacking} data-testid="stacking">
      <h3 className="small-title">{words.whichStacking}</h3>
      <p className="hint">{words.stackingsPossible(layers.states, layers.exact)}</p>
      <ul className="choices">
        {shown.map(({ choice, locks }) => (
          <li key={choice}>
            <Button className="stacking-choice" onPress={() => desk.paper.chooseStacking(step, choice)}>
              {sections[choice] ? (
                <SectionSketch
                  section={sections[choice]}
                  up={paper.sides[paper.sideUp].colour}
                  down={paper.sides[other].colour}
                  lit={moved}
                />
              ) : (
                <span className="section-sketch" />
              )}
              <span className="choice-words">{summary(locks, paper.size)}</span>
              <span className="choice-note" data-testid="difference">
                {called(callingOf(desk.store.document), () =>
                  stackingSentence(layers.differences[choice] ?? [], paper, sheet),
                )}
              </span>
              {choice === 0 && <span className="choice-note">{words.asMotionLays}</span>}
            </Button>
          </li>
        ))}
      </ul>
      {ranked.length > shown.length && (
        <Button className="link-button" onPress={() => setAll(true)}>
          {words.moreStackings(ranked.length - shown.length)}
        </Button>
      )}
      <p className="schematic-note">{words.sectionNote}</p>
    </section>
  );
}

function summary(locks: readonly Lock[], size: number): string {
  const held = locks.filter(holds).sort((a, b) => b.pocketDepth * b.depth - a.pocketDepth * a.depth);
  const [best] = held;
  if (!best) return words.nothingHolds;
  return words.tabIn(
    millimetres(best.depth * size),
    millimetres(best.pocketDepth * size),
    words.lock.grades[best.grade],
    held.length,
  );
}

/** Panels that a step moves; the rest stays where the still panel is. */
function panelsMoved(step: number): ReadonlySet<number> {
  const { board } = desk.playhead;
  const poses = board?.steps[step]?.poses;
  const moved = new Set<number>();
  if (!board || !poses) return moved;
  const places = [poses[0]!, poses.at(-1)!].map(({ angle }) => {
    const own = angle.slice(0, board.sheet.creaseKind.length);
    return placePanels(board.sheet, own, board.stillPanel(board.sheet));
  });
  const [from, to] = places.map(({ rotation }) => rotation);
  for (let panel = 0; panel < board.sheet.panelRings.length; panel++) {
    let same = 0;
    for (let k = 0; k < 4; k++) same += from![4 * panel + k]! * to![4 * panel + k]!;
    if (Math.abs(same) < SAME_TURN) moved.add(panel);
  }
  return moved;
}

/** Cosine of half the turn below which a panel counts as moved: about a degree. */
const SAME_TURN = 0.99996;
