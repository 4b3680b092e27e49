/**
 * The engine in a real browser, driven through its worker without screens:
 * what it called saved outlives kills, one worker has the files, a push arrives.
 */
import { expect, type Page, test } from '@playwright/test';
import { Device } from './browser';
import { Installation, until } from './installation';

interface Reply {
  answer?: unknown;
  fault?: { code: string };
}

/** What the driver in the page remembers. */
interface Driven extends Window {
  ask(name: string, args: unknown): Promise<Reply>;
  report: { storage: string; unsent: number; unsentPictures: number; me: { sites: { id: string }[] } | null } | undefined;
  newId(): string;
  writeOn(site: string): Promise<never>;
}

/** A page of this origin without the app, so that the worker is ours alone. */
async function drive(page: Page, origin: string): Promise<void> {
  await page.goto(`${origin}/icon.svg`);
  await page.evaluate(async () => {
    const kept = await (await fetch('/sw.js')).text(); // it lists all files of the app
    const worker = /worker-[\w-]+\.js/.exec(kept)?.[0] ?? '';
    const here = window as unknown as Driven;
    const wait = new Map<number, (reply: Reply) => void>();
    let id = 0;
    const made = new Worker(`/assets/${worker}`, { type: 'module' });
    made.onmessage = ({ data }) => {
      if ('report' in data) here.report = data.report;
      else if ('id' in data) wait.get(data.id)?.(data);
    };
    here.ask = (name, args) =>
      new Promise((done) => {
        wait.set(++id, done);
        made.postMessage({ id, name, args });
      });
    here.newId = () => {
      const raw = crypto.getRandomValues(new Uint8Array(16));
      const hex = Array.from(raw, (part) => part.toString(16).padStart(2, '0')).join('');
      return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-7${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20)}`;
    };
    here.writeOn = async (site) => {
      for (let n = 0; ; n++) {
        const drafts = [{ kind: 'fixture-registered', site, body: { name: `n${n}`, tag: '' } }];
        const { answer } = await here.ask('write', { drafts, ids: [here.newId()], zone: 'UTC' });
        if (answer) console.log('saved');
      }
    };
  });
}

const ask = (page: Page, name: string, args: unknown = null): Promise<Reply> =>
  page.evaluate(([name, args]) => (window as unknown as Driven).ask(name as string, args), [name, args] as const);

const report = (page: Page) => page.evaluate(() => (window as unknown as Driven).report);

/** Registers a fixture called so; the reply. */
async function register(page: Page, site: string, name: string): Promise<Reply> {
  const drafts = [{ kind: 'fixture-registered', site, body: { name, tag: '' } }];
  return ask(page, 'write', { drafts, ids: [await page.evaluate(() => (window as unknown as Driven).newId())], zone: 'UTC' });
}

async function names(page: Page): Promise<string[]> {
  const { answer } = (await ask(page, 'ask', { question: 'home', args: {} })) as {
    answer: { sites: { fixtures: { name: string }[] }[] };
  };
  return answer.sites.flatMap(({ fixtures }) => fixtures.map(({ name }) => name)).sort();
}

/** Makes the first person and a site; its id. */
async function found(device: Device, server: Installation): Promise<string> {
  await device.page.goto(`${server.address}/icon.svg`);
  return device.page.evaluate(async (code) => {
    const post = async (path: string, body: unknown) => {
      const headers = { 'Content-Type': 'application/json', 'X-Jointwalk': '1' };
      const answer = await fetch(path, { method: 'POST', headers, body: JSON.stringify(body) });
      if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
      return answer.json();
    };
    await post('/api/setup', { code, name: 'Ann', device: 'phone', example: false });
    return (await post('/api/sites', { name: 'Plant', zone: 'UTC' })).id as string;
  }, server.setupLink.split('#')[1]);
}

let server: Installation;
let device: Device;
let site: string;

test.beforeEach(async () => {
  server = await Installation.start();
  device = await Device.open();
  site = await found(device, server);
  await device.page.context().close(); // a browser writes its cookies down 30 s late, or when it is closed
  await device.start();
  await drive(device.page, server.address);
  await ask(device.page, 'sync', { asked: false });
});

test.afterEach(async () => {
  await device.end();
  await server.end();
});

test('what was saved with the server dead is there after a kill, and is sent when the server is back', async () => {
  await server.stop('SIGKILL');
  expect(await register(device.page, site, 'Bench 1')).toMatchObject({ answer: [{ kept: true, seq: 1 }] });
  expect((await report(device.page))?.unsent).toBe(1);
  await device.kill();
  await server.run();
  await device.start();
  await drive(device.page, server.address);
  expect(await names(device.page)).toEqual(['Bench 1']);
  await until(async () => (await report(device.page))?.unsent === 0, () => 'never sent');
  const answer = await device.page.evaluate(async () => {
    const headers = { 'Content-Type': 'application/json', 'X-Jointwalk': '1' };
    return (await fetch('/api/ask/home', { method: 'POST', headers, body: '{}' })).text();
  });
  expect(answer).toContain('Bench 1');
});

test('kills under continuous writing take nothing that was called saved', async () => {
  await server.stop('SIGKILL');
  let least = 0;
  for (const ms of [150, 300, 450, 600]) {
    let saved = 0;
    device.page.on('console', (message) => {
      if (message.text() === 'saved') saved++;
    });
    await device.page.evaluate((site) => void (window as unknown as Driven).writeOn(site), site);
    await until(() => saved > 0, () => 'nothing was saved');
    await device.page.waitForTimeout(ms);
    await device.kill();
    least += saved;
    await server.run();
    await device.start();
    await drive(device.page, server.address);
    await server.stop('SIGKILL');
    const held = (await names(device.page)).length;
    expect(held).toBeGreaterThanOrEqual(least);
    least = held;
  }
});

test('a second worker is refused the files while the first has them, and finds all in them once they are closed', async () => {
  expect(await register(device.page, site, 'From the first')).toMatchObject({ answer: [{ kept: true, seq: 1 }] });
  const second = await device.page.context().newPage();
  await drive(second, server.address);
  expect(await register(second, site, 'From the second')).toEqual({ id: 1, fault: { code: 'elsewhere' } });
  expect(await report(second)).toMatchObject({ storage: 'elsewhere' });
  expect(await ask(device.page, 'check')).toMatchObject({ answer: null });
  expect(await ask(device.page, 'close')).toMatchObject({ answer: null });
  expect(await register(device.page, site, 'Too late')).toMatchObject({ fault: { code: 'elsewhere' } });
  await drive(second, server.address);
  expect(await register(second, site, 'From the second')).toMatchObject({ answer: [{ kept: true, seq: 2 }] });
  expect(await names(second)).toEqual(['From the first', 'From the second']);
});

test('a full phone says so, keeps nothing of what did not fit, and takes the next that does', async () => {
  const browser = await device.page.context().newCDPSession(device.page);
  const quota = (more: object) => browser.send('Storage.overrideQuotaForOrigin', { origin: server.address, ...more });
  const large = () =>
    device.page.evaluate(() => (window as unknown as Driven).ask('keepPicture', { bytes: new ArrayBuffer(6 << 20) }));
  await quota({ quotaSize: 1 });
  expect(await large()).toMatchObject({ fault: { code: 'storage-full' } });
  expect(await report(device.page)).toMatchObject({ storage: 'full', unsentPictures: 0 });
  await quota({});
  expect(await register(device.page, site, 'After')).toMatchObject({ answer: [{ kept: true, seq: 1 }] });
  expect((await report(device.page))?.storage).toBe('kept');
  expect(await large()).toMatchObject({ answer: { bytes: 6 << 20 } });
  expect(await report(device.page)).toMatchObject({ unsentPictures: 1 });
});
