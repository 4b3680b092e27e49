import { beforeEach, expect, test, vi } from 'vitest';
import { Link, type News } from './link';
import { typeOf } from './pictures';

/** A server in miniature: a route to what it answers. */
type Routes = Record<string, (init: RequestInit) => Response | Promise<Response>>;

const me = { person: { id: 'ann' }, sites: [{ id: 's1' }, { id: 's2' }] };
const hello = { version: '1', installation: 'i', needsSetup: false, me };
const json = (body: unknown, status = 200) => new Response(JSON.stringify(body), { status });
const problem = (status: number, code: string) => json({ title: code, status, code }, status);

let routes: Routes;
let calls: { path: string; init: RequestInit }[];
let batches: string[];
let slices: { added: number; more: boolean }[];
let pictures: string[];
let news: News[];
let waits: number[];
let told: string[];
let link: Link;

beforeEach(() => {
  calls = [];
  batches = [];
  slices = [];
  pictures = [];
  news = [];
  waits = [];
  told = [];
  routes = {
    '/api/hello': () => json(hello),
    '/api/push': () => new Response('verdicts'),
    '/api/pull': () => new Response('slice'),
    '/api/pictures/p1': () => json({}),
  };
  vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
    calls.push({ path, init });
    const route = routes[path.split('?')[0] ?? ''];
    if (!route) throw new TypeError('Failed to fetch');
    return route(init);
  });
  link = new Link({
    door: {
      push: () => ({ body: batches[0] ?? '', clock: '2025-03-04T08:00:00.000Z' }),
      pushed: (text) => {
        told.push(`pushed ${text}`);
        batches.shift();
        return { applied: 1, duplicate: 0, aside: 0 };
      },
      pulls: () => ({ pulls: me.sites.map(({ id }) => ({ site: id, cursor: `c${told.length}` })) }),
      pulled: (site, text) => {
        told.push(`pulled ${site} ${text}`);
        return slices.shift() ?? { added: 0, more: false };
      },
      failed: () => 1000,
      me: (who) => {
        told.push(`me ${who?.person.id}`);
        return { unsent: 0, unsentPictures: 0, asides: 0, damage: 0, lost: 0, me: null };
      },
      unsentPictures: () => ({ pictures: pictures.map((hash) => ({ hash, bytes: 3 })) }),
      sentPicture: (hash) => {
        told.push(`picture ${hash}`);
      },
      picture: () => new Uint8Array(3),
    },
    tell: (more) => news.push(more),
    random: () => 0.5,
    later: (ms) => waits.push(ms),
  });
});

const paths = () => calls.map(({ path }) => path.split('?')[0]);
const last = () => news.at(-1);

test('a turn says who we are, pushes, pulls each site', async () => {
  batches = ['line one', 'line two'];
  await link.sync();
  expect(told).toEqual(['me ann', 'pushed verdicts', 'pushed verdicts', 'pulled s1 slice', 'pulled s2 slice']);
  expect(last()).toMatchObject({ reach: 'reached', signedOut: false, problem: undefined });
});

test('a push carries our header, the clock and the lines as they are', async () => {
  batches = ['{"a":"<"}\n'];
  await link.sync();
  const push = calls.find(({ path }) => path === '/api/push');
  expect(push?.init.body).toBe('{"a":"<"}\n');
  expect(push?.init.headers).toMatchObject({ 'X-Jointwalk': '1', 'X-Jointwalk-Clock': '2025-03-04T08:00:00.000Z' });
});

test('a site is pulled slice by slice, each from the cursor of the last', async () => {
  slices = [
    { added: 500, more: true },
    { added: 2, more: false },
  ];
  await link.sync();
  const pulls = calls.filter(({ path }) => path.startsWith('/api/pull'));
  expect(pulls.map(({ path }) => path)).toEqual([
    '/api/pull?site=s1&cursor=c1',
    '/api/pull?site=s1&cursor=c2',
    '/api/pull?site=s2&cursor=c1',
  ]);
  expect(news.filter(({ changed }) => changed).length).toBeGreaterThanOrEqual(2);
});

test('nobody answers: offline, nothing is taken as sent, another try comes', async () => {
  routes = {};
  batches = ['line'];
  await link.sync();
  expect(last()).toMatchObject({ reach: 'offline', signedOut: false });
  expect(told).toEqual([]);
  expect(waits).toEqual([1000]);
});

