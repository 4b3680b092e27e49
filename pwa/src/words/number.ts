/** Numbers as the language writes them. They come as plain strings with a dot. */
import type { Language } from './language';

const plain = /^([<>≤≥~]?\s?)([-−]?)(\d+)(\.\d+)?(e[-+]?\d+)?$/;

/** Whether a text is a plain number with a dot, as the engine writes it. */
export function isNumber(text: string): boolean {
  return plain.test(text);
}

/**
 * A plain number in the language's form: a decimal comma in Spanish, a true
 * minus in both. A text that is no number comes back unchanged.
 */
export function written(value: string | number, language: Language): string {
  const text = String(value);
  const parts = plain.exec(text);
  if (parts === null) return text;
  const [, sign = '', minus = '', whole = '', decimals = '', power = ''] = parts;
  const point = language === 'es' ? ',' : '.';
  return sign + (minus && '−') + whole + decimals.replace('.', point) + power.replace('e', '·10^');
}

/**
 * A number that a person typed, with a comma or a dot for the decimals; null
 * where it is none. Digits alone, no grouping: 1.000 is one.
 */
export function typed(text: string): number | null {
  const clean = text.trim().replace(',', '.').replace('−', '-');
  return /^-?(\d+\.?\d*|\.\d+)$/.test(clean) ? Number(clean) : null;
}
