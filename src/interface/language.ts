/** The language that the address asks for; none: the one that is there from the start. */
import { speak } from '../words/words.ts';

/** Those that can be asked for by `?words=`, each fetched when it is. */
const languages: Readonly<Record<string, () => Promise<Parameters<typeof speak>[0]>>> = {
  'made-up': async () => (await import('../words/made-up.ts')).madeUp('ltr'),
  'made-up-rtl': async () => (await import('../words/made-up.ts')).madeUp('rtl'),
};

export async function speakAsAsked(): Promise<void> {
  const asked = new URLSearchParams(location.search).get('words');
  // one that cannot be fetched leaves the words as they are
  const language = await languages[asked ?? '']?.().catch(() => undefined);
  if (!language) return;
  speak(language);
  document.documentElement.lang = language.tag;
  document.documentElement.dir = language.direction;
}

/** Is the page laid out from right to left? Steps then go that way, and a text starts at its right. */
export const isRightToLeft = (): boolean => document.documentElement.dir === 'rtl';
