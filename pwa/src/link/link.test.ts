import { gunzipSync } from 'node:zlib';
import { beforeEach, expect, test, vi } from 'vitest';
import type { Carried } from '../engine/door';
import { Link, type News } from './link';

/** A server in miniature: a route to what it answers. */
type Routes = Record<string, (init: RequestInit) => Response | Promise<Response>>;

const greeting = { version: '1', installation: 'i', needsSetup: false, secure: true, trust: '' };
const json = (body: unknown, status = 200) => new Response(JSON.stringify(body), { status });
const text = (body: string) => new TextEncoder().encode(body);

let routes: Routes;
let calls: { path: string; init: RequestInit }[];
let wanted: Carried[];
let begun: boolean[];
let resumed: boolean[];
let took: { status: number; body: string }[];
let news: News[];
let waits: number[];
let me: object | null;
let signedOut: boolean;
let link: Link;

beforeEach(() => {
  calls = [];
  wanted = [];
  begun = [];
  resumed = [];
  took = [];
  news = [];
  waits = [];
  me = { person: { id: 'ann' } };
  signedOut = false;
  routes = { '/api/hello': () => json({ ...greeting, me }), '/api/push': () => new Response('verdicts') };
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    calls.push({ path, init });
    const route = routes[path.split('?')[0] ?? ''];
    if (!route) throw new TypeError('Failed to fetch');
    return route(init);
  });
  link = new Link({
    door: {
      begin: (whole, resume) => {
        begun.push(whole);
        resumed.push(resume ?? false);
      },
      stop: () => {
        wanted = [];
      },
      next: () => wanted[0] ?? null,
      took: (status, body) => {
        took.push({ status, body: new TextDecoder().decode(body) });
        wanted.shift();
        return { changed: status === 200 };
      },
      wait: () => 1000,
      standing: () => ({ me, signedOut }) as ReturnType<ConstructorParameters<typeof Link>[0]['door']['standing']>,
    },
    tell: (more) => news.push(more),
    later: (ms) => waits.push(ms),
  });
});

const push: Carried = { method: 'POST', path: '/api/push', type: 'application/x-ndjson', clock: '2025-03-04T08:00:00.000Z', body: text('{"a":"<"}\n') };
const pull: Carried = { method: 'GET', path: '/api/pull?site=s1&cursor=', type: '', clock: '', body: text('') };
const paths = () => calls.map(({ path }) => path.split('?')[0]);

test('what the engine wants is carried as it is, with our header and the clock', async () => {
  wanted = [push];
  await link.sync();
  const [sent] = calls;
  expect(new TextDecoder().decode(sent?.init.body as Uint8Array)).toBe('{"a":"<"}\n');
  expect(sent?.init).toMatchObject({
    method: 'POST',
    headers: { 'X-Jointwalk': '1', 'X-Jointwalk-Clock': '2025-03-04T08:00:00.000Z', 'Content-Type': 'application/x-ndjson' },
  });
  expect(took).toEqual([{ status: 200, body: 'verdicts' }]);
  expect(news.some(({ changed }) => changed)).toBe(true);
  expect(waits).toEqual([1000]);
});

test('a long body is packed once the server said that it takes that, and never before', async () => {
  const long = text('{"a":"<"}\n'.repeat(200));
  const can = { headers: { 'Accept-Encoding': 'gzip' } };
  routes['/api/push'] = () => new Response('verdicts', can);
  wanted = [{ ...push, body: long }, { ...push, body: long }, push];
  await link.sync();
  const sent = calls.filter(({ path }) => path === '/api/push').map(({ init }) => init);
  expect(sent.map(({ headers }) => (headers as Record<string, string>)['Content-Encoding'])).toEqual([undefined, 'gzip', undefined]);
  expect(new Uint8Array(gunzipSync(sent[1]?.body as Uint8Array))).toEqual(long);
  expect(sent[2]?.body).toEqual(push.body);
});

