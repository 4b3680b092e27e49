import { describe, expect, it } from 'vitest';
import { type Eye, watch } from './watch';

/** An eye that sees the given pictures one after the other, then is told to stop. */
function eye(pictures: (string[] | Error | null)[], stop: AbortController): Eye {
  let at = -1;
  return {
    ready: () => pictures[++at] !== null,
    read: () => {
      const seen = pictures[at];
      return seen instanceof Error ? Promise.reject(seen) : Promise.resolve(seen ?? []);
    },
    wait: () => {
      if (at >= pictures.length - 1) stop.abort();
      return Promise.resolve();
    },
  };
}

async function texts(pictures: (string[] | Error | null)[]): Promise<{ found: string[]; broken: unknown[] }> {
  const stop = new AbortController();
  const found: string[] = [];
  const broken: unknown[] = [];
  await watch(eye(pictures, stop), stop.signal, (text) => found.push(text), (fault) => broken.push(fault));
  return { found, broken };
}

describe('watching a live picture', () => {
  it('says a text once however long it stays in view', async () => {
    expect((await texts([['A'], ['A'], [], ['A']])).found).toEqual(['A']);
  });

  it('says another text at once', async () => {
    expect((await texts([['A'], ['B', 'A'], ['A']])).found).toEqual(['A', 'B', 'A']);
  });

  it('waits for a camera that has no picture yet', async () => {
    expect((await texts([null, null, ['A']])).found).toEqual(['A']);
  });

  it('stops and says so when the reader cannot read', async () => {
    const fault = new Error('no wasm');
    expect(await texts([[], fault, ['A']])).toEqual({ found: [], broken: [fault] });
  });

  it('says nothing of a picture that was read while it was told to stop', async () => {
    const stop = new AbortController();
    const found: string[] = [];
    const slow: Eye = {
      ready: () => true,
      read: () => {
        stop.abort();
        return Promise.resolve(['A']);
      },
      wait: () => Promise.resolve(),
    };
    await watch(slow, stop.signal, (text) => found.push(text), () => undefined);
    expect(found).toEqual([]);
  });
});
