/** The section beside the slice. */
import { lazy, Suspense } from 'react';
import { words } from '../../words/words.ts';
import { useDesk } from '../desk.ts';
import { useInsideNow } from './stack-list.tsx';

const SectionDrawing = lazy(() => import('./section-drawing.tsx'));

export function SectionPart() {
  const { section } = useInsideNow();
  const on = useDesk((state) => state.inside.slice !== null);
  if (!on) return null;
  return (
    <section className="column-part section-part" aria-label={words.sectionTitle} data-testid="section">
      <h3>{words.sectionTitle}</h3>
      {section && section.section.cuts.length > 0 ? (
        <Suspense>
          <SectionDrawing section={section.section} />
        </Suspense>
      ) : (
        <p className="hint">{words.cutsNothing}</p>
      )}
      <p className="schematic-note">{words.sectionNote}</p>
    </section>
  );
}