test('a server that takes packed bodies no more gets plain ones again', async () => {
  const long = text('{"a":"<"}\n'.repeat(200));
  const answers = [new Response('', { headers: { 'Accept-Encoding': 'gzip' } }), json({ code: 'bad-type' }, 415), new Response('')];
  routes['/api/push'] = () => answers.shift() ?? new Response('');
  wanted = [1, 2, 3].map(() => ({ ...push, body: long }));
  await link.sync();
  const sent = calls.filter(({ path }) => path === '/api/push');
  expect(sent.map(({ init }) => (init.headers as Record<string, string>)['Content-Encoding'])).toEqual([undefined, 'gzip', undefined]);
});

test('a request without a body has none, and no type', async () => {
  routes['/api/pull'] = () => new Response('slice');
  wanted = [pull];
  await link.sync();
  expect(calls[0]?.init.body).toBeNull();
  expect(calls[0]?.init.headers).toEqual({ 'X-Jointwalk': '1' });
});

test('a refusal is handed back with its status and body', async () => {
  routes['/api/push'] = () => json({ code: 'server-full' }, 507);
  wanted = [push];
  await link.sync();
  expect(took).toEqual([{ status: 507, body: '{"code":"server-full"}' }]);
});

test('nobody answers: the engine hears status 0, and another try comes', async () => {
  routes = {};
  wanted = [push];
  await link.sync();
  expect(took).toEqual([{ status: 0, body: '' }]);
  expect(waits).toEqual([1000]);
});

test('an answer that breaks off in the middle is none', async () => {
  routes['/api/push'] = () =>
    new Response(new ReadableStream({ start: (stream) => stream.error(new TypeError('reset')) }), { status: 200 });
  wanted = [push];
  await link.sync();
  expect(took).toEqual([{ status: 0, body: '' }]);
});

test('a phone of nobody asks who answers and carries nothing', async () => {
  me = null;
  wanted = [push];
  await link.sync();
  expect(paths()).toEqual(['/api/hello']);
  expect(news.at(-1)).toMatchObject({ stranger: 'reached', hello: { installation: 'i' } });
});

test.each([200, 302, 404, 502])('an answer %d that is not ours (a portal, a proxy) is nobody', async (status) => {
  me = null;
  routes['/api/hello'] = () => new Response('<html>pay here</html>', { status });
  await link.sync();
  expect(news.at(-1)).toMatchObject({ stranger: 'offline', hello: null });
});

test('a phone that the server knows goes on at once', async () => {
  me = null;
  routes['/api/hello'] = () => json({ ...greeting, me: { person: { id: 'ann' } } });
  wanted = [push];
  await link.anew();
  expect(paths()).toEqual(['/api/hello', '/api/push']);
  expect(news.at(-1)?.stranger).toBeNull();
});

test('what the server is, is asked once, and again after a lost session', async () => {
  await link.sync();
  await link.sync();
  expect(paths()).toEqual(['/api/hello']);
  signedOut = true;
  await link.sync();
  expect(paths()).toEqual(['/api/hello', '/api/hello']);
});

test('calls during a turn begin no second one beside it', async () => {
  wanted = [push];
  await Promise.all([link.sync(), link.send(), link.sync()]);
  expect(begun).toEqual([true, false, true]);
  expect(took).toHaveLength(1);
});

test('where nobody answers, nobody is asked who it is', async () => {
  wanted = [push];
  delete routes['/api/push'];
  await link.sync();
  expect(paths()).toEqual(['/api/push']);
  wanted = [pull];
  routes['/api/pull'] = () => new Response('');
  await link.sync();
  expect(paths()).toEqual(['/api/push', '/api/pull', '/api/hello']);
});

test('a stop breaks off what is being carried, and the turn is over', async () => {
  routes['/api/pull'] = ({ signal }) => new Promise((_, fail) => signal?.addEventListener('abort', () => fail(new DOMException('', 'AbortError'))));
  wanted = [pull, push];
  const turn = link.sync();
  await vi.waitFor(() => expect(calls).toHaveLength(1));
  await link.stop();
  await turn;
  expect(paths()).toEqual(['/api/pull']);
  expect(waits).toEqual([1000]);
});

test('only a person goes on after a stop', async () => {
  await link.sync();
  await link.send();
  await link.sync(true);
  await link.anew();
  expect(resumed).toEqual([false, false, true, true]);
});
