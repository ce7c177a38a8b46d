/** Round buttons with a picture, their names beside them. */
import type { LucideIcon } from 'lucide-react';
import { Button } from './button.tsx';
import { useTip } from './tip.tsx';

interface ToolProps {
  readonly label: string;
  readonly icon: LucideIcon;
  readonly onPress: () => void;
  readonly isDisabled?: boolean;
  readonly keyName?: string;
  readonly pressed?: boolean;
  readonly large?: boolean;
}

export function Tool({
  label,
  icon: Icon,
  onPress,
  isDisabled = false,
  keyName,
  pressed,
  large = false,
}: ToolProps) {
  const { listens, tip } = useTip(<Named name={label} keyName={keyName} />);
  return (
    <>
      <Button
        className={`tool${large ? ' tool-large' : ''}`}
        aria-label={label}
        aria-pressed={pressed}
        onPress={onPress}
        isDisabled={isDisabled}
        {...listens}
      >
        <Icon size={large ? 20 : 17} strokeWidth={1.75} aria-hidden="true" />
      </Button>
      {tip}
    </>
  );
}

/** A tool that shows its name as well; `hint` says what it does. */
export function NamedTool({
  label,
  shown = label,
  hint = label,
  keyName,
  icon: Icon,
  pressed,
  onPress,
  className = 'tool-named',
}: {
  label: string;
  shown?: string;
  hint?: string;
  keyName: string;
  icon: LucideIcon;
  pressed: boolean;
  onPress: () => void;
  className?: string;
}) {
  const { listens, tip } = useTip(<Named name={hint} keyName={keyName} />);
  return (
    <>
      <Button
        className={`tool tool-wide ${className}`}
        aria-label={label}
        aria-pressed={pressed}
        onPress={onPress}
        {...listens}
      >
        <Icon size={17} strokeWidth={1.75} aria-hidden="true" />
        <span aria-hidden="true">{shown}</span>
      </Button>
      {tip}
    </>
  );
}

function Named({ name, keyName }: { name: string; keyName?: string | undefined }) {
  return (
    <>
      {name}
      {keyName && <kbd>{keyName}</kbd>}
    </>
  );
}
