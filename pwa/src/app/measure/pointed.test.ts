import { expect, test } from 'vitest';
import { begun, following, moved, nearest, pointedOf, tapped, viewAround } from './pointed';

const picture = { hash: 'a'.repeat(64), bytes: 9, type: 'image/jpeg', width: 1600, height: 1200 };

test('the chosen corner moves, and stays in the picture', () => {
  const start = begun('card', picture);
  expect(moved(start, 10, -5, picture).marks[0]).toEqual({ x: 490, y: 355 });
  expect(moved(start, 10, -5, picture).marks[1]).toEqual(start.marks[1]);
  expect(moved(start, -9999, 9999, picture).marks[0]).toEqual({ x: 0, y: 1200 });
});

test('a tapped bubble has six points around it, one after the other', () => {
  const rim = tapped(begun('card', picture), { x: 800, y: 600 }, 40, picture);
  expect(rim.rim).toHaveLength(6);
  expect(rim.rim[3]).toEqual({ x: 760, y: 600 });
  expect([1, 2, 3, 4, 5, 6].reduce(following, rim).chosen).toBe(0);
  expect(nearest(rim, { x: 765, y: 601 })).toBe(3);
  expect(moved(rim, 1, 0, picture).marks).toEqual(rim.marks);
});

test('what is in sight never leaves the picture', () => {
  expect(viewAround({ x: 800, y: 600 }, 4, picture)).toEqual({ x: 600, y: 450, width: 400, height: 300 });
  expect(viewAround({ x: 10, y: 1199 }, 4, picture)).toEqual({ x: 0, y: 900, width: 400, height: 300 });
});

test('a record keeps the scale that was chosen, and nothing before the bubble was tapped', () => {
  const start = begun('card', picture);
  expect(pointedOf(start, picture, undefined)).toBeNull();
  const done = tapped(start, { x: 800, y: 600 }, 40, picture);
  expect(pointedOf(done, picture, undefined)).toMatchObject({ width: 1600, long: { value: 85.6, unit: 'mm' }, short: { value: 53.98, unit: 'mm' } });
  const tube = { value: 6, unit: 'mm' };
  expect(pointedOf({ ...done, scale: 'tube' }, picture, tube)).toEqual({ hash: picture.hash, width: 1600, height: 1200, marks: done.marks, rim: done.rim, tube });
  expect(pointedOf({ ...done, scale: 'tube' }, picture, undefined)).toBeNull();
});
