/** The conditions of a round while a person types them. */
import type { Amount, Conditions } from '../../engine/types';
import { num, said, t, typed } from '../../words';

/** A number as typed, with its unit's code. */
export interface TypedAmount {
  text: string;
  unit: string;
}

/** Conditions as typed; numbers are still text. */
export interface Input {
  gas: string;
  pressure: TypedAmount;
  ambient: TypedAmount;
  /** Empty text: not noted. */
  barometer: TypedAmount;
  solution: string;
  wetted: string;
  setup: string;
}

/** What to begin with: the last round's conditions, or blanks in common units. */
export function asInput(last: Conditions | undefined): Input {
  return {
    gas: last?.gas ?? 'air',
    pressure: asTyped(last?.pressure, 'kPa'),
    ambient: asTyped(last?.ambient, 'degC'),
    barometer: asTyped(last?.barometer, 'kPa'),
    solution: last?.solution ?? 'film',
    wetted: last?.wetted ?? 'after',
    setup: last?.setup ?? '',
  };
}

/** The conditions to write; null while a number is missing or cannot be read. */
export function complete(input: Input): Conditions | null {
  const pressure = asAmount(input.pressure);
  const ambient = asAmount(input.ambient);
  const barometer = input.barometer.text.trim() === '' ? undefined : asAmount(input.barometer);
  if (pressure === null || ambient === null || barometer === null) return null;
  const { gas, solution, wetted } = input;
  const conditions: Conditions = { gas, pressure, ambient, solution, wetted };
  if (barometer !== undefined) conditions.barometer = barometer;
  const setup = input.setup.trim();
  return setup === '' ? conditions : { ...conditions, setup };
}

/** Whether a typed number that is not empty cannot be read. */
export function unreadable(value: TypedAmount): boolean {
  return value.text.trim() !== '' && typed(value.text) === null;
}

/** Conditions in one line of words. */
export function describe(c: Conditions): string {
  const words = [said('gas', c.gas), t('round.gauge', { amount: amount(c.pressure) }), amount(c.ambient)];
  if (c.barometer) words.push(amount(c.barometer));
  words.push(said('solution', c.solution), said('wetted', c.wetted));
  if (c.setup) words.push(c.setup);
  return words.join(' · ');
}

/** An amount in words: "200 kPa". */
export function amount(value: Amount): string {
  return `${num(value.value)}\u00a0${said('unit', value.unit)}`;
}

function asTyped(value: Amount | undefined, unit: string): TypedAmount {
  return value === undefined ? { text: '', unit } : { text: num(value.value).replace('−', '-'), unit: value.unit };
}

function asAmount({ text, unit }: TypedAmount): Amount | null {
  const value = typed(text);
  return value === null ? null : { value, unit };
}
