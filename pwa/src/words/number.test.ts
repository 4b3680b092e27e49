import { expect, test } from 'vitest';
import { isNumber, room, typed, written } from './number';

test('Spanish writes a decimal comma, English a point', () => {
  expect(written('0.345', 'es')).toBe('0,345');
  expect(written('0.345', 'en')).toBe('0.345');
  expect(written(-2.5, 'es')).toBe('−2,5');
  expect(written('7.44e-7', 'es')).toBe('7,44·10^-7');
});

test('a text that is no number stays as it is', () => {
  expect(written('Clamp 3.1 rear', 'es')).toBe('Clamp 3.1 rear');
  expect(isNumber('1.2.3')).toBe(false);
});

test('a comma and a dot are both decimals, and grouping is none', () => {
  expect(typed('2,5')).toBe(2.5);
  expect(typed('2.5')).toBe(2.5);
  expect(typed(' .5')).toBe(0.5);
  expect(typed('-40')).toBe(-40);
  expect(typed('1.000,5')).toBeNull();
  expect(typed('')).toBeNull();
  expect(typed('0x10')).toBeNull();
});

test('room is told in the unit that fits it', () => {
  expect([0, 340_000, 12_345_678, 1_300_000_000, 2_000_000_000_000].map((bytes) => room(bytes, 'en'))).toEqual([
    '0 kB', '340 kB', '12.3 MB', '1.3 GB', '2000 GB',
  ]);
  expect(room(1_300_000_000, 'es')).toBe('1,3 GB');
});