test.each([200, 302, 404, 502])('an answer %d that is not ours (a portal, a proxy) is offline', async (status) => {
  routes['/api/hello'] = () => new Response('<html>pay here</html>', { status });
  await link.sync();
  expect(last()).toMatchObject({ reach: 'offline', problem: undefined });
});

test('a lost session says so and stops sending; the next turn finds it again', async () => {
  batches = ['line'];
  routes['/api/push'] = () => problem(401, 'signed-out');
  await link.sync();
  expect(last()).toMatchObject({ reach: 'reached', signedOut: true, problem: undefined });
  expect(told).toEqual(['me ann']);
  routes['/api/push'] = () => new Response('verdicts');
  await link.sync();
  expect(last()?.signedOut).toBe(false);
  expect(told).toContain('pushed verdicts');
});

test('nobody signed in is reached and signed out, and asks nothing more', async () => {
  routes['/api/hello'] = () => json({ ...hello, me: null });
  await link.sync();
  expect(paths()).toEqual(['/api/hello']);
  expect(last()).toMatchObject({ reach: 'reached', signedOut: true, hello: { needsSetup: false } });
});

test('a server in trouble is reached; the problem has its code, and another try comes', async () => {
  batches = ['line'];
  routes['/api/push'] = () => problem(507, 'disk-full');
  await link.sync();
  expect(last()).toMatchObject({ reach: 'reached', problem: 'disk-full' });
  expect(waits).toEqual([1000]);
});

test('a lost answer to a push leaves the batch unsent', async () => {
  batches = ['line'];
  routes['/api/push'] = () => Promise.reject(new TypeError('reset'));
  await link.sync();
  expect(told).toEqual(['me ann']);
  expect(last()?.reach).toBe('offline');
});

test('pictures go after events and never hold them back', async () => {
  pictures = ['p1'];
  batches = ['line'];
  await link.sync();
  expect(told.at(-1)).toBe('picture p1');
  expect(paths().at(-1)).toBe('/api/pictures/p1');
});

test('a picture that is refused holds back no other, and its problem is told', async () => {
  pictures = ['p0', 'p1'];
  routes['/api/pictures/p0'] = () => problem(415, 'not-a-picture');
  await link.sync();
  expect(told.at(-1)).toBe('picture p1');
  expect(last()).toMatchObject({ reach: 'reached', problem: 'not-a-picture' });
});

test('a picture cut off on its way is offline, not refused', async () => {
  pictures = ['p0', 'p1'];
  routes['/api/pictures/p0'] = () => Promise.reject(new TypeError('reset'));
  await link.sync();
  expect(paths()).not.toContain('/api/pictures/p1');
  expect(last()).toMatchObject({ reach: 'offline', problem: undefined });
});

test('the type of a picture is read off its bytes', () => {
  expect(typeOf(Uint8Array.of(0xff, 0xd8, 0xff, 0xe0))).toBe('image/jpeg');
  expect(typeOf(Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d))).toBe('image/png');
  expect(typeOf(new TextEncoder().encode('RIFF0000WEBPVP8 '))).toBe('image/webp');
  expect(typeOf(new TextEncoder().encode('<svg>'))).toBe('application/octet-stream');
  expect(typeOf(new Uint8Array())).toBe('application/octet-stream');
});

test('calls during a turn make one more turn, not several at once', async () => {
  const turns = [link.sync(), link.sync(), link.sync()];
  await Promise.all(turns);
  expect(paths().filter((path) => path === '/api/hello')).toHaveLength(2);
});

test('a save sends and asks for no more, once it is known who we are', async () => {
  await link.sync();
  calls = [];
  batches = ['line'];
  await link.send();
  expect(paths()).toEqual(['/api/push']);
});

test('a save before the server was met asks first who answers', async () => {
  batches = ['line'];
  await link.send();
  expect(paths()).toEqual(['/api/hello', '/api/push']);
});

test('a whole turn asked for during a save is not lost', async () => {
  await link.sync();
  calls = [];
  batches = ['line'];
  await Promise.all([link.send(), link.sync(), link.send()]);
  expect(paths().filter((path) => path === '/api/pull')).toHaveLength(2);
});

test('after pairing a whole turn begins, whatever is under way', async () => {
  routes['/api/hello'] = () => json({ ...hello, me: null });
  const before = link.sync();
  const anew = link.anew();
  routes['/api/hello'] = () => json(hello);
  await before;
  await anew;
  expect(told[0]).toBe('me ann');
  expect(last()?.signedOut).toBe(false);
});
