/** Likely wrong folds of a step, each with its picture, its creases, and the way back. */

import { useEffect, useState } from 'react';
import { isBroken } from '../../core/run/step-known.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import type { Wrong } from '../../desk/run/wrongs.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Button } from '../parts/button.tsx';
import { creasePath, rimPath, sheetBox } from '../sheet/sheet-drawing.ts';
import './wrong-looks.css';

export default function WrongLooks({ step }: { step: number }) {
  const [wrongs, setWrongs] = useState<readonly Wrong[]>([]);
  const steps = useDesk((state) => state.document.lesson?.steps);
  const right = useDesk((state) => state.run.steps[step]?.picture);
  useEffect(() => desk.wrongs.foldAll(step, setWrongs), [step, steps]);
  return (
    <ul className="wrongs" data-testid="wrongs">
      {right && (
        <li className="wrong-right">
          <span className="wrong-picture">
            <img src={right} alt="" />
          </span>
          <span className="choice-words">{words.asItShould}</span>
        </li>
      )}
      {wrongs.map((wrong) => (
        <WrongChoice key={`${wrong.fold.kind} ${wrong.fold.creases}`} wrong={wrong} />
      ))}
    </ul>
  );
}

/** A wrong fold as it looks, with the creases that are at fault; pressed it leads back to where they are put right. */
function WrongChoice({ wrong: { fold, look, picture } }: { wrong: Wrong }) {
  const lesson = useDesk((state) => state.document.lesson);
  const sheet = useDesk((state) => state.document.sheet);
  if (!lesson || !sheet) return null;
  const other = lesson.sheet.sides[lesson.sheet.sideUp === 'a' ? 'b' : 'a'].name;
  return (
    <li>
      <Button className="stacking-choice" onPress={() => leadBack(fold)}>
        <span className="wrong-picture">
          {picture && <img src={picture} alt="" />}
          {fold.creases.length > 0 && <AtFault sheet={sheet} creases={fold.creases} />}
        </span>
        <span className="choice-words">{words.wrongFold[fold.kind](fold.creases, other)}</span>
        <span className="choice-note">{noteOf(fold, look)}</span>
      </Button>
    </li>
  );
}

function noteOf({ kind, back }: Wrong['fold'], look: Wrong['look']): string {
  if (!look) return words.wrongFolding;
  if (isBroken(look)) return words.wrongBroke(look.broke);
  const remedy = words.wrongRemedy[kind];
  return look.arrives ? words.wrongBack(back, remedy) : words.wrongHeld(look.short, remedy);
}

/** Goes to where the fold is put right, its creases picked. */
function leadBack({ back, creases }: Wrong['fold']): void {
  desk.player.goTo(Math.max(0, back));
  desk.picking.pickAll(creases, creases[0]);
}

/** A small flat sheet with the creases at fault drawn out. */
function AtFault({ sheet, creases }: { sheet: Sheet; creases: readonly number[] }) {
  const { width, height } = sheetBox(sheet);
  return (
    <svg
      className="at-fault"
      viewBox={`-0.04 ${-height - 0.04} ${width + 0.08} ${height + 0.08}`}
      aria-hidden="true"
    >
      <g transform="scale(1 -1)">
        <path className="at-fault-sheet" d={rimPath(sheet)} />
        <path className="at-fault-lines" d={creases.map((crease) => creasePath(sheet, crease)).join('')} />
      </g>
    </svg>
  );
}
