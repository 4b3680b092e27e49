/**
 * What goes wrong on a phone: slips in what is typed, full disks, damage. It is told in words that say what to do, and
 * nothing is lost. An invitation or a set-up code that has expired needs ten minutes: server/people tests it with a clock
 * of its own. Tags are tried in scan.spec.ts.
 */
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { Device, online, type Wish } from './browser';
import { Disk } from './disk';
import { binary, Installation } from './installation';
import { erase, firstPhone, lookAtNext, openLeak, press, startRound } from './phone';
import { asked, keptForOffline, ours } from './plant';

let phone: Device;
let page: Page;

/** A server, and a phone that nobody has used. */
async function begin(flags: string[] = [], wish: Wish = {}): Promise<Installation> {
  const server = await Installation.start(flags);
  phone = await Device.open(wish);
  page = phone.page;
  return server;
}

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

const button = (name: string | RegExp) => page.getByRole('button', { name });

test('a wrong set-up code, a used invitation and a damaged link say what to do and keep what was typed', async () => {
  const server = await begin([], online);
  await page.goto(`${server.address}/setup`);
  await page.getByLabel('Set-up code').fill('0000-0000-0000');
  await page.getByLabel('Your name').fill('First person');
  await button('Begin').click();
  await expect(page.getByRole('alert')).toHaveText(/^That set-up code is not right\. .* use the newest\.$/);
  await expect(page.getByLabel('Your name')).toHaveValue('First person');
  await page.getByLabel('Set-up code').fill(server.setupLink.split('#')[1] ?? '');
  await button('Begin').click();
  await page.waitForURL(`${server.address}/`);
  await page.goto(`${server.address}/setup`);
  await expect(page.getByText('This installation is set up already. To join it, ask for an invitation.')).toBeVisible();

  const headers = ours(server.address);
  const made = await page.request.post(`${server.address}/api/invitations`, { headers, data: { name: 'Second', grants: { '*': ['technician'] } } });
  const { link } = (await made.json()) as { link: string };
  const used = await fetch(`${server.address}/api/pair`, {
    method: 'POST', headers: { ...headers, 'Content-Type': 'application/json' }, body: JSON.stringify({ code: link.split('#')[1], device: 'other' }),
  });
  expect(used.ok).toBe(true);
  await page.goto(link);
  await button('Pair here, in the browser').click();
  await page.getByLabel('Name of this device').fill('Glove box');
  await button('Pair this device').click();
  await expect(page.getByRole('alert')).toHaveText('This invitation was used already. Ask for a new one; each is good for one device.');
  await expect(page.getByLabel('Name of this device')).toHaveValue('Glove box');

  await page.goto(`${server.address}/t/0000000000A`);
  await expect(page.getByRole('alert')).toContainText('A character of 00000-00000-A is wrong');
});

test('numbers: a comma is a dot, none and zero are asked for again, and the rest stays', async () => {
  const server = await begin([], online);
  await firstPhone(phone, server);
  await startRound(page, 'Irrigation valve body', async () => {
    await button('Change').click();
    await page.getByLabel('Pressure, gauge', { exact: true }).fill('3,,0');
    await expect(page.getByText('This is no number. Digits, with a comma or a dot for decimals.')).toBeVisible();
    await expect(button('Pressure and temperature are needed')).toBeDisabled();
    await page.getByLabel('Pressure, gauge', { exact: true }).fill('3,0');
    await page.getByLabel('Unit of Pressure, gauge').selectOption('bar');
  });
  const round = /\/r\/([^/]+)/.exec(page.url())?.[1];
  await expect
    .poll(async () => (await asked<{ conditions?: { pressure: object } }>(page, server.address, 'round', { id: round })).conditions?.pressure)
    .toEqual({ value: 3, unit: 'bar' });

  await openLeak(page);
  await page.getByText('Stopwatch', { exact: true }).click();
  await button('Type the time instead').click();
  await press(page, 20);
  await button(/^Size in millimetres/).click();
  await erase(page);
  await press(page, '3.0');
  await expect(button('How many bubbles?')).toBeDisabled();
  await type(/^Bubbles/, '0');
  await refused('No bubble counted is no leak to size. Count again, or choose nothing seen.');
  await type(/^Bubbles/, '6');
  const flow = page.getByText('mm³/s');
  const before = await flow.innerText();
  await type(/^Seconds/, '0');
  await refused('A time above zero is needed. Time it again.');
  await type(/^Seconds/, '20');
  await button(/^Size in millimetres/).click();
  await erase(page);
  await press(page, '0');
  await refused('A size of zero is no bubble. Give the size that you see, or choose nothing seen.');

  await page.waitForTimeout(1500); // a draft is kept within a second
  await page.reload();
  await expect(page.getByRole('alert')).toContainText('A size of zero is no bubble.');
  await expect(button('Bubbles 6')).toBeVisible();
  await expect(button('Seconds 20')).toBeVisible();

  const leak = page.url();
  await page.goto(`${server.address}/phone`);
  await page.getByText('Español').click();
  await expect(page.locator('html')).toHaveAttribute('lang', 'es');
  await page.goto(leak);
  await button(/^Tamaño en milímetros/).click();
  await page.getByRole('button', { name: 'Borrar' }).click();
  for (const key of '3,0') await page.getByRole('group', { name: 'Teclas de números' }).getByText(key, { exact: true }).click();
  await expect(flow).toContainText(numbersOf(before).replaceAll('.', ','));
});

