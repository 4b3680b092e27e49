import { expect, test } from 'vitest';
import { clockOff, nameOf, timeOf, who } from './stamp';

const stamp = { by: 'p', name: 'Ann', time: 'noon' };

test('a clock that was right, or nearly, is not spoken of', () => {
  expect(clockOff(stamp)).toBe('');
  expect(timeOf(stamp)).toBe('noon');
  expect(who(stamp)).toBe('Ann · noon');
});

test('somebody whose name was erased is told apart by the end of the id; nobody is nobody', () => {
  const by = '01a219db-9a71-791f-96cc-1c7e9ba698cf';
  expect(nameOf({ ...stamp, by, name: '' })).toBe('a person without a name (98cf)');
  expect(who({ ...stamp, by, name: '' })).toBe('a person without a name (98cf) · noon');
  expect(who({ ...stamp, by: '', name: '' })).toBe('noon');
});

test('a clock that was far off is said, with the way it was off', () => {
  expect(timeOf({ ...stamp, clockOff: 12 })).toBe('noon (its clock was 12 minutes ahead)');
  expect(timeOf({ ...stamp, clockOff: -2880 })).toBe('noon (its clock was 2 days behind)');
});
