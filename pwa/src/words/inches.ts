/** Lengths in inches as people type and say them: in fractions. */
import { typed } from './number';

const fraction = /^(?:(\d{1,4}) *[ -])?(\d{1,4})\/(\d{1,4})$/;

/** The finest that rulers are marked in. */
const finest = 64;

/** A length as typed in a unit; fractions of an inch are read as the engine reads them. Null where it is none. */
export function typedLength(text: string, unit: string): number | null {
  const parts = unit === 'in' ? fraction.exec(text.trim()) : null;
  if (parts === null) return typed(text);
  const [, whole = '0', over, under] = parts;
  return Number(under) === 0 ? null : Number(whole) + Number(over) / Number(under);
}

/** The text of a length: inches that are whole 64ths as a fraction, "1 1/2", all else as a number. */
export function lengthText(value: number, unit: string): string {
  const parts = value * finest;
  if (unit !== 'in' || !Number.isInteger(parts) || Number.isInteger(value)) return String(value);
  let [over, under] = [parts % finest, finest];
  while (over % 2 === 0) [over, under] = [over / 2, under / 2];
  const whole = Math.floor(value);
  return `${whole > 0 ? `${whole} ` : ''}${over}/${under}`;
}
