/** What holds the model together after a step. */
import { callingOf } from '../../desk/run/told-findings.ts';
import { called } from '../../words/calling.ts';
import { words } from '../../words/words.ts';
import { useDesk } from '../desk.ts';
import './lock-part.css';

/** What holds the model together after this step. */
export function LockPart({ step }: { step: number }) {
  const document = useDesk((state) => state.document);
  const size = document.lesson?.sheet.size ?? 0;
  const layers = useDesk((state) => state.run.steps[step]?.layers ?? null);
  const locks = layers && !layers.asks ? (layers.locks[0] ?? []) : [];
  const lidSize = useDesk((state) => state.document.lesson?.sheet.lidSize);
  const lid = layers?.lid && lidSize ? [words.lock.lidSentence(layers.lid, lidSize)] : [];
  const held = called(callingOf(document), () => words.lock.sentences(locks, size));
  const sentences = [...held, ...lid];
  if (sentences.length === 0) return null;
  return (
    <section className="column-part lock-part" aria-label={words.lockTitle} data-testid="locks">
      <h3 className="small-title">{words.lockTitle}</h3>
      <ul className="locks">
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </section>
  );
}
