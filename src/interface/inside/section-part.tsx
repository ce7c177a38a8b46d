/** The section beside the slice, and the same drawn large over the model's view. */
import { Maximize2, X } from 'lucide-react';
import { lazy, Suspense, useEffect, useRef } from 'react';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Button } from '../parts/button.tsx';
import { Tool } from '../parts/tool.tsx';
import { useInsideNow } from './stack-list.tsx';
import './section-part.css';

const SectionDrawing = lazy(() => import('./section-drawing.tsx'));

export function SectionPart() {
  const on = useDesk((state) => state.inside.slice !== null);
  if (!on) return null;
  return (
    <section className="column-part section-part" aria-label={words.sectionTitle} data-testid="section">
      <h3>{words.sectionTitle}</h3>
      <SectionNow />
      <p className="schematic-note">{words.sectionNote}</p>
      <LargeButton />
    </section>
  );
}

function SectionNow({ large = false }: { large?: boolean }) {
  const { section } = useInsideNow();
  if (!section || section.section.cuts.length === 0) return <p className="hint">{words.cutsNothing}</p>;
  return (
    <Suspense>
      <SectionDrawing section={section.section} large={large} />
    </Suspense>
  );
}

const showLarge = (largeSection: boolean) => desk.store.put({ inside: { largeSection } });

/** Opens the large drawing; when that is closed the keyboard comes back here. */
function LargeButton() {
  const large = useDesk((state) => state.inside.largeSection);
  const place = useRef<HTMLParagraphElement>(null);
  const was = useRef(large);
  useEffect(() => {
    if (was.current && !large) place.current?.querySelector('button')?.focus();
    was.current = large;
  }, [large]);
  return (
    <p ref={place}>
      <Button className="link-button" aria-expanded={large} onPress={() => showLarge(!large)}>
        <Maximize2 size={14} strokeWidth={1.75} aria-hidden="true" /> {words.sectionLarge}
      </Button>
    </p>
  );
}

/** The section as large as the model's view; the slider goes on folding beneath it. */
export function LargeSection() {
  const on = useDesk(({ inside }) => inside.slice !== null && inside.largeSection);
  const place = useRef<HTMLElement>(null);
  useEffect(() => {
    if (on) place.current?.querySelector('button')?.focus();
  }, [on]);
  if (!on) return null;
  return (
    <section ref={place} className="large-section" aria-label={words.sectionLargeTitle}>
      <SectionNow large />
      <p className="schematic-note">{words.sectionNote}</p>
      <Tool
        label={words.dismiss}
        icon={X}
        keyName={desk.commands.keyOf('close')}
        onPress={() => showLarge(false)}
      />
    </section>
  );
}
