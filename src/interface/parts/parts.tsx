/** Small parts that several views use. */

import type { LucideIcon } from 'lucide-react';
import { type ReactNode, useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { Button, Input, TextArea, TextField, Tooltip, TooltipTrigger } from 'react-aria-components';
import { desk } from '../desk.ts';

/** A round button with a picture, its name in a tooltip. */
export function Tool({
  label,
  icon: Icon,
  onPress,
  isDisabled = false,
  keyName,
  pressed,
  large = false,
}: {
  label: string;
  icon: LucideIcon;
  onPress: () => void;
  isDisabled?: boolean;
  keyName?: string;
  pressed?: boolean;
  large?: boolean;
}) {
  return (
    <TooltipTrigger delay={500}>
      <Button
        className={`tool${large ? ' tool-large' : ''}`}
        aria-label={label}
        aria-pressed={pressed}
        onPress={onPress}
        isDisabled={isDisabled}
      >
        <Icon size={large ? 20 : 17} strokeWidth={1.75} aria-hidden="true" />
      </Button>
      <Tooltip className="tooltip" offset={6}>
        {label}
        {keyName && <kbd>{keyName}</kbd>}
      </Tooltip>
    </TooltipTrigger>
  );
}

/** Reads a text off the shown pose; only the text is drawn anew as the slider moves. */
export function Live({ read }: { read: () => ReactNode }) {
  useSyncExternalStore(desk.playhead.subscribe, () => desk.playhead.pose);
  return <>{read()}</>;
}

/**
 * Words that are text until they are clicked. What is typed counts when the field is left; on one line Enter and Escape
 * leave it, otherwise the field is as tall as its words.
 */
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
  const [text, setText] = useState(value);
  useEffect(() => setText(value), [value]);
  useEffect(() => {
    if (!area.current) return;
    area.current.style.height = '0';
    area.current.style.height = `${area.current.scrollHeight}px`;
  });
  return (
    <TextField
      className={`plain-field ${className}`}
      aria-label={label}
      value={text}
      onChange={setText}
      onBlur={() => keep(text)}
    >
      {children}
      {oneLine ? (
        <Input className={inputClassName} placeholder={placeholder} onKeyDown={leaveField} />
      ) : (
        <TextArea ref={area} className={inputClassName} rows={1} placeholder={placeholder} />
      )}
    </TextField>
  );
}

function leaveField(event: React.KeyboardEvent<HTMLInputElement>): void {
  if (event.key === 'Enter' || event.key === 'Escape') event.currentTarget.blur();
}
