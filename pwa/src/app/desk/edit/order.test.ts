import { describe, expect, it } from 'vitest';
import { last, moved } from './order';

const list = [1, 2, 3, 4].map((order) => ({ order }));

/** The list after a move, in place order, as the places it began with. */
function after(at: number, step: -1 | 1): number[] {
  const order = moved(list, at, step);
  return list
    .map((one, i) => ({ was: one.order, order: i === at && order !== null ? order : one.order }))
    .sort((a, b) => a.order - b.order)
    .map(({ was }) => was);
}

describe('the place of a joint', () => {
  it('moves one step up or down', () => {
    expect(after(2, -1)).toEqual([1, 3, 2, 4]);
    expect(after(1, 1)).toEqual([1, 3, 2, 4]);
    expect(after(1, -1)).toEqual([2, 1, 3, 4]);
    expect(after(2, 1)).toEqual([1, 2, 4, 3]);
  });

  it('stays at the ends', () => {
    expect(moved(list, 0, -1)).toBeNull();
    expect(moved(list, 3, 1)).toBeNull();
    expect(moved([], 0, 1)).toBeNull();
  });

  it('is behind the last for a new one', () => {
    expect(last(list)).toBe(5);
    expect(last([])).toBe(1);
  });
});
