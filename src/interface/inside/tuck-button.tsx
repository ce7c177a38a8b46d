import { Play } from 'lucide-react';
import { isTuck } from '../../desk/play/tuck.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Button } from '../parts/button.tsx';

/** In the words about a step that tucks or locks, once it has been computed. */
export function TuckButton({ step }: { step: number }) {
  const kind = useDesk((state) => state.document.lesson?.steps[step]?.kind);
  const ready = useDesk((state) => state.run.steps[step]?.status === 'ready');
  const open = useDesk((state) => state.inside.tuck?.step === step);
  if (!kind || !isTuck(kind) || !ready || open) return null;
  return (
    <Button className="quiet-button tuck-button" onPress={() => desk.tuck.open(step)}>
      <Play size={14} strokeWidth={2} aria-hidden="true" />
      {words.playTheTuck(kind)}
    </Button>
  );
}
