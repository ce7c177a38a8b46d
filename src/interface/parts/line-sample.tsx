import type { LineKind } from '../../core/sheet/kind.ts';
import './line-sample.css';

/** A short stroke in the style of a kind. */
export function LineSample({ kind }: { kind: LineKind }) {
  return (
    <svg className={`sample sample-${kind}`} viewBox="0 0 44 10" aria-hidden="true">
      <path d="M1 5H43" />
    </svg>
  );
}
