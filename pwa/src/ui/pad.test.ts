import { expect, test } from 'vitest';
import { joined } from './NumberPad';

test('a number takes one decimal sign and no idle zeros', () => {
  expect(['1', '2', ',', '5', '.', '0'].reduce(joined, '')).toBe('12,50');
  expect(joined('', '.')).toBe('0.');
  expect(joined('0', '7')).toBe('7');
  expect(joined('0.', '0')).toBe('0.0');
});

test('a fraction has one bar, and something before it', () => {
  expect(['/', '3', '/', '1', '/', '6'].reduce(joined, '')).toBe('3/16');
});
