/** Buttons and choices as the browser has them: they come first, and want no library. */
import type { ButtonHTMLAttributes, KeyboardEvent, ReactNode, Ref } from 'react';

type Native = Omit<ButtonHTMLAttributes<HTMLButtonElement>, 'onClick' | 'disabled' | 'type'>;

interface ButtonProps extends Native {
  readonly onPress?: () => void;
  readonly isDisabled?: boolean;
  readonly ref?: Ref<HTMLButtonElement>;
}

export function Button({ onPress, isDisabled = false, ...rest }: ButtonProps) {
  return <button type="button" disabled={isDisabled} onClick={onPress} {...rest} />;
}

interface Option<T> {
  readonly value: T;
  readonly shown: ReactNode;
  /** Said where what is shown is a picture. */
  readonly name?: string;
}

/** One of several, side by side; arrow keys go from one to the next. */
export function Chips<T extends string | number>({
  label,
  value,
  options,
  onChange,
  className = '',
}: {
  label: string;
  value: T;
  options: readonly Option<T>[];
  onChange: (value: T) => void;
  className?: string;
}) {
  const onKey = (event: KeyboardEvent<HTMLElement>) => {
    const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    const at = options.findIndex((one) => one.value === value);
    const next = (at + by + options.length) % options.length;
    onChange(options[next]!.value);
    (event.currentTarget.children[next] as HTMLElement).focus();
  };
  const reached = options.some((one) => one.value === value) ? value : options[0]?.value;
  return (
    <div className={`choice-chips ${className}`} role="radiogroup" aria-label={label} onKeyDown={onKey}>
      {options.map((one) => (
        // biome-ignore lint/a11y/useSemanticElements: likewise
        <button
          key={one.value}
          type="button"
          role="radio"
          aria-checked={one.value === value}
          aria-label={one.name}
          tabIndex={one.value === reached ? 0 : -1}
          onClick={() => onChange(one.value)}
        >
          {one.shown}
        </button>
      ))}
    </div>
  );
}

/** On or off. */
export function Switch({
  isOn,
  onChange,
  children,
}: {
  isOn: boolean;
  onChange: () => void;
  children: ReactNode;
}) {
  return (
    <button type="button" role="switch" className="switch" aria-checked={isOn} onClick={onChange}>
      <span className="switch-track" aria-hidden="true" />
      {children}
    </button>
  );
}
