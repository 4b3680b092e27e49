import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Host } from './host';
import type { Message, Report, Request } from './protocol';

interface Made {
  sent: Request[];
  ended: boolean;
  hear: (message: Message) => void;
  died: (why: string) => void;
}

let workers: Made[];
let reports: Report[];
let changes: number;
let host: Host;

const worker = (n: number): Made => {
  const made = workers[n];
  if (!made) throw new Error(`no worker ${n}`);
  return made;
};

beforeEach(() => {
  vi.useFakeTimers();
  workers = [];
  reports = [];
  changes = 0;
  const make = (hear: Made['hear'], died: Made['died']) => {
    const made: Made = { sent: [], ended: false, hear, died };
    workers.push(made);
    return {
      post: (request: Request) => made.sent.push(request),
      end: () => {
        made.ended = true;
      },
    };
  };
  host = new Host(make, { report: (report) => reports.push(report), changed: () => changes++ });
  host.begin();
});

afterEach(() => {
  vi.useRealTimers();
});

const question = { question: 'home', args: {} } as const;

test('an answer goes to who asked', async () => {
  const one = host.ask('ask', question);
  const two = host.ask('draft', { key: 'a' });
  worker(0).hear({ id: worker(0).sent[1]?.id ?? -1, answer: 'second' });
  worker(0).hear({ id: worker(0).sent[0]?.id ?? -1, answer: 'first' });
  expect(await one).toBe('first');
  expect(await two).toBe('second');
});

test('a fault rejects with its code and field', async () => {
  const asked = host.ask('ask', question);
  worker(0).hear({ id: 1, fault: { code: 'bad-question', field: 'id' } });
  await expect(asked).rejects.toMatchObject({ code: 'bad-question', field: 'id' });
});

test('news of status and change are passed on', () => {
  worker(0).hear({ changed: true });
  worker(0).hear({ report: { storage: 'kept' } as Report });
  expect(changes).toBe(1);
  expect(reports[0]?.storage).toBe('kept');
});

test('a dead worker is terminated before the next starts, and what it owed is asked again, the same', async () => {
  const kept = host.ask('write', { drafts: [], ids: ['e1'], zone: 'UTC' });
  expect(host.writing()).toBe(true);
  worker(0).hear({ dead: 'exit 2' });
  expect(worker(0).ended).toBe(true);
  expect(worker(1).sent).toEqual(worker(0).sent);
  worker(1).hear({ id: 1, answer: [] });
  expect(await kept).toEqual([]);
  expect(host.writing()).toBe(false);
});

test('what a dead worker still says is not heard', async () => {
  void host.ask('ask', question);
  worker(0).hear({ dead: 'exit 2' });
  worker(0).hear({ report: { storage: 'full' } as Report });
  worker(0).died('again');
  expect(reports).toEqual([]);
  expect(workers).toHaveLength(2);
});

test('a silent worker is pinged, then replaced', () => {
  void host.ask('ask', question);
  vi.advanceTimersByTime(11_000);
  expect(worker(0).sent.map(({ name }) => name)).toContain('ping');
  expect(worker(0).ended).toBe(false);
  vi.advanceTimersByTime(11_000);
  expect(worker(0).ended).toBe(true);
  expect(worker(1).sent[0]?.name).toBe('ask');
});

test('a worker that answers pings is left alone, however long it takes', () => {
  void host.ask('sync', null);
  for (let n = 0; n < 12; n++) {
    vi.advanceTimersByTime(5_000);
    worker(0).hear({ id: 0, answer: null });
  }
  expect(workers).toHaveLength(1);
});

test('with nothing asked a silent worker is left alone', () => {
  vi.advanceTimersByTime(600_000);
  expect(workers).toHaveLength(1);
});

test('a request that kills the worker twice is refused, and the others go on', async () => {
  const poison = host.ask('ask', question);
  const other = host.ask('draft', { key: 'a' });
  worker(0).died('panic');
  worker(1).died('panic');
  await expect(poison).rejects.toMatchObject({ code: 'engine-broken' });
  expect(worker(2).sent.map(({ name }) => name)).toEqual(['draft']);
  worker(2).hear({ id: 2, answer: 'kept' });
  expect(await other).toBe('kept');
});

test('an engine that keeps dying is given up, and said to be broken', async () => {
  const asked = host.ask('sync', null);
  for (let n = 0; n < 6; n++) worker(n).died('panic');
  await expect(asked).rejects.toMatchObject({ code: 'engine-broken' });
  expect(workers).toHaveLength(6);
  expect(reports.at(-1)).toMatchObject({ storage: 'broken', problem: 'panic' });
});

test('a tab that may take the files starts anew with all that is asked', () => {
  void host.ask('ask', question);
  worker(0).hear({ moved: true });
  expect(worker(0).ended).toBe(true);
  expect(worker(1).sent).toEqual(worker(0).sent);
});

test('deaths far apart do not add up', () => {
  for (let n = 0; n < 8; n++) {
    worker(n).died('panic');
    vi.advanceTimersByTime(120_000);
  }
  expect(workers).toHaveLength(9);
  expect(reports).toEqual([]);
});
