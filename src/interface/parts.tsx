/** Small parts that several views use. */
import type { LucideIcon } from 'lucide-react';
import { type ReactNode, useSyncExternalStore } from 'react';
import { Button, Tooltip, TooltipTrigger } from 'react-aria-components';
import { playhead } from './playhead.ts';

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
  useSyncExternalStore(playhead.subscribe, () => playhead.pose);
  return <>{read()}</>;
}
