/** The tuck by itself: the button that opens it, and its own small transport. */

import { Pause, Play, StepBack, StepForward } from 'lucide-react';
import { useSyncExternalStore } from 'react';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Tool } from '../parts/tool.tsx';
import { Row } from './inside-row.tsx';

export function TuckRow() {
  const playing = useDesk((state) => state.inside.tuck?.playing ?? false);
  const share = useSyncExternalStore(desk.playhead.subscribe, () => desk.tuck.share);
  return (
    <Row name={words.tuckName} close={desk.tuck.close}>
      <Tool label={words.tuckBack} icon={StepBack} onPress={() => desk.tuck.step(-1)} />
      <Tool
        label={playing ? words.stopTuck : words.playTuck}
        keyName={desk.commands.keyOf('tuck')}
        icon={playing ? Pause : Play}
        onPress={playing ? desk.tuck.pause : desk.tuck.play}
      />
      <Tool label={words.tuckOn} icon={StepForward} onPress={() => desk.tuck.step(1)} />
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
