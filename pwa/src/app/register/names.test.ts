import { expect, test } from 'vitest';
import { after, firstOf, free } from './names';

test('names step as people count', () => {
  expect(after('Clamp 1')).toBe('Clamp 2');
  expect(after('V09')).toBe('V10');
  expect(after('Nut 3.9')).toBe('Nut 3.10');
  expect(after('Port')).toBe('Port 2');
  expect(after('99999999999999999999')).toBe('100000000000000000000');
});

test('a name that is taken is stepped over', () => {
  expect(free('Nut 1', ['Nut 1', 'Nut 2', 'Nut 4'])).toBe('Nut 3');
  expect(free('Port', ['Port', 'Port 2'])).toBe('Port 3');
  expect(free('Nut 1', [])).toBe('Nut 1');
});

test('the first of a kind', () => {
  expect(firstOf('hose barb')).toBe('Hose barb 1');
  expect(firstOf('énchufe')).toBe('Énchufe 1');
});
