import { expect, test } from 'vitest';
import { moved, stepOf, within } from './spot';

test('a length stays between nothing and the most, to the parts that are asked for', () => {
  expect([within(-3, 10, 10), within(12.34, 10, 10), within(7.26, 10, 10), within(0.33333, 1, 1e4)]).toEqual([0, 10, 7.3, 0.3333]);
});

test('an arrow key moves to its side and no further than the edge; other keys move nothing', () => {
  const steps = ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'Enter'].map((key) => stepOf(key, 0.02));
  expect(steps).toEqual([[-0.02, 0], [0.02, 0], [0, -0.02], [0, 0.02], undefined]);
  expect(moved({ x: 0.01, y: 0.5 }, ...stepOf('ArrowLeft', 0.02)!)).toEqual({ x: 0, y: 0.5 });
});
