/** Numbers as the language writes them. They come as plain strings with a dot. */
import type { Language } from './language';

const plain = /^([<>≤≥~]?\s?)([-−]?)(\d+)(\.\d+)?(e[-+]?\d+)?$/;

/** Whether a text is a plain number with a dot, as the engine writes it. */
export function isNumber(text: string): boolean {
  return plain.test(text);
}

/**
 * A plain number in the language's form: a decimal comma where English has a dot, a true
 * minus in all. A text that is no number comes back unchanged.
 */
export function written(value: string | number, language: Language): string {
  const text = String(value);
  const parts = plain.exec(text);
  if (parts === null) return text;
  const [, sign = '', minus = '', whole = '', decimals = '', power = ''] = parts;
  const point = pointOf(language);
  return sign + (minus && '−') + whole + decimals.replace('.', point) + power.replace('e', '·10^');
}

/** What stands before the decimals. */
export function pointOf(language: Language): string {
  return language === 'en' ? '.' : ',';
}

/**
 * A number that a person typed, with a comma or a dot for the decimals; null
 * where it is none. Digits alone, no grouping: 1.000 is one.
 */
export function typed(text: string): number | null {
  const clean = text.trim().replace(',', '.').replace('−', '-');
  return /^-?(\d+\.?\d*|\.\d+)$/.test(clean) ? Number(clean) : null;
}

/** Bytes as room: "340 kB", "12 MB", "1.3 GB", in thousands as phones tell it. */
export function room(bytes: number, language: Language): string {
  const units = ['kilobyte', 'megabyte', 'gigabyte'] as const;
  const at = Math.min(2, Math.max(0, Math.floor(Math.log10(Math.max(1, bytes)) / 3) - 1));
  const form = new Intl.NumberFormat(language, { style: 'unit', unit: units[at] ?? 'gigabyte', maximumSignificantDigits: 3, useGrouping: false });
  return form.format(bytes / 1000 ** (at + 1));
}
