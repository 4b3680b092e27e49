import { expect, test } from 'vitest';
import { oneFinger, steady } from './steady';

test('of presses within 80 ms the first counts', () => {
  const through = steady();
  const seen: number[] = [];
  for (const at of [1000, 1030, 1079, 1080, 1159, 1161]) through(at, () => seen.push(at));
  expect(seen).toEqual([1000, 1080, 1161]);
});

test('of two fingers on the glass the first one presses, whichever is lifted first', () => {
  for (const order of [[7, 8], [8, 7]]) {
    const finger = oneFinger();
    finger.down({ pointerId: 7, isPrimary: true });
    finger.down({ pointerId: 8, isPrimary: false });
    const pressed = order.filter((pointerId) => {
      finger.up({ pointerId });
      return finger.counts();
    });
    expect(pressed).toEqual([7]);
  }
});

test('a key presses after a second finger was left out, and so does the next finger', () => {
  const finger = oneFinger();
  finger.down({ pointerId: 7, isPrimary: true });
  finger.down({ pointerId: 8, isPrimary: false });
  finger.up({ pointerId: 8 });
  expect([finger.counts(), finger.counts()]).toEqual([false, true]);
  finger.down({ pointerId: 9, isPrimary: true });
  finger.up({ pointerId: 9 });
  expect(finger.counts()).toBe(true);
});
