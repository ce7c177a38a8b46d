/** Numbers as they are written and read, and the forms that counted things take: by the language of the words. */

/** The language that is spoken, as Intl names it; `speak` sets it. */
export const spoken = { tag: 'en' };

type Form = Intl.NumberFormat | Intl.PluralRules | Intl.DateTimeFormat;
const kept = new Map<string, Form>();

/** One of each kind for each language. */
function keptFor<T extends Form>(key: string, make: (tag: string) => T): T {
  const full = `${spoken.tag} ${key}`;
  const known = kept.get(full) as T | undefined;
  if (known) return known;
  const made = make(spoken.tag);
  kept.set(full, made);
  return made;
}

function written(value: number, key: string, options: Intl.NumberFormatOptions): string {
  const plain = { useGrouping: false, signDisplay: 'negative', ...options } as Intl.NumberFormatOptions;
  return keptFor(key, (tag) => new Intl.NumberFormat(tag, plain)).format(value);
}

/** @param digits decimals at most @param signed with a plus before what is above zero */
export const numberText = (value: number, digits: number, signed = false): string =>
  written(value, `at most ${digits} ${signed}`, {
    maximumFractionDigits: digits,
    ...(signed ? { signDisplay: 'exceptZero' } : {}),
  });

/** With so many decimals, zeros too. */
export const fixedText = (value: number, digits: number): string =>
  written(value, `fixed ${digits}`, { minimumFractionDigits: digits, maximumFractionDigits: digits });

/** With so many figures that count, at most or (zeros too) exactly. */
export const figuresText = (value: number, figures: number, exactly = false): string =>
  written(value, `figures ${figures} ${exactly}`, {
    maximumSignificantDigits: figures,
    ...(exactly ? { minimumSignificantDigits: figures } : {}),
  });

/** With the marks between thousands that the language has. */
export const groupedText = (value: number, digits: number): string =>
  written(value, `grouped ${digits}`, { maximumFractionDigits: digits, useGrouping: true });

/** The day and the time of a moment. */
export const momentText = (at: number | Date): string =>
  keptFor(
    'moment',
    (tag) => new Intl.DateTimeFormat(tag, { dateStyle: 'medium', timeStyle: 'short' }),
  ).format(at);

/** The form that a count asks for: those that a language does not have are left out. */
export function plural<T>(
  count: number,
  forms: { readonly other: T } & Partial<Record<Intl.LDMLPluralRule, T>>,
): T {
  const rule = keptFor('plural', (tag) => new Intl.PluralRules(tag)).select(count);
  return forms[rule] ?? forms.other;
}

/** The number that a text says; NaN for an empty text; null where it says none. */
export function numberIn(text: string): number | null {
  const plain = text
    .trim()
    .replace('−', '-')
    .replace(/[°\s]|mm$/g, '');
  if (plain === '') return Number.NaN;
  if (/^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(plain)) return Number(plain.replace(',', '.'));
  return null;
}
