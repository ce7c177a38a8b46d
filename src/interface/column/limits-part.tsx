/** What the class can do at once: the checks of a lesson measure by it. Shut away until it is wanted. */

import { useState } from 'react';
import { type ClassLimits, usualLimits } from '../../core/lesson/lesson.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Button } from '../parts/button.tsx';
import { NumberInput } from '../parts/fields.tsx';
import './limits-part.css';

export function LimitsPart() {
  const limits = useDesk((state) => state.document.lesson?.limits) ?? usualLimits;
  const hasSteps = useDesk((state) => (state.document.lesson?.steps.length ?? 0) > 0);
  const [open, setOpen] = useState(false);
  if (!hasSteps) return null;
  return (
    <div className="limits-part">
      <Button className="link-button" aria-expanded={open} onPress={() => setOpen(!open)}>
        {words.classLimits}
      </Button>
      {open && (
        <div className="limits-fields">
          <LimitField name="creasesAtOnce" limits={limits} />
          <LimitField name="turnOvers" limits={limits} />
        </div>
      )}
    </div>
  );
}

function LimitField({ name, limits }: { name: keyof ClassLimits; limits: ClassLimits }) {
  const change = (value: number) => {
    const wanted = Number.isNaN(value) ? usualLimits[name] : value;
    desk.edits.lesson(
      `limit ${name}`,
      (lesson) => ({ ...lesson, limits: { ...limits, [name]: wanted } }),
      true,
    );
  };
  return (
    // biome-ignore lint/a11y/noLabelWithoutControl: the field is inside
    <label className="field">
      <span>{words[name]}</span>
      <NumberInput
        label={words[name]}
        value={limits[name]}
        least={0}
        most={999}
        digits={0}
        onChange={change}
      />
    </label>
  );
}
