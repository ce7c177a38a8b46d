/** What the schema of a lesson wants of an entry, carried through its checks as the message of each. */
import type { Wanted, WantedCode } from '../../finding/values/file.ts';

const mark = 'wanted ';

export const wanted = (code: WantedCode, ...more: readonly (string | number)[]): string =>
  mark + JSON.stringify([code, ...more]);

/** What a message carries; null for those of the checking library itself. */
export const wantedIn = (message: string): Wanted | null =>
  message.startsWith(mark) ? JSON.parse(message.slice(mark.length)) : null;