test('a full phone says so, loses nothing of what stands on the screen, and saves once there is room', async () => {
  const server = await begin();
  await firstPhone(phone, server);
  await startRound(page, 'Irrigation valve body');
  await openLeak(page);
  await button('Type the time instead').click();
  await press(page, 20);
  await page.getByText('½').click();
  await type(/^Bubbles/, '6');
  await page.waitForTimeout(1500); // a draft is kept within a second
  const browser = await page.context().newCDPSession(page);
  await browser.send('Storage.overrideQuotaForOrigin', { origin: server.address, quotaSize: 1 });
  await page.reload(); // what the files were promised before lasts until then
  for (let tries = 0; tries < 2; tries++) {
    await button('Save the leak').click({ delay: 800 });
    await expect(page.getByRole('main').getByRole('alert')).toHaveText(
      'Not saved: the storage of this phone is full. What you entered still stands here. Make room on the phone, then save again.',
    );
  }
  await expect(page.getByRole('banner').getByRole('alert')).toHaveText(
    'The storage of this phone is full. Nothing new can be saved until there is room; what was saved is safe.',
  );
  await expect(page.getByRole('link', { name: 'Storage full' })).toBeVisible();
  await expect(button('Bubbles 6')).toBeVisible();
  await expect(button('Seconds 20')).toBeVisible();
  await browser.send('Storage.overrideQuotaForOrigin', { origin: server.address });
  await button('Save the leak').click({ delay: 800 });
  await expect(page.getByText('Leak saved.')).toBeVisible();
  await expect(page.getByText('full')).toHaveCount(0);
  await expect(page.getByRole('link', { name: 'All sent' })).toBeVisible();
});

test('a full server is told, the phone keeps all, and sends it unasked once there is room', async () => {
  const disk = new Disk();
  try {
    const server = await begin(['--data', disk.folder]);
    await firstPhone(phone, server);
    await startRound(page, 'Irrigation valve body');
    await expect(page.getByRole('link', { name: 'All sent' })).toBeVisible();
    const round = page.url().split('/r/')[1];
    const done = async () => (await asked<{ done: number }>(page, server.address, 'round', { id: round })).done;
    disk.fill(server);
    await lookAtNext(page);
    await expect(page.getByRole('link', { name: /^Server full · \d+ records kept here$/ })).toBeVisible();
    await expect(page.getByRole('alert')).toHaveText(
      'The disk of the server is full. What you record stays here and is sent once there is room. Tell whoever runs the server.',
    );
    await phone.close();
    await phone.start();
    page = phone.page;
    await page.goto(server.address);
    await expect(page.getByRole('link', { name: /^Server full/ })).toBeVisible();
    expect(await done()).toBe(0);
    disk.free(server);
    await expect(page.getByRole('link', { name: 'All sent' })).toBeVisible({ timeout: 30_000 });
    await expect(page.getByRole('alert')).toHaveCount(0);
    expect(await done()).toBeGreaterThan(0);
  } finally {
    await Device.endAll();
    await Installation.endAll();
    disk.end();
  }
});

