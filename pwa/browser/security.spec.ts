/** What a browser must see to: policies of pages and workers, script in names, a name that is not ours, what an error tells. */
import { expect, type Page, test } from '@playwright/test';
import { Device, deskSize, online } from './browser';
import { Installation, until } from './installation';
import { firstDesk, keptForOffline, ours, sent } from './plant';

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

test('what a page or a worker does against its policy is refused, and noticed by these tests', async () => {
  const installation = await Installation.start();
  const desk = await firstDesk(installation, 'empty', {});
  const { page } = desk;
  await keptForOffline(page);
  expect(desk.violations()).toEqual([]);
  const noticed = (what: RegExp) => until(() => desk.violations().some((line) => what.test(line)), () => `nothing of ${what} in:\n${desk.violations().join('\n')}`);

  const ran = await page.evaluate(async () => {
    const holder = document.createElement('div');
    holder.innerHTML = '<img src="/nothing.png" onerror="document.title = \'ran\'">';
    document.body.append(holder);
    const script = document.createElement('script');
    script.textContent = "document.title = 'ran'";
    document.body.append(script);
    await new Promise((done) => setTimeout(done, 500));
    return document.title;
  });
  expect(ran).not.toBe('ran');
  await noticed(/script-src/);

  expect(desk.workers.length).toBeGreaterThanOrEqual(2); // the engine's and the service worker
  for (const [n, worker] of desk.workers.entries()) {
    const got = await worker.evaluate((at) => fetch(at).then(() => 'let out', () => 'refused'), `https://worker-${n}.example/`);
    expect(got, worker.url()).toBe('refused');
    await noticed(new RegExp(`worker-${n}\\.example`));
  }
  await expect(desk.end()).rejects.toThrow('against the policy');
});

test('every script and page comes with the policy', async () => {
  const installation = await Installation.start();
  const desk = await Device.open({ size: deskSize });
  const seen: Record<string, string> = {};
  desk.page.context().on('response', (answer) => {
    if (answer.url().startsWith(installation.address)) seen[new URL(answer.url()).pathname] = answer.headers()['content-security-policy'] ?? '';
  });
  await desk.page.goto(installation.setupLink);
  await keptForOffline(desk.page);
  const scripts = Object.keys(seen).filter((path) => path.endsWith('.js'));
  expect(scripts.some((path) => path.includes('worker'))).toBe(true);
  for (const path of [...scripts, '/setup']) {
    expect(seen[path], path).toContain("default-src 'none'; script-src 'self' 'wasm-unsafe-eval'");
    expect(seen[path], path).not.toContain("'unsafe-inline'");
  }
  const worker = await desk.page.request.get(`${installation.address}/sw.js`);
  expect(worker.headers()['content-security-policy']).toContain("default-src 'none'");
});

/** What would run if it were taken for more than text. */
const evil = (who: string) => `"><img src=x onerror=alert('${who}')><script>alert(1)</script>`;

