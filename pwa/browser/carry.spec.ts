/** Records that go by file: out of a phone without a network, into the server by a desk; and one that is set aside and sent again. */
import { readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { Device } from './browser';
import { Installation } from './installation';
import { faultless } from './faultless';
import { lookAtNext, startRound } from './phone';
import { asked, firstDesk, invite, keptForOffline, pairedPhone, sent } from './plant';

let server: Installation;
let desk: Device;

test.beforeEach(async () => {
  server = await Installation.start();
  desk = await firstDesk(server, 'example', {});
  await keptForOffline(desk.page);
});

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

/** Puts what is unsent into a file; its path. */
async function putOut(page: Page): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Unsent records into a file' }).click()]);
  const path = join(tmpdir(), `jointwalk-${server.port}.ndjson`);
  await download.saveAs(path);
  return path;
}

/** Without a network the help is there, and a report tells what is unsent and of nobody. */
async function helped(page: Page): Promise<void> {
  await page.goto(`${server.address}/help/bubbles`);
  await expect(page.getByRole('heading', { name: 'Creeping froth' })).toBeVisible();
  await faultless(page, 'help');
  await page.goto(`${server.address}/phone`);
  await page.getByRole('link', { name: 'Report a problem' }).click();
  await expect(page.getByRole('heading', { name: 'Report a problem' })).toBeFocused();
  await expect(page.locator('pre')).toContainText(/"unsent": [1-9]/);
  await expect(page.locator('pre')).not.toContainText('Technician one');
  await faultless(page, 'report');
  await page.getByRole('link', { name: 'Back' }).click();
}

/** Brings a file in at the desk. */
async function bringIn(path: string): Promise<void> {
  await desk.page.goto(`${server.address}/phone`);
  await desk.page.getByLabel('Choose the file').setInputFiles(path);
}

test('what a phone cannot send goes into a file without a network, and comes in once however often', async () => {
  const phone = await pairedPhone(await invite(desk, server, 'Technician one', 'technician'));
  await keptForOffline(phone.page);
  const { page } = phone;
  await startRound(page, 'Irrigation valve body');
  await sent(page);
  const round = page.url().split('/r/')[1];
  await keptForOffline(page);
  await phone.network(false);
  await lookAtNext(page);
  await page.getByRole('link', { name: /records kept here/ }).click();
  const path = await putOut(page);
  const [head, ...lines] = readFileSync(path, 'utf8').trimEnd().split('\n');
  expect(head).toBe('{"jointwalk":"unsent","v":1}');
  expect(lines.every((line) => line.includes('"kind":"look-made"'))).toBe(true);
  await expect(page.getByText(`${lines.length} records and 0 pictures are in jointwalk-unsent-`)).toBeVisible();
  await helped(page);

  await bringIn(path);
  await expect(desk.page.getByRole('status').filter({ hasText: 'Done' })).toHaveText(`Done: ${lines.length} records were new.`);
  expect((await asked<{ done: number }>(desk.page, server.address, 'round', { id: round })).done).toBe(lines.length);
  await desk.page.getByLabel('Choose the file').setInputFiles(path);
  await expect(desk.page.getByRole('status').filter({ hasText: 'Done' })).toHaveText(`Done: ${lines.length} were known already.`);

  await phone.network(true);
  await page.getByRole('button', { name: 'Sync now' }).click();
  await expect(page.getByText('All records are sent.')).toBeVisible();
  expect((await asked<{ done: number }>(desk.page, server.address, 'round', { id: round })).done).toBe(lines.length);
});

test('a file that is none is refused with words', async () => {
  const path = join(tmpdir(), `jointwalk-none-${server.port}.ndjson`);
  writeFileSync(path, '{"some":"thing"}\n');
  await bringIn(path);
  await expect(desk.page.getByRole('alert')).toHaveText('That is no file of unsent records. Choose the one that the phone wrote.');
});

test('what was set aside is explained to its owner, and is amended and sent again, or left out', async () => {
  const { page } = desk;
  const { sites } = await asked<{ sites: { fixtures: { id: string }[] }[] }>(page, server.address, 'home', {});
  const id = sites[0]?.fixtures[0]?.id ?? '';
  await page.goto(`${server.address}/f/${id}/edit`);
  await page.getByLabel('Note', { exact: true }).waitFor();
  await desk.network(false);
  await page.getByLabel('Note', { exact: true }).fill('Clamp slowly.');
  await page.getByRole('region', { name: 'The fixture' }).getByRole('button', { name: 'Save' }).click();
  await page.getByRole('link', { name: '1 record kept here' }).click();
  const path = await putOut(page);
  const [head = '', line = ''] = readFileSync(path, 'utf8').split('\n');
  const strange = (log: string) => line.replace(/"log":"[0-9a-f-]+"/, `"log":"${log}"`);
  const logs = ['01900000-0000-7000-8000-000000000001', '01900000-0000-7000-8000-000000000002'];
  writeFileSync(path, [head, ...logs.map(strange), ''].join('\n'));
  await desk.network(true);
  await page.getByRole('button', { name: 'Sync now' }).click();
  await expect(page.getByText('All records are sent.')).toBeVisible();
  await page.getByLabel('Choose the file').setInputFiles(path);
  await expect(page.getByRole('status').filter({ hasText: 'Done' })).toHaveText('Done: 2 were set aside.');

  await page.goto(`${server.address}/asides`);
  await expect(page.getByText('2 records are set aside.')).toBeVisible();
  await expect(page.getByText('No device has told of the log that it comes from.', { exact: false }).first()).toBeVisible();
  await page.getByRole('button', { name: 'Leave it out' }).first().click();
  await expect(page.getByText('One record is set aside.')).toBeVisible();
  await page.getByRole('button', { name: 'Send it again as mine' }).click();
  await page.getByRole('dialog').getByLabel('Note').fill('Clamp slowly, then wait.');
  await faultless(page, 'sending again');
  await page.getByRole('dialog').getByRole('button', { name: 'Send' }).click();
  await expect(page.getByText('Nothing is set aside.')).toBeVisible();
  const note = async () => (await asked<{ note: string }>(page, server.address, 'fixture', { id })).note;
  await expect.poll(note).toBe('Clamp slowly, then wait.');
});
