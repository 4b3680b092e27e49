/** What a phone holds and what it is told: older rounds on demand, a server or an app that is too old, a log that is gone. */
import { expect, type Page, test } from '@playwright/test';
import { Device, deskSize, online, type Wish } from './browser';
import { faultless } from './faultless';
import { Installation } from './installation';
import { lookAtNext, startRound } from './phone';
import { asked, type Asker, clerk, invite, keptForOffline, pairedPhone, sent } from './plant';

let server: Installation;
let first: Asker;
let phone: Device;
let page: Page;

test.beforeEach(async () => {
  server = await Installation.start();
  first = await clerk(server);
});

/** A technician's phone. */
async function paired(wish: Wish = {}): Promise<void> {
  phone = await pairedPhone(await invite(first, server, 'Technician one', 'technician'), wish);
  page = phone.page;
}

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

const rounds = async (of: Page) => new Set(await of.locator('a[href^="/r/"]').evaluateAll((links) => links.map((link) => link.getAttribute('href')))).size;

test('a phone holds the last five rounds of a fixture, and fetches the older ones when asked', async () => {
  await paired();
  await keptForOffline(page);
  await page.getByText('Irrigation valve body').first().click();
  const id = page.url().split('/f/')[1];
  const all = (await asked<{ rounds: unknown[] }>(first.page, server.address, 'fixture', { id })).rounds.length;
  const older = page.getByRole('button', { name: 'Fetch older rounds' });
  await older.waitFor();
  const held = await rounds(page);
  expect(held).toBeGreaterThanOrEqual(5);
  expect(held).toBeLessThan(all);

  await phone.network(false);
  await older.click();
  await expect(page.getByRole('alert')).toHaveText('The server cannot be reached. The rounds above are kept here; try again with network.');
  await phone.network(true);
  let asking = 0;
  await page.route('**/api/older*', (route) => (asking++ > 0 ? route.continue() : undefined)); // the first is never answered
  await older.click();
  await expect(page.getByText('Fetching older rounds: 0 records so far')).toBeVisible();
  await page.getByRole('button', { name: 'Stop' }).click();
  await expect(page.getByRole('alert')).toHaveText('Stopped. No older round came; nothing was changed here.');
  await older.click();
  await expect(page.getByText('These are all rounds that the server has.')).toBeVisible();
  await expect.poll(() => rounds(page)).toBe(all);
  await faultless(page, 'all rounds');
  await phone.network(false);
  await page.reload();
  await expect.poll(() => rounds(page)).toBe(all);
});

for (const [code, status, words] of [
  ['app-too-old', 426, 'This app is too old for the server. What you record is kept here, and is sent once the new version is taken.'],
  ['not-found', 404, 'The server is older than this app and does not understand it. What you record is kept here and is sent later. Tell whoever runs the server.'],
] as const) {
  test(`a greeting answered with ${code} is told in words, and capture goes on`, async () => {
    await paired(online);
    await startRound(page, 'Irrigation valve body');
    await sent(page);
    const round = page.url().split('/r/')[1];
    await page.route('**/api/{meet,push}', (route) => route.fulfill({ status, contentType: 'application/problem+json', body: JSON.stringify({ status, code }) }));
    await page.reload();
    await expect(page.getByRole('banner').getByRole('alert')).toHaveText(words);
    await lookAtNext(page);
    await expect(page.getByRole('link', { name: /^Not taken · \d+ records kept here/ })).toBeVisible();
    await faultless(page, code);
    await page.unroute('**/api/{meet,push}');
    await page.goto(`${server.address}/phone`);
    await page.getByRole('button', { name: 'Sync now' }).click();
    await expect(page.getByText('All records are sent.')).toBeVisible();
    await expect(page.getByText(words)).toHaveCount(0);
    expect((await asked<{ done: number }>(page, server.address, 'round', { id: round })).done).toBeGreaterThan(0);
  });
}

test('a phone whose records are gone is told what the server has of them, and so is a supervisor', async () => {
  await paired(online);
  await startRound(page, 'Irrigation valve body');
  await sent(page);
  await page.route('**/api/push', (route) => route.abort());
  await lookAtNext(page);
  await page.goto(`${server.address}/phone`);
  await expect(page.getByText(/^\d+ records? not sent/)).toBeVisible();
  const greeted = page.waitForResponse('**/api/meet'); // it tells how far the log goes
  const refused = page.waitForEvent('requestfailed', (one) => one.url().endsWith('/api/push')); // a page that goes lets go what is held up on its way
  await page.getByRole('button', { name: 'Sync now' }).click();
  await Promise.all([greeted, refused]);

  await page.goto(`${server.address}/icon.svg`);
  await page.evaluate(async () => (await navigator.storage.getDirectory()).removeEntry('jointwalk', { recursive: true }));
  await page.unroute('**/api/push');
  await page.goto(`${server.address}/phone`);
  const told = page.getByText(/^This device wrote a log before that it no longer has/);
  await expect(told).toContainText(/The server holds 1 of its \d+ records\. If the missing ones were exported/);
  await faultless(page, 'log gone');

  const desk = await Device.open({ ...online, size: deskSize });
  await desk.page.context().addCookies((await first.page.request.storageState()).cookies);
  await desk.page.goto(`${server.address}/upkeep`);
  const lost = desk.page.getByRole('region', { name: 'Logs that ended unsent' });
  await expect(lost).toContainText('Technician one');
  await expect(lost).toContainText(/It had told of \d+ records; the server holds 1\./);
});

test('a phone that nobody has paired says so, and not that it was', async () => {
  const fresh = await Device.open();
  await fresh.page.goto(server.address);
  await expect(fresh.page.getByRole('link', { name: 'Not paired yet' })).toBeVisible();
});