test('a damaged line in the phone’s log is told, its neighbours stay and are sent', async () => {
  const server = await begin();
  await firstPhone(phone, server);
  await keptForOffline(page);
  await startRound(page, 'Irrigation valve body');
  await expect(page.getByRole('link', { name: 'All sent' })).toBeVisible();
  await server.stop('SIGKILL');
  const group = await page.locator('.row.lit .strong').allInnerTexts(); // in the order in which their looks are written
  await lookAtNext(page);
  const seen = () => page.locator('.row', { hasText: 'nothing seen' }).locator('.strong');
  await expect(seen()).not.toHaveCount(0);
  const looked = await seen().allInnerTexts();
  const round = page.url();

  await phone.close();
  damage(phone.profile);
  await phone.start();
  page = phone.page;
  await page.goto(round);
  const left = looked.filter((name) => name !== group[1]);
  await expect(seen()).toHaveText(left);
  await page.getByRole('link', { name: '1 damaged line' }).click();
  await expect(page.getByText('1 damaged line was set aside; the rest is whole.')).toBeVisible();
  await expect(page.getByText(`${left.length} records not sent yet`)).toBeVisible();

  await server.run();
  await button('Sync now').click();
  await expect(page.getByText('All records are sent.')).toBeVisible();
  const { joints } = await asked<{ joints: { name: string; mark: string }[] }>(page, server.address, 'round', { id: round.split('/r/')[1] });
  expect(joints.filter(({ mark }) => mark === 'ring').map(({ name }) => name)).toEqual(left);
});

test('a damaged store stops the server with words, and is left as it is', async () => {
  const server = await begin([], online);
  await firstPhone(phone, server);
  await server.stop();
  const path = join(server.folder, 'jointwalk.db');
  const whole = readFileSync(path);
  const noise = Buffer.concat([Buffer.alloc(8192, 0xa5), whole.subarray(8192)]);
  for (const [how, bytes] of Object.entries({ overwritten: noise, cut: whole.subarray(0, whole.length / 2), emptied: Buffer.alloc(0) })) {
    writeFileSync(path, bytes);
    const { status, stderr } = spawnSync(binary, ['--data', server.folder, '--listen', '127.0.0.1:0'], { encoding: 'utf8', timeout: 10_000 });
    expect(status, how).toBe(1);
    expect(stderr, how).toContain(`the store in ${server.folder} is damaged and was left as it is; restore a backup`);
    expect(readFileSync(path).equals(bytes), how).toBe(true);
  }
  writeFileSync(path, whole);
  await server.run();
  await page.goto(server.address);
  await expect(page.getByRole('link', { name: 'All sent' })).toBeVisible();
});

/** Puts a wrong byte into the second look of the phone's own log, wherever the browser keeps that. */
function damage(profile: string): void {
  const files = readdirSync(profile, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
  const logs = files.map((one) => join(one.parentPath, one.name)).filter((path) => readFileSync(path).includes('"stream":"own"'));
  expect(logs.length).toBe(1);
  const bytes = readFileSync(logs[0] ?? '');
  const look = '"kind":"look-made"';
  const second = bytes.indexOf(look, bytes.indexOf(look) + 1);
  expect(second).toBeGreaterThan(0);
  bytes.write('#', second + look.length / 2);
  writeFileSync(logs[0] ?? '', bytes);
}

/** Types into one of the numbers of a count. */
async function type(which: RegExp, text: string): Promise<void> {
  await button(which).click();
  await erase(page);
  await press(page, text);
}

/** It is told, and cannot be saved. */
async function refused(words: string): Promise<void> {
  await expect(page.getByRole('alert')).toHaveText(words);
  await expect(page.getByRole('contentinfo').getByRole('button')).toBeDisabled();
}

/** The figure at the head of a flow's words. */
function numbersOf(words: string): string {
  return /^[\d.]+/.exec(words)?.[0] ?? 'no number';
}
