/** "If yours looks different": likely wrong folds of a step, as pictures, with the way back. */

import { useEffect, useState } from 'react';
import { isBroken } from '../../core/run/step-known.ts';
import type { Wrong } from '../../desk/run/wrongs.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Button } from '../parts/button.tsx';
import './what-if-part.css';

export function WhatIfPart({ step }: { step: number }) {
  const ready = useDesk((state) => state.run.steps[step]?.status === 'ready');
  const drives = useDesk((state) => (state.document.lesson?.steps[step]?.drives.length ?? 0) > 0);
  const [open, setOpen] = useState(false);
  if (!ready || !drives) return null;
  return (
    <div className="what-if">
      <Button className="link-button" aria-expanded={open} onPress={() => setOpen(!open)}>
        {words.whatIf}
      </Button>
      {open && <WrongLooks step={step} />}
    </div>
  );
}

function WrongLooks({ step }: { step: number }) {
  const [wrongs, setWrongs] = useState<readonly Wrong[]>([]);
  const lesson = useDesk((state) => state.document.lesson);
  const steps = lesson?.steps;
  useEffect(() => desk.wrongs.foldAll(step, setWrongs), [step, steps]);
  if (!lesson) return null;
  const other = lesson.sheet.sides[lesson.sheet.sideUp === 'a' ? 'b' : 'a'].name;
  return (
    <ul className="wrongs" data-testid="wrongs">
      {wrongs.map(({ fold, look, picture }, k) => (
        <li key={k}>
          <Button
            className="stacking-choice"
            onPress={() => {
              desk.player.goTo(Math.max(0, fold.back));
              desk.store.put({
                look: {
                  selection: fold.creases[0] === undefined ? null : { kind: 'crease', id: fold.creases[0] },
                  picked: fold.creases,
                },
              });
            }}
          >
            <span className="wrong-picture">{picture && <img src={picture} alt="" />}</span>
            <span className="choice-words">{words.wrongFold[fold.kind](fold.creases.length, other)}</span>
            <span className="choice-note">
              {!look
                ? words.wrongFolding
                : isBroken(look)
                  ? words.wrongBroke(look.broke)
                  : look.arrives
                    ? words.wrongBack(fold.back)
                    : words.wrongHeld(look.short)}
            </span>
          </Button>
        </li>
      ))}
    </ul>
  );
}
