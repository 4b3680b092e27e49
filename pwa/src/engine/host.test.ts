import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Host } from './host';
import { type Message, type Report, type Request, stuck } from './protocol';

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
let mute: boolean;

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
  mute = false;
  const make = (hear: Made['hear'], died: Made['died']) => {
    const made: Made = { sent: [], ended: false, hear, died };
    workers.push(made);
    if (!mute) setTimeout(() => hear({ up: true }), 100);
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

test('where another tab said that it has the files before this one began, no worker tries to take them', () => {
  const make = vi.fn(() => ({ post: () => undefined, end: () => undefined }));
  const late = new Host(make, { report: (report) => reports.push(report), changed: () => changes++ });
  late.leave();
  late.begin();
  expect(make).not.toHaveBeenCalled();
  late.open();
  expect(make).toHaveBeenCalledOnce();
  expect(reports.at(-1)?.storage).toBe('elsewhere');
});

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

test('the first worker changes no answers; one that takes its place may', () => {
  const kept = { report: { storage: 'kept' } as Report };
  worker(0).hear(kept);
  worker(0).hear(kept);
  expect(changes).toBe(0);
  worker(0).died('gone');
  worker(1).hear(kept);
  worker(1).hear(kept);
  expect(changes).toBe(1);
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

test('a draft, a picture on their way count as being written, a question does not', () => {
  void host.ask('ask', question).catch(() => undefined);
  expect(host.writing()).toBe(false);
  void host.ask('keep', { key: 'leak', value: 1 }).catch(() => undefined);
  expect(host.writing()).toBe(true);
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

test('a worker that never comes up is started anew with what stands asked, and given twice as long each time', async () => {
  mute = true;
  host.open();
  const asked = host.ask('ask', question);
  vi.advanceTimersByTime(2_900);
  expect(workers).toHaveLength(2);
  vi.advanceTimersByTime(200);
  expect(worker(1).ended).toBe(true);
  expect(worker(2).sent).toEqual(worker(1).sent);
  vi.advanceTimersByTime(5_700);
  expect(workers).toHaveLength(3);
  vi.advanceTimersByTime(200);
  expect(workers).toHaveLength(4);
  worker(3).hear({ up: true });
  vi.advanceTimersByTime(14_000);
  worker(3).hear({ id: 1, answer: 'whole' });
  expect(await asked).toBe('whole');
  expect(workers).toHaveLength(4);
});

test('a tab that has left starts no worker for one that never came up', () => {
  mute = true;
  host.open();
  host.leave();
  vi.advanceTimersByTime(600_000);
  expect(workers).toHaveLength(2);
});

test('a worker that answers pings is left alone, however long it takes', () => {
  void host.ask('sync', { asked: false });
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
  const asked = host.ask('sync', { asked: false });
  for (let n = 0; n < 6; n++) worker(n).died('panic');
  await expect(asked).rejects.toMatchObject({ code: 'engine-broken' });
  expect(workers).toHaveLength(6);
  expect(reports.at(-1)).toMatchObject({ storage: 'broken', problem: 'panic' });
});

test('where another tab has the files the worker is ended and what is asked is refused', async () => {
  const before = host.ask('ask', question);
  worker(0).hear({ report: stuck('elsewhere', 'elsewhere') });
  await expect(before).rejects.toMatchObject({ code: 'elsewhere' });
  await expect(host.ask('draft', { key: 'a' })).rejects.toMatchObject({ code: 'elsewhere' });
  expect(worker(0).ended).toBe(true);
  expect(reports).toMatchObject([{ storage: 'elsewhere' }]);
  vi.advanceTimersByTime(600_000);
  expect(workers).toHaveLength(1);
});

test('a tab that takes the files over begins with a worker of its own and with nothing asked before', () => {
  host.ask('ask', question).catch(() => undefined);
  host.leave();
  host.leave();
  host.open();
  void host.ask('here', null);
  expect(worker(1).sent.map(({ name }) => name)).toEqual(['here']);
  expect(reports).toHaveLength(1);
});

test('letting go waits until what was asked before is done, and ends the worker only then', async () => {
  const write = host.ask('write', { drafts: [], ids: ['e1'], zone: 'UTC' });
  const gone = host.letGo();
  expect(worker(0).sent.map(({ name }) => name)).toEqual(['write', 'close']);
  expect(worker(0).ended).toBe(false);
  worker(0).hear({ id: 1, answer: [] });
  worker(0).hear({ id: 2, answer: null });
  await gone;
  expect(await write).toEqual([]);
  expect(worker(0).ended).toBe(true);
  expect(reports.at(-1)?.storage).toBe('elsewhere');
});

test('a worker that never closes its files is ended all the same', async () => {
  const gone = host.letGo();
  await vi.advanceTimersByTimeAsync(2_100);
  await gone;
  expect(worker(0).ended).toBe(true);
});

test('files that answer let the worker be', async () => {
  const checked = host.check();
  worker(0).hear({ id: 1, answer: null });
  await checked;
  vi.advanceTimersByTime(60_000);
  expect(workers).toHaveLength(1);
  expect(host.restarts).toBe(0);
});

test('files whose handles died start the worker anew, with what stands asked', async () => {
  const checked = host.check();
  const asked = host.ask('ask', question);
  worker(0).hear({ id: 1, fault: { code: 'storage-broken' } });
  await checked;
  expect(worker(0).ended).toBe(true);
  expect(host.restarts).toBe(1);
  expect(worker(1).sent.map(({ name }) => name)).toEqual(['ask']);
  worker(1).hear({ id: 2, answer: 'whole' });
  expect(await asked).toBe('whole');
});

test('a worker that says nothing for two seconds of a check is ended, and only that one', async () => {
  const checked = host.check();
  await vi.advanceTimersByTimeAsync(1_900);
  expect(worker(0).ended).toBe(false);
  await vi.advanceTimersByTimeAsync(200);
  await checked;
  expect(worker(0).ended).toBe(true);
  expect(worker(1).ended).toBe(false);
});

test('a check that a take-over cuts short starts nothing', async () => {
  const checked = host.check();
  host.leave();
  await checked;
  expect(workers).toHaveLength(1);
});

test('a phone that slept is not taken for a silent worker', () => {
  void host.ask('ask', question);
  vi.setSystemTime(Date.now() + 3_600_000);
  void host.check();
  vi.advanceTimersByTime(1_000);
  expect(worker(0).ended).toBe(false);
});

test('deaths far apart do not add up', () => {
  for (let n = 0; n < 8; n++) {
    worker(n).died('panic');
    vi.advanceTimersByTime(120_000);
  }
  expect(workers).toHaveLength(9);
  expect(reports).toEqual([]);
});
