import { expect, test } from 'vitest';
import { clockOff, timeOf, who } from './stamp';

const stamp = { by: 'p', name: 'Ann', time: 'noon' };

test('a clock that was right, or nearly, is not spoken of', () => {
  expect(clockOff(stamp)).toBe('');
  expect(timeOf(stamp)).toBe('noon');
  expect(who(stamp)).toBe('Ann · noon');
  expect(who({ ...stamp, name: '' })).toBe('noon');
});

test('a clock that was far off is said, with the way it was off', () => {
  expect(timeOf({ ...stamp, clockOff: 12 })).toBe('noon (its clock was 12 minutes ahead)');
  expect(timeOf({ ...stamp, clockOff: -2880 })).toBe('noon (its clock was 2 days behind)');
});
