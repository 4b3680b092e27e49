/** Phones that keep less than they should: a browser without sync handles, and a tab that its system clears. */
import { readFileSync } from 'node:fs';
import { expect, type Page, test } from '@playwright/test';
import { Device, type Wish } from './browser';
import { faultless } from './faultless';
import { Installation } from './installation';
import { firstPhone, lookAtNext, startRound } from './phone';

let server: Installation;
let phone: Device;
let page: Page;

async function begin(wish: Wish = {}): Promise<void> {
  server = await Installation.start();
  phone = await Device.open(wish);
  page = phone.page;
}

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

/** Takes the sync handles from every worker that this page starts: an init script of a page does not reach them. */
async function withoutHandles(page: Page): Promise<void> {
  await page.context().route(/\/assets\/worker-[\w-]+\.js$/, async (route) => {
    const answer = await route.fetch();
    const body = `delete FileSystemFileHandle.prototype.createSyncAccessHandle;\n${await answer.text()}`;
    await route.fulfill({ response: answer, body, headers: { ...answer.headers(), 'content-length': String(Buffer.byteLength(body)) } });
  });
}

test('without sync handles a lasting banner says that nothing is kept, and saved waits for the server', async () => {
  await begin({ serviceWorkers: 'block' });
  await withoutHandles(page);
  await firstPhone(phone, server);
  const banner = page.getByRole('banner').getByText('This browser keeps nothing. A record is safe only once the server has it: stay on the network.');
  await expect(banner).toBeVisible();
  await startRound(page, 'Irrigation valve body');
  await lookAtNext(page);
  await expect(page.getByText('Saved: nothing seen')).toBeVisible();
  await expect(banner).toBeVisible();

  await server.stop('SIGKILL');
  await lookAtNext(page);
  await expect(page.getByText('Not safe yet: the server has not answered. Keep this page open.')).toBeVisible({ timeout: 15_000 });
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('banner').getByRole('button', { name: 'Unsent records into a file' }).click(),
  ]);
  expect(readFileSync(await download.path(), 'utf8')).toContain('"kind":"look-made"');
  await faultless(page, 'nothing kept');
  await server.run();
  await page.getByRole('link', { name: 'not safe yet' }).click();
  await page.getByRole('button', { name: 'Sync now' }).click();
  await expect(page.getByText('All records are sent.')).toBeVisible();
  await expect(page.getByRole('button', { name: 'Unsent records into a file' })).toHaveCount(0);
  await expect(banner).toBeVisible();
});

const iphone = 'Mozilla/5.0 (iPhone; CPU iPhone OS 17_4 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/17.4 Mobile/15E148 Safari/604.1';

test('in a tab of an iPhone capture warns, and the first screen explains installing; in the installed app neither', async () => {
  await begin({ userAgent: iphone });
  const standing = (alone: boolean) => page.addInitScript((alone) => Object.defineProperty(navigator, 'standalone', { get: () => alone, configurable: true }), alone);
  await standing(false);
  await firstPhone(phone, server);
  await expect(page.getByText('deletes what it keeps after seven days without use')).toBeVisible();
  await expect(page.getByText('Choose “Add to Home Screen”, then “Add”.')).toBeVisible();
  await faultless(page, 'first screen of a tab');
  await page.getByText('Irrigation valve body').first().click();
  await page.getByRole('link', { name: 'Start a round' }).click();
  await expect(page.getByText('deletes what it keeps after seven days')).toBeVisible();
  await faultless(page, 'start of a round in a tab');
  await page.getByRole('button', { name: 'Start the round' }).click();
  await page.waitForURL(/\/r\//);
  await expect(page.getByText('deletes what it keeps after seven days')).toBeVisible();
  await lookAtNext(page);
  await expect(page.getByRole('link', { name: 'All sent' })).toBeVisible(); // at once, unasked

  await standing(true);
  await page.goto(server.address);
  await expect(page.getByText('Irrigation valve body').first()).toBeVisible();
  await expect(page.getByText('deletes what it keeps after seven days')).toHaveCount(0);
});
