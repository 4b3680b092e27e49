import { expect, test, vi } from 'vitest';
import { olderOf } from './older';

/** A body in pieces; after the last one it goes on as `then` says. */
function answering(pieces: Uint8Array[], then: 'ends' | 'breaks' | 'waits'): void {
  vi.stubGlobal('fetch', async (_: string, { signal }: RequestInit) => {
    return new Response(
      new ReadableStream({
        start: (stream) => signal?.addEventListener('abort', () => stream.error(signal.reason)),
        pull: (stream) => {
          const next = pieces.shift();
          if (next) stream.enqueue(next);
          else if (then === 'ends') stream.close();
          else if (then === 'breaks') stream.error(new TypeError('reset'));
          return next || then !== 'waits' ? undefined : new Promise(() => undefined);
        },
      }),
    );
  });
}

const going = () => {
  const said: number[] = [];
  const by = new AbortController();
  return { said, by, progress: { told: (n: number) => said.push(n), stop: by.signal } };
};

test('it is told by events, and a letter that two pieces share stays whole', async () => {
  const whole = '{"note":"é"}\n{"n":1}\n{"e":2}\n{"n":2}\n';
  const bytes = new TextEncoder().encode(whole);
  const middle = bytes.indexOf(0xc3) + 1; // of the é
  answering([bytes.slice(0, middle), bytes.slice(middle)], 'ends');
  const { said, progress } = going();
  expect(await olderOf('f', progress)).toBe(whole);
  expect(said).toEqual([0, 2]);
});

const line = new TextEncoder().encode('{}\n');

test('a stop is told from a connection that broke', async () => {
  answering([line, line], 'breaks');
  await expect(olderOf('f', going().progress)).rejects.toMatchObject({ code: 'offline' });
  answering([line, line, line], 'waits');
  const { said, by, progress } = going();
  const asked = olderOf('f', progress);
  await vi.waitFor(() => expect(said).toEqual([0, 1, 1]));
  by.abort();
  await expect(asked).rejects.toMatchObject({ code: 'stopped' });
});
