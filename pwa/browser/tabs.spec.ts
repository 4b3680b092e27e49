/** Two tabs and one log: the second takes it over by one button, there and back, or is told that the other does not answer. */
import { expect, type Page, test } from '@playwright/test';
import { Device } from './browser';
import { Installation } from './installation';
import { Newer } from './newer';
import { erase, firstPhone, lookAtNext, openLeak, press, startRound } from './phone';
import { keptForOffline } from './plant';

let server: Installation;
let phone: Device;
let first: Page;

test.beforeEach(async () => {
  server = await Installation.start();
  phone = await Device.open();
  await firstPhone(phone, server);
  first = phone.page;
});

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

const use = (page: Page) => page.getByRole('button', { name: 'Use here' });

/** A second tab of the same phone. */
async function another(): Promise<Page> {
  const page = await first.context().newPage();
  await page.goto(server.address);
  return page;
}

test('the second tab shows one button; it takes the records over, with the draft of the first, and back', async () => {
  await startRound(first, 'Irrigation valve body');
  await lookAtNext(first);
  await openLeak(first);
  await first.getByRole('button', { name: 'Type the time instead' }).click();
  await press(first, 20);
  const leak = first.url();

  const second = await another();
  await expect(use(second)).toBeVisible();
  expect(await second.locator('a, button').count()).toBe(1);
  expect((await use(second).boundingBox())?.height).toBeGreaterThanOrEqual(64);
  await press(first, 5); // the moment before the other tab asks
  await use(second).click();
  await expect(second.getByText('Irrigation valve body').first()).toBeVisible();
  await expect(use(first)).toBeVisible();

  await second.goto(leak);
  await expect(second.getByRole('button', { name: 'Seconds 205' })).toBeVisible();
  await erase(second);
  await press(second, 31);
  await use(first).click();
  await expect(first.getByRole('button', { name: 'Seconds 31' })).toBeVisible();
  await expect(use(second)).toBeVisible();
});

test('a tab whose records another took goes on by itself once that one is closed and it is looked at again', async () => {
  const second = await another();
  await use(second).click();
  await expect(use(first)).toBeVisible();
  await second.close();
  await first.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await expect(first.getByText('Irrigation valve body').first()).toBeVisible();
});

/** How a tab comes to answer no more: its process stops, or its page is busy for ever while its worker goes on. */
const hangs = {
  frozen: async () => process.kill(await phone.rendererOf(first), 'SIGSTOP'),
  busy: async () => {
    await first.evaluate(() => void setTimeout(() => { for (;;); }, 0));
  },
};

for (const [how, hang] of Object.entries(hangs)) {
  test(`a tab that is ${how} keeps the records: the other says so, and takes them once it is gone`, async () => {
    const second = await another();
    await expect(use(second)).toBeVisible();
    const renderer = await phone.rendererOf(first);
    await hang();
    await use(second).click();
    await expect(second.getByRole('alert')).toContainText('The other tab does not answer. What it saved is safe.', { timeout: 20_000 });
    process.kill(renderer, 'SIGKILL');
    await use(second).click();
    await expect(second.getByText('Irrigation valve body').first()).toBeVisible({ timeout: 20_000 });
  });
}

test('a newer version is taken in one tab while another is open: both load anew, and the records stay where they were', async () => {
  const newer = await Newer.before(server);
  try {
    const other = await Device.open();
    const page = other.page;
    await page.goto(`${newer.address}/icon.svg`);
    await page.context().addCookies(await cookiesOf(first, newer.address));
    await page.goto(newer.address);
    await keptForOffline(page);
    await page.goto(`${newer.address}/phone`);
    const second = await page.context().newPage();
    await second.goto(newer.address);
    await expect(use(second)).toBeVisible();
    for (const tab of [page, second]) await tab.evaluate(() => void (document.title = 'old'));
    newer.release();
    await page.evaluate(async () => void (await (await navigator.serviceWorker.ready).update()));
    await page.getByRole('button', { name: 'Take the new version' }).click();
    for (const tab of [page, second]) await expect(tab).not.toHaveTitle('old');
    await expect(page.getByText('What you save is kept on this device.')).toBeVisible();
    await expect(page.getByRole('button', { name: 'Take the new version' })).toHaveCount(0);
    await expect(use(second)).toBeVisible();
    expect(await page.evaluate(async () => (await navigator.serviceWorker.ready).waiting)).toBeNull();
  } finally {
    newer.end();
  }
});

/** The session of a page, for another address of the same server. */
async function cookiesOf(page: Page, address: string) {
  const cookies = await page.context().cookies();
  return cookies.map(({ name, value, httpOnly }) => ({ name, value, httpOnly, url: address }));
}
