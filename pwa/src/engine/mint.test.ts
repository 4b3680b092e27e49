import { expect, test } from 'vitest';
import { uuidv7 } from './mint';

test('an id is a UUIDv7 with the time in front', () => {
  // The time of the example in RFC 9562, appendix A.6.
  expect(uuidv7(0x017f22e279b0)).toMatch(/^017f22e2-79b0-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
});

test('ids do not repeat and do not run backwards by a millisecond', () => {
  const ids = Array.from({ length: 1000 }, () => uuidv7());
  expect(new Set(ids).size).toBe(1000);
  expect(uuidv7(1) < uuidv7(2)).toBe(true);
});