test('script in every name stays text on every screen', async () => {
  test.setTimeout(180_000);
  const installation = await Installation.start();
  const desk = await Device.open({ ...online, size: deskSize });
  const { page } = desk;
  const dialogs: string[] = [];
  page.on('dialog', (dialog) => void (dialogs.push(dialog.message()), dialog.dismiss()));
  await page.goto(installation.setupLink);
  await page.getByLabel('Your name').fill(evil('person'));
  await page.getByText('An empty book').click();
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.waitForURL(`${installation.address}/`);
  await sent(page);
  const at = installation.address;
  await page.request.post(`${at}/api/sites`, { headers: ours(at), data: { name: evil('site'), place: evil('place'), zone: 'UTC' } });
  const made = await page.request.post(`${at}/api/invitations`, { headers: ours(at), data: { name: evil('guest'), grants: { '*': ['technician'] } } });
  const { link } = (await made.json()) as { link: string };
  await fetch(`${at}/api/pair`, { method: 'POST', headers: { ...ours(at), 'Content-Type': 'application/json' }, body: JSON.stringify({ code: link.split('#')[1], device: evil('device') }) });

  await page.goto(`${at}/sites`);
  await page.getByRole('button', { name: `New fixture at ${evil('site')}` }).click();
  await page.getByLabel('Name of the fixture').fill(evil('fixture'));
  await page.getByLabel('Where it stands').fill(evil('stand'));
  await page.getByRole('button', { name: 'Make it and go on' }).click();
  await page.waitForURL(/\/f\/[^/]+\/edit$/);
  const fixture = page.url().split('/').at(-2) ?? '';
  await page.getByRole('button', { name: 'Paste a list' }).click();
  await page.getByLabel('The list').fill(`${evil('joint').replaceAll(';', ',')}; compression fitting; test side; 6 mm`);
  await page.getByRole('button', { name: /^Add 1 joint/ }).click();
  await page.getByLabel('Note', { exact: true }).fill(evil('note'));
  await page.getByRole('button', { name: 'Save', exact: true }).first().click();
  await sent(page);

  const shown: Record<string, string> = {};
  for (const path of ['/', '/sites', '/people', '/upkeep', `/f/${fixture}`, `/f/${fixture}/edit`, `/f/${fixture}/round`, '/findings', '/asides', '/conflicts', '/phone', '/scan']) {
    await page.goto(at + path);
    await expect(page.locator('main')).not.toBeEmpty();
    await sent(page);
    await page.waitForTimeout(500);
    shown[path] = await page.evaluate(() => document.body.innerText + [...document.querySelectorAll('input, textarea')].map((one) => (one as HTMLInputElement).value).join('\n'));
    expect(await page.locator('img[src="x"], main script').count(), path).toBe(0);
  }
  const text = Object.values(shown).join('\n');
  for (const who of ['person', 'site', 'place', 'guest', 'device', 'fixture', 'stand', 'joint', 'note']) expect(text, who).toContain(`alert('${who}')`);
  expect(dialogs).toEqual([]);
  expect(desk.violations()).toEqual([]);
});

test('an error tells the number under which the server has it', async () => {
  const installation = await Installation.start();
  const { page } = await firstDesk(installation);
  const requests: string[] = []; // it is asked again as news comes in
  page.on('response', (told) => told.url().endsWith('/api/ask/fixture') && requests.push(told.headers()['x-request-id'] ?? ''));
  await page.goto(`${installation.address}/f/018f0000-0000-7000-8000-00000000dead`);
  const shown = async () => /#([A-Z2-7]{12})\b/.exec(await page.getByRole('alert').innerText())?.[1] ?? 'none';
  await expect.poll(async () => requests.includes(await shown())).toBe(true);
});

test('under a name that is not its own the server says the right one, and gives nothing out', async () => {
  const installation = await Installation.start();
  const { page } = await Device.open({ flags: ['--host-resolver-rules=MAP rebound.test 127.0.0.1'] });
  await page.goto(installation.address.replace('localhost', 'rebound.test'));
  await expect(page.getByText(`This server answers at ${installation.address}`)).toBeVisible();
  expect(await page.evaluate(() => fetch('/api/hello').then((told) => told.status))).toBe(421);
  expect(await byAddress(page, installation)).toBe(200);
});

/** By its address in figures a technician reaches it all the same. */
async function byAddress(page: Page, installation: Installation): Promise<number> {
  await page.goto(installation.setupLink.replace('localhost', '127.0.0.1'));
  await page.getByLabel('Your name').fill('First person');
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.waitForURL((url) => url.pathname === '/');
  await sent(page);
  return page.evaluate(() => fetch('/api/ask/home', { method: 'POST', headers: { 'X-Jointwalk': '1', 'Content-Type': 'application/json' }, body: '{}' }).then((told) => told.status));
}
