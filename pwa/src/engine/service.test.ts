import { beforeEach, expect, test, vi } from 'vitest';
import type { Link } from '../link/link';
import type { Door } from './door';
import { Fault } from './fault';
import type { Message, Report, Request } from './protocol';
import { Service } from './service';

let unsent: number;
let full: boolean;
let problem: string | undefined;
let said: Message[];
let sending: Promise<void>;
let sends: number;
let broken: boolean;
let checks: number;
let me: unknown;
let lists: unknown[];

const place = { id: 'e1', of: 'o1', fixture: 'f1', log: 'l1', seq: 1 };

const door = {
  standing: () => ({ unsent, unsentPictures: 0, asides: 0, damage: 0, lost: 0, me, reach: 'unknown', signedOut: false, ...(problem && { problem }) }),
  ask: (question: string) => {
    if (question !== 'home') throw new Fault('unknown-question', question);
    return { sites: [] };
  },
  write: () => {
    if (full) throw new Fault('storage-full');
    unsent++;
    return { written: [place] };
  },
  keepPicture: () => {
    if (full) throw new Fault('storage-full');
    return { hash: 'h', bytes: 3 };
  },
  check: () => {
    checks++;
    if (broken) throw new Fault('storage-broken');
  },
} as unknown as Door;

const link = {
  sync: () => Promise.resolve(),
  send: () => {
    sends++;
    return sending;
  },
} as unknown as Link;

beforeEach(() => {
  unsent = 0;
  full = false;
  problem = undefined;
  said = [];
  sends = 0;
  broken = false;
  checks = 0;
  me = null;
  lists = [];
  sending = Promise.resolve();
});

function service(storage: 'kept' | 'memory' = 'kept'): Service {
  const made = new Service(door, storage, (message) => said.push(message), () => undefined, () => undefined, (home) => lists.push(home));
  made.begin(link);
  said = [];
  return made;
}

async function put(made: Service, request: Omit<Request, 'id'>): Promise<Message> {
  return new Promise((reply) => void made.take({ id: 7, ...request } as Request, reply));
}

const write: Omit<Request, 'id'> = { name: 'write', args: { drafts: [], ids: ['e1'], zone: 'UTC' } };
const reports = (): Report[] => said.flatMap((message) => ('report' in message ? [message.report] : []));

test('an answer and a fault both come back under the id', async () => {
  const made = service();
  expect(await put(made, { name: 'ask', args: { question: 'home', args: {} } })).toEqual({ id: 7, answer: { sites: [] } });
  const odd = { name: 'ask', args: { question: 'weather' as 'home', args: {} } } as const;
  expect(await put(made, odd)).toEqual({ id: 7, fault: { code: 'unknown-question', field: 'weather' } });
});

test('the list is kept as it is told, and forgotten when the device is another’s or has other sites', async () => {
  const holds = (person: string, ...sites: string[]) => ({ person: { id: person }, sites: sites.map((id) => ({ id })) });
  const news = { hello: null, stranger: null, changed: false };
  me = holds('ann', 's1', 's2');
  const made = service();
  await put(made, { name: 'ask', args: { question: 'home', args: {} } });
  expect(lists).toEqual([{ sites: [] }]);
  made.world().tell(news);
  expect(lists).toHaveLength(1);
  for (const next of [holds('ann', 's1'), holds('bob', 's1'), null]) {
    me = next;
    made.world().tell(news);
    expect(lists.splice(1)).toEqual([null]);
  }
});

test('a write is answered when kept, does not wait for the network, and is sent', async () => {
  sending = new Promise(() => undefined);
  expect(await put(service(), write)).toEqual({ id: 7, answer: [{ ...place, kept: true }] });
  expect(reports().at(-1)?.unsent, 'told before the answer: a desk asks the server only once that has all').toBe(1);
  expect(said, 'told after the answer').not.toContainEqual({ changed: true });
  await vi.waitFor(() => expect(sends).toBe(1));
  expect(said).toContainEqual({ changed: true });
});

test('a full phone says so until a write goes again', async () => {
  const made = service();
  full = true;
  expect(await put(made, write)).toEqual({ id: 7, fault: { code: 'storage-full', field: undefined } });
  expect(reports().at(-1)).toMatchObject({ storage: 'full', problem: 'storage-full', unsent: 0 });
  made.world().tell({ hello: null, stranger: null, changed: false });
  expect(reports().at(-1)).toMatchObject({ storage: 'full', problem: 'storage-full' });
  full = false;
  await put(made, write);
  expect(reports().at(-1)).toMatchObject({ storage: 'kept' });
  expect(reports().at(-1)?.problem).toBeUndefined();
});

test('a look at the files tells whether they still answer; in memory there is nothing to look at', async () => {
  const check = { name: 'check', args: null } as const;
  expect(await put(service(), check)).toEqual({ id: 7, answer: null });
  broken = true;
  expect(await put(service(), check)).toEqual({ id: 7, fault: { code: 'storage-broken', field: undefined } });
  expect(checks).toBe(2);
  expect(await put(service('memory'), check)).toEqual({ id: 7, answer: null });
  expect(checks).toBe(2);
});

test('once closed it keeps nothing more', async () => {
  let closed = 0;
  const made = new Service(door, 'kept', () => undefined, () => undefined, () => closed++);
  expect(await put(made, { name: 'close', args: null })).toEqual({ id: 7, answer: null });
  expect(closed).toBe(1);
  expect(await put(made, write)).toMatchObject({ fault: { code: 'elsewhere' } });
  expect(unsent).toBe(0);
});

test('where nothing is kept a write waits for the server', async () => {
  let arrived = () => undefined as void;
  sending = new Promise((done) => {
    arrived = () => {
      unsent = 0;
      done();
    };
  });
  const answer = put(service('memory'), write);
  expect(await Promise.race([answer, Promise.resolve('waits')])).toBe('waits');
  arrived();
  expect(await answer).toMatchObject({ answer: [{ kept: true }] });
});

test('where nothing is kept and nobody answers, the write says that it is not kept', async () => {
  vi.useFakeTimers();
  sending = new Promise(() => undefined);
  const answer = put(service('memory'), write);
  await vi.advanceTimersByTimeAsync(60_000);
  expect(await answer).toMatchObject({ answer: [{ kept: false }] });
  vi.useRealTimers();
});

test('a problem of the way is told and passes', async () => {
  const made = service();
  problem = 'server-full';
  made.world().tell({ hello: null, stranger: null, changed: false });
  expect(reports().at(-1)?.problem).toBe('server-full');
  problem = undefined;
  made.world().tell({ hello: null, stranger: null, changed: false });
  expect(reports().at(-1)?.problem).toBeUndefined();
});

test('what was told already is not told again', () => {
  const made = service();
  made.world().tell({ hello: null, stranger: null, changed: true });
  made.world().tell({ hello: null, stranger: null, changed: false });
  expect(said).toEqual([{ changed: true }]);
});

test('a phone that belongs to nobody is signed out where the server answers, and offline where not', () => {
  const made = service();
  made.world().tell({ hello: null, stranger: 'reached', changed: false });
  expect(reports().at(-1)).toMatchObject({ reach: 'reached', signedOut: true });
  made.world().tell({ hello: null, stranger: 'offline', changed: false });
  expect(reports().at(-1)).toMatchObject({ reach: 'offline', signedOut: false });
  made.world().tell({ hello: null, stranger: null, changed: false });
  expect(reports().at(-1)).toMatchObject({ reach: 'unknown', signedOut: false });
});
