/** Numbers between a field's text and a record's value. */
import { num, typed } from '../../words';

/** What can be wrong with a field; words in the family "fault-field". */
export type FieldFault = 'number' | 'positive' | 'percent' | 'missing' | 'too-long' | 'out-of-range' | 'unknown-code';

/** A number as the text of a field: all its digits, the language's decimal sign, no powers. */
export function textOf(value: number): string {
  const plain = value.toLocaleString('en', { useGrouping: false, maximumSignificantDigits: 12 });
  return num(plain);
}

/** A field's text as a number; its fault where it is none. */
export function anyNumber(text: string): number | FieldFault {
  if (text.trim() === '') return 'missing';
  return typed(text) ?? 'number';
}

/** A number above zero. */
export function above(text: string): number | FieldFault {
  const value = anyNumber(text);
  return typeof value === 'number' && value <= 0 ? 'positive' : value;
}

/** A number of zero or more; empty is zero. */
export function notBelow(text: string): number | FieldFault {
  if (text.trim() === '') return 0;
  const value = anyNumber(text);
  return typeof value === 'number' && value < 0 ? 'out-of-range' : value;
}

/** A percentage as a share, 0 to 1. */
export function shareOf(text: string): number | FieldFault {
  const value = anyNumber(text);
  if (typeof value !== 'number') return value;
  return value < 0 || value > 100 ? 'percent' : Number((value / 100).toPrecision(12));
}

/** A share, 0 to 1, as the text of a percentage. */
export function percentOf(share: number): string {
  return textOf(Number((share * 100).toPrecision(12)));
}
