/** Texts and numbers that are changed where they stand. What is typed counts when the field is left, or at Enter. */
import { type KeyboardEvent, type ReactNode, useEffect, useRef, useState } from 'react';
import { numberIn, numberText } from '../../words/numbers.ts';
import { words } from '../../words/words.ts';
import { desk } from '../desk.ts';
import { press } from './press.ts';

/** Words that are text until they are clicked: on one line Enter leaves them, otherwise the field is as tall as its words. */
export function KeptText({
  label,
  value,
  keep,
  placeholder,
  className = '',
  inputClassName,
  oneLine = false,
  children,
}: {
  label: string;
  value: string;
  keep: (text: string) => void;
  placeholder?: string;
  className?: string;
  inputClassName?: string;
  oneLine?: boolean;
  children?: ReactNode;
}) {
  const area = useRef<HTMLTextAreaElement>(null);
  // a text that comes from elsewhere meanwhile does not take away what is typed
  const [typed, setTyped] = useState<string | null>(null);
  // counted up with each text kept: a fresh field, so that its own undo does not reach back before it
  const [turn, setTurn] = useState(0);
  const text = typed ?? value;
  useEffect(() => {
    if (!area.current) return;
    area.current.style.height = '0';
    area.current.style.height = `${area.current.scrollHeight}px`;
  });
  const field = {
    ...{ className: inputClassName, placeholder, value: text, 'aria-label': label },
    'data-typed': text !== value || undefined,
    onBlur: () => {
      if (typed === null) return;
      press.after(() => {
        keep(typed);
        setTyped(null);
        setTurn(turn + 1);
      });
    },
  };
  return (
    <div className={`plain-field ${className}`}>
      {children}
      {oneLine ? (
        <input
          key={turn}
          {...field}
          onChange={(event) => setTyped(event.currentTarget.value)}
          onKeyDown={leaveField}
        />
      ) : (
        <textarea
          key={turn}
          ref={area}
          rows={1}
          {...field}
          onChange={(event) => setTyped(event.currentTarget.value)}
          onKeyDown={leaveField}
        />
      )}
    </div>
  );
}

/** Enter (on one line) and Escape leave a field. */
function leaveField(event: KeyboardEvent<HTMLElement>): void {
  const oneLine = event.currentTarget instanceof HTMLInputElement;
  if (event.key === 'Escape' || (event.key === 'Enter' && oneLine)) event.currentTarget.blur();
}

/** A number; empty is NaN. Arrow keys step it. A decimal comma is a decimal point; what is no number is said. */
export function NumberInput({
  label,
  value,
  least,
  most,
  step = 1,
  digits = 1,
  signed = false,
  onChange,
  className,
  placeholder,
}: {
  label: string;
  value: number;
  least: number;
  most: number;
  step?: number;
  /** Decimals shown at most. */
  digits?: number;
  /** A plus is written, too. */
  signed?: boolean;
  onChange: (value: number) => void;
  className?: string;
  placeholder?: string;
}) {
  const shown = Number.isNaN(value) ? '' : numberText(value, digits, signed);
  const [text, setText] = useState<string | null>(null);
  const take = (next: number) => {
    setText(null);
    const kept = Number.isNaN(next) ? next : Math.min(most, Math.max(least, next));
    if (!Object.is(kept, value)) onChange(kept);
  };
  const commit = () => {
    if (text === null || text === shown) return setText(null);
    const read = numberIn(text);
    if (read === null) {
      setText(null);
      desk.store.say(words.noNumber(text.trim()));
    } else take(read);
  };
  const onKey = (event: KeyboardEvent<HTMLInputElement>) => {
    const by = { ArrowUp: step, ArrowDown: -step }[event.key];
    if (by !== undefined) {
      event.preventDefault();
      take((Number.isNaN(value) ? 0 : value) + by);
    } else if (event.key === 'Enter') commit();
    else if (event.key === 'Escape') {
      setText(null);
      event.currentTarget.blur();
    }
  };
  return (
    <input
      className={className}
      inputMode="decimal"
      autoComplete="off"
      aria-label={label}
      placeholder={placeholder}
      value={text ?? shown}
      data-typed={(text !== null && text !== shown) || undefined}
      onChange={(event) => setText(event.currentTarget.value)}
      onFocus={(event) => event.currentTarget.select()}
      onBlur={() => press.after(commit)}
      onKeyDown={onKey}
    />
  );
}
