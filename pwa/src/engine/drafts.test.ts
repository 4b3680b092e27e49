import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Drafts } from './drafts';
import { cameDown, untilDrawn } from './finger';

let stored: [string, unknown][];
let drafts: Drafts;

beforeEach(() => {
  vi.useFakeTimers();
  stored = [];
  drafts = new Drafts(async (key, value) => stored.push([key, value]));
});

afterEach(() => {
  vi.useRealTimers();
});

test('changes of a moment become one, the last', () => {
  for (const count of ['1', '12', '123']) drafts.keep('leak', { count });
  expect(stored).toEqual([]);
  vi.advanceTimersByTime(1000);
  expect(stored).toEqual([['leak', { count: '123' }]]);
});

test('typing without a pause is kept within a second all the same', () => {
  for (let n = 0; n < 20; n++) {
    drafts.keep('leak', n);
    vi.advanceTimersByTime(100);
  }
  expect(stored.length).toBeGreaterThanOrEqual(3);
});

test('what a thumb pressed meanwhile is drawn first, but it waits only once', () => {
  drafts.keep('leak', 'a');
  vi.advanceTimersByTime(390);
  cameDown(performance.now());
  expect(untilDrawn()).toBe(150);
  vi.advanceTimersByTime(140);
  expect(untilDrawn()).toBe(10);
  cameDown(performance.now());
  expect(stored).toEqual([]);
  vi.advanceTimersByTime(11);
  expect(stored).toEqual([['leak', 'a']]);
});

test('what waits can be read, and forgotten', () => {
  drafts.keep('leak', 'a');
  expect(drafts.waiting('leak')).toBe('a');
  drafts.forget('leak');
  vi.advanceTimersByTime(1000);
  expect(drafts.waiting('leak')).toBeUndefined();
  expect(stored).toEqual([]);
});

test('a page that goes hands everything over at once', () => {
  drafts.keep('a', 1);
  drafts.keep('b', 2);
  drafts.flush();
  expect(stored).toEqual([
    ['a', 1],
    ['b', 2],
  ]);
});

test('a draft that the engine refuses troubles nobody', async () => {
  const refusing = new Drafts(() => Promise.reject(new Error('storage-full')));
  refusing.keep('a', 1);
  refusing.flush();
  await vi.runAllTimersAsync();
});
