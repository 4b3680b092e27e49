import { beforeEach, expect, test, vi } from 'vitest';
import { clear, clearing, halfCleared, wanted } from './clearing';

let kept: Map<string, string>;

beforeEach(() => {
  kept = new Map();
  clearing.value = false;
  vi.stubGlobal('localStorage', {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => kept.set(key, value),
    removeItem: (key: string) => kept.delete(key),
  });
});

test('while a device is cleared that is known, also to a start that comes over it', async () => {
  let go = () => undefined as void;
  const done = clear(() => new Promise((taken) => (go = taken)));
  expect([clearing.value, halfCleared()]).toEqual([true, true]);
  go();
  await done;
  expect([clearing.value, halfCleared()]).toEqual([true, false]);
});

test('what could not be taken off is still to be taken off', async () => {
  await expect(clear(() => Promise.reject(new Error('held')))).rejects.toThrow('held');
  expect([clearing.value, halfCleared()]).toEqual([false, true]);
});

test('a device that is wanted again is not cleared at the next start', async () => {
  await clear(() => Promise.reject(new Error('held'))).catch(() => undefined);
  wanted();
  expect(halfCleared()).toBe(false);
});

test('where nothing can be remembered it is cleared all the same', async () => {
  vi.stubGlobal('localStorage', undefined);
  let taken = false;
  await clear(async () => void (taken = true));
  expect([taken, halfCleared()]).toEqual([true, false]);
});
