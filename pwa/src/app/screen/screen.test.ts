import { expect, test } from 'vitest';
import { guess, known, least, most, read, scaleOn, within } from './screen';

const shown = { ratio: 3, long: 844 };
const fit = { perMm: 6.05, ...shown };

test('a fit holds for the screen and the zoom that it was made for', () => {
  expect(scaleOn(fit, shown)).toBe(6.05);
  expect(scaleOn(fit, { ...shown, ratio: 3.3 })).toBeNull();
  expect(scaleOn(fit, { ...shown, ratio: 1.5 })).toBeNull();
  expect(scaleOn(fit, { ...shown, long: 1920 })).toBeNull();
  expect(scaleOn(null, shown)).toBeNull();
});

test('what was kept is read again, anything else is no fit', () => {
  expect(read(JSON.stringify(fit))).toEqual(fit);
  for (const text of [null, '', '{', '6', 'null', '[]', JSON.stringify({ ...fit, perMm: 0 }), JSON.stringify({ ...fit, long: 'x' })]) {
    expect(read(text)).toBeNull();
  }
});

test('scales stay within what screens have; a card and the coins fit at its ends', () => {
  expect([within(1), within(99), within(6.044999), within(6.05)]).toEqual([least, most, 6.04, 6.05]);
  expect(guess(shown)).toBe(6);
  expect(known.card * most).toBeLessThan(500);
});
