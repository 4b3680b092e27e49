/** Going out: at the device itself, and by coming in anew. What a browser held as a key opens nothing afterwards. */
import { expect, type Page, test } from '@playwright/test';
import { Device, online } from './browser';
import { barriers, faultless } from './faultless';
import { Installation } from './installation';
import { clerk, invite, pair, pairedPhone, sent } from './plant';

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

/** The session's cookie, as a header that anybody could send. */
async function key(page: Page): Promise<string> {
  const cookie = (await page.context().cookies()).find(({ name }) => name.endsWith('jointwalk'));
  return `${cookie?.name}=${cookie?.value}`;
}

/** How the server answers to a key, whoever sends it. */
async function status(installation: Installation, cookie: string): Promise<number> {
  return (await fetch(`${installation.address}/api/me`, { headers: { cookie } })).status;
}

test('a first pull says how far it is, is stopped, and goes on when asked', async () => {
  const installation = await Installation.start();
  const phone = await Device.open(online);
  const { page } = phone;
  const link = await invite(await clerk(installation), installation, 'Technician one', 'technician');
  let stuck = true;
  let slices = 0;
  await page.context().route('**/api/pull*', (route) => (stuck && slices++ > 0 ? undefined : route.continue())); // the second never comes
  await pair(page, link);
  await page.goto(installation.address);
  const line = page.locator('.going').getByText(/^Fetching records: 500 of \d+$/);
  await expect(line).toBeVisible();
  await faultless(page, 'a first pull');
  await page.locator('a.chip').first().click();
  await expect(line).toBeVisible();
  await page.getByRole('button', { name: 'Stop' }).click();
  await expect(page.getByText('Fetching stopped')).toBeVisible();
  await expect(line).toHaveCount(0);
  await faultless(page, 'stopped');
  stuck = false;
  await page.getByRole('button', { name: 'Sync now' }).click();
  await expect(page.getByText('Last synced', { exact: false })).toBeVisible();
  await expect(page.getByText('Fetching stopped')).toHaveCount(0);
});

test('who leaves is out at the server at once, needs an invitation to come back, and leaves no records on the device', async () => {
  const installation = await Installation.start();
  const desk = await clerk(installation);
  const { page } = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'));
  await sent(page);
  const held = await key(page);
  expect(await status(installation, held)).toBe(200);
  await expect(page.getByText('Irrigation valve body').first()).toBeVisible();
  await page.goto(`${installation.address}/phone`);
  await page.evaluate(() => {
    FileSystemDirectoryHandle.prototype.removeEntry = () => new Promise(() => undefined); // the app is closed before that is done
  });
  await page.getByText('Leave: take this device out').click();
  await page.getByRole('button', { name: 'Leave', exact: true }).click();
  await expect(page.getByText('This cannot be stopped', { exact: false })).toBeVisible();
  expect((await barriers(page)).violations).toEqual([]);
  await page.reload();
  await page.waitForURL(`${installation.address}/`);
  await expect(page.getByText('This device is not paired yet.')).toBeVisible();
  await expect(page.getByText('Irrigation valve body')).toHaveCount(0);
  expect(await status(installation, held)).toBe(401);
});

test('a device that takes another invitation goes on as its person, and its old key is void', async () => {
  const installation = await Installation.start();
  const desk = await clerk(installation);
  const { page } = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'));
  await sent(page);
  const held = await key(page);
  await page.goto(await invite(desk, installation, 'Technician two', 'technician'));
  await page.getByText('Pair here, in the browser').click();
  await page.getByRole('button', { name: 'Pair this device' }).click();
  await page.waitForURL(`${installation.address}/`);
  await sent(page);
  const fresh = await key(page);
  expect(fresh).not.toBe(held);
  expect(await status(installation, held)).toBe(401);
  expect(await status(installation, fresh)).toBe(200);
});
