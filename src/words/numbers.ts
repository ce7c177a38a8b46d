/** Numbers as they are written and read: by the language of the words, with a decimal point or a decimal comma. */
const formats = new Map<string, Intl.NumberFormat>();

/** @param digits decimals at most @param signed with a plus before what is above zero */
export function numberText(value: number, digits: number, signed = false): string {
  const key = `${digits} ${signed}`;
  let format = formats.get(key);
  if (!format) {
    format = new Intl.NumberFormat('en', {
      maximumFractionDigits: digits,
      useGrouping: false,
      signDisplay: signed ? 'exceptZero' : 'auto',
    });
    formats.set(key, format);
  }
  return format.format(value);
}

/** The number that a text says; NaN for an empty text; a sentence where it says none. */
export function numberIn(text: string): number | string {
  const plain = text
    .trim()
    .replace('−', '-')
    .replace(/[°\s]|mm$/g, '');
  if (plain === '') return Number.NaN;
  if (/^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(plain)) return Number(plain.replace(',', '.'));
  return `"${text.trim()}" is no number: write it like 12.5 or 12,5.`;
}
