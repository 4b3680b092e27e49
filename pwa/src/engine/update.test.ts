import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Drafts } from './drafts';

let drafts: Drafts;
let reloads: number;
let posted: unknown[];
let owed: boolean;
let takenOver: () => void;
let activated: () => void;
let holds: boolean;
let heard: () => void;
let update: typeof import('./update');

const waiting = {
  state: 'installed',
  postMessage: (message: unknown) => posted.push(message),
  addEventListener: (_: string, hear: () => void) => (activated = hear),
};

beforeEach(async () => {
  vi.useFakeTimers();
  vi.resetModules();
  drafts = new Drafts(() => Promise.resolve());
  reloads = 0;
  posted = [];
  owed = false;
  holds = true;
  waiting.state = 'installed';
  const registration = { waiting, active: {}, addEventListener: () => undefined };
  vi.stubGlobal('location', { reload: () => reloads++ });
  vi.stubGlobal('navigator', {
    serviceWorker: { addEventListener: (_: string, hear: () => void) => (takenOver = hear), register: () => Promise.resolve(registration) },
  });
  update = await import('./update');
  const heldElsewhere = () => new Promise<void>((go) => (heard = go));
  update.keepApp({ writing: () => owed, drafting: () => drafts.open.value.size > 0, holds: () => holds, heldElsewhere });
  await vi.advanceTimersByTimeAsync(0);
});

afterEach(() => {
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

test('a newer version waits until the person wants it', async () => {
  expect(update.update.value).toBe(true);
  await vi.advanceTimersByTimeAsync(60_000);
  expect(posted).toEqual([]);
  await update.takeUpdate();
  expect(posted).toEqual([{ type: 'SKIP_WAITING' }]);
});

test('with a draft open it is not taken', async () => {
  drafts.begun('leak');
  await update.takeUpdate();
  expect(posted).toEqual([]);
  drafts.left('leak');
  await update.takeUpdate();
  expect(posted).toHaveLength(1);
});

test('what is on its way into the files is waited for', async () => {
  owed = true;
  void update.takeUpdate();
  await vi.advanceTimersByTimeAsync(1000);
  expect(posted).toEqual([]);
  owed = false;
  await vi.advanceTimersByTimeAsync(100);
  expect(posted).toHaveLength(1);
  waiting.state = 'activated';
  activated();
  await vi.advanceTimersByTimeAsync(100);
  expect(reloads).toBe(1);
});

test('taken in another tab, this one loads anew only once its draft was left', async () => {
  drafts.begun('leak');
  takenOver();
  await vi.advanceTimersByTimeAsync(60_000);
  expect(reloads).toBe(0);
  drafts.forget('leak');
  await vi.advanceTimersByTimeAsync(100);
  expect(reloads).toBe(1);
});

test('a tab without the records loads anew once the one with them has them again, or after a while', async () => {
  holds = false;
  takenOver();
  await vi.advanceTimersByTimeAsync(8_000);
  expect(reloads).toBe(0);
  heard();
  await vi.advanceTimersByTimeAsync(100);
  expect(reloads).toBe(1);
  takenOver();
  await vi.advanceTimersByTimeAsync(10_100);
  expect(reloads).toBe(2);
});
