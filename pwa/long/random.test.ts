import { expect, test } from 'vitest';
import { chances } from './random';

test('the same seed gives the same chances, another seed others', () => {
  const some = (seed: number) => Array.from({ length: 5 }, chances(seed));
  expect(some(7)).toEqual(some(7));
  expect(some(7)).not.toEqual(some(8));
});

test('chances fill the range from 0 up to 1 evenly', () => {
  const next = chances(1);
  const tenths = new Array<number>(10).fill(0);
  for (let n = 0; n < 10_000; n++) {
    const tenth = Math.floor(next() * 10);
    tenths[tenth] = (tenths[tenth] ?? Number.NaN) + 1;
  }
  for (const n of tenths) expect(Math.abs(n - 1000)).toBeLessThan(150); // five standard deviations
});
