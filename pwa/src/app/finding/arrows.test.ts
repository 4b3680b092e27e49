import { expect, test } from 'vitest';
import { arrowOf, nudged } from './arrows';
import { spotIn } from './spot';

const box = { left: 100, top: 50, width: 200, height: 400 } as DOMRect;

test('a place on the screen is a part of the picture, and never outside of it', () => {
  expect(spotIn(box, 150, 150)).toEqual({ x: 0.25, y: 0.25 });
  expect(spotIn(box, 90, 999)).toEqual({ x: 0, y: 1 });
});

test('a stroke points at its end', () => {
  expect(arrowOf({ x: 0.1, y: 0.2 }, { x: 0.5, y: 0.6 })).toEqual({ fromX: 0.1, fromY: 0.2, x: 0.5, y: 0.6 });
});

test('a tap gives an arrow whose tail stays in the picture', () => {
  for (const at of [0, 0.3, 0.5, 0.51, 1]) {
    const arrow = arrowOf({ x: at, y: at }, { x: at, y: at + 0.01 });
    expect([arrow.x, arrow.y]).toEqual([at, at + 0.01]);
    expect(Math.abs(arrow.fromX - arrow.x)).toBeCloseTo(0.18);
    expect(arrow.fromX).toBeGreaterThanOrEqual(0);
    expect(arrow.fromX).toBeLessThanOrEqual(1);
  }
});

test('keys move the last arrow only, and not out of the picture', () => {
  const first = arrowOf({ x: 0, y: 0 }, { x: 0.5, y: 0.5 });
  const last = arrowOf({ x: 0.2, y: 0.2 }, { x: 0.99, y: 0.5 });
  expect(nudged([first, last], 0.02, 0)).toEqual([first, { fromX: 0.22, fromY: 0.2, x: 1, y: 0.5 }]);
  expect(nudged([], 1, 1)).toEqual([]);
});
