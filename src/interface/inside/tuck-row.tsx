/** The tuck by itself: the button that opens it, and its own small transport. */
import { Pause, Play, StepBack, StepForward } from 'lucide-react';
import { useSyncExternalStore } from 'react';
import { Button } from 'react-aria-components';
import { Row } from './inside-row.tsx';
import { useInside } from '../../desk/tools/inside-wishes.ts';
import { Tool } from '../parts/parts.tsx';
import { playhead } from '../../desk/play/playhead.ts';
import { useStore } from '../../desk/store.ts';
import { closeTuck, isTuck, openTuck, pauseTuck, playTuck, shareNow, stepTuck } from '../../desk/play/tuck.ts';
import { words } from '../../words/words.ts';

export function TuckRow() {
  const playing = useInside((state) => state.tuck?.playing ?? false);
  const share = useSyncExternalStore(playhead.subscribe, shareNow);
  return (
    <Row name={words.tuckName} close={closeTuck}>
      <Tool label={words.tuckBack} icon={StepBack} onPress={() => stepTuck(-1)} />
      <Tool
        label={playing ? words.stopTuck : words.playTuck}
        keyName="M"
        icon={playing ? Pause : Play}
        onPress={playing ? pauseTuck : playTuck}
      />
      <Tool label={words.tuckOn} icon={StepForward} onPress={() => stepTuck(1)} />
      <span
        className="tuck-share"
        role="progressbar"
        aria-label={words.tuckName}
        aria-valuenow={Math.round(100 * share)}
        aria-valuemin={0}
        aria-valuemax={100}
        style={{ '--share': share } as React.CSSProperties}
      />
    </Row>
  );
}

/** In the words about a step that tucks or locks, once it has been computed. */
export function TuckButton({ step }: { step: number }) {
  const kind = useStore((state) => state.lesson?.steps[step]?.kind);
  const ready = useStore((state) => state.steps[step]?.status === 'ready');
  const open = useInside((state) => state.tuck?.step === step);
  if (!kind || !isTuck(kind) || !ready || open) return null;
  return (
    <Button className="quiet-button tuck-button" onPress={() => openTuck(step)}>
      <Play size={14} strokeWidth={2} aria-hidden="true" />
      {words.playTheTuck(kind)}
    </Button>
  );
}
