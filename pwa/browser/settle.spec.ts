/** What people settle: what two changed apart, a fixture that went to another site, what was set aside, a device that was lost. */
import { expect, type Page, test } from '@playwright/test';
import { Device, deskSize, phoneSize } from './browser';
import { faultless } from './faultless';
import { Installation } from './installation';
import { lookAtNext, startRound } from './phone';
import { asked, firstDesk, invite, pairedPhone, sent } from './plant';

let server: Installation;
let desk: Device;

test.beforeEach(async () => {
  server = await Installation.start();
  desk = await firstDesk(server);
});

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

/** The fixture of the example that this is about. */
async function fixture(page: Page): Promise<string> {
  const { sites } = await asked<{ sites: { fixtures: { id: string; name: string }[] }[] }>(page, server.address, 'home', {});
  const found = sites.flatMap(({ fixtures }) => fixtures).find(({ name }) => name === 'Irrigation valve body');
  if (!found) throw new Error('no such fixture');
  return found.id;
}

async function rename(page: Page, to: string): Promise<void> {
  await page.getByRole('button', { name: 'Edit Rear clamp rod' }).click();
  await page.getByLabel('Name', { exact: true }).last().fill(to);
  await page.getByRole('dialog').getByRole('button', { name: 'Save', exact: true }).click();
  await expect(page.getByRole('dialog')).toHaveCount(0);
}

test('a joint that two people renamed apart shows both names, and one press settles it for everybody', async () => {
  const id = await fixture(desk.page);
  const phone = await pairedPhone(await invite(desk, server, 'Supervisor two', 'supervisor'));
  for (const { page } of [desk, phone]) await page.goto(`${server.address}/f/${id}/edit`);
  await phone.page.getByRole('button', { name: 'Edit Rear clamp rod' }).waitFor();
  await phone.network(false);
  await rename(phone.page, 'Clamp rod, left');
  await rename(desk.page, 'Clamp rod, behind');
  await sent(desk.page);
  await phone.network(true);
  await phone.page.goto(`${server.address}/phone`);
  await phone.page.getByRole('button', { name: 'Sync now' }).click();
  await expect(phone.page.getByText('All records are sent.')).toBeVisible();

  await phone.page.goto(`${server.address}/f/${id}`);
  const both = phone.page.getByRole('region', { name: /^Clamp rod, .*: the joint’s name$/ });
  await expect(both.getByRole('listitem')).toHaveCount(2);
  await faultless(phone.page, 'fixture changed apart');

  await desk.page.goto(server.address);
  await desk.page.getByRole('link', { name: '1 thing was changed by two people: settle it' }).click();
  await expect(desk.page.getByText('Supervisor two', { exact: false })).toBeVisible();
  for (const size of [deskSize, phoneSize]) {
    await desk.page.setViewportSize(size);
    await faultless(desk.page, 'changed apart');
  }
  await desk.page.setViewportSize(deskSize);
  await desk.page.getByRole('button', { name: 'This one holds: Clamp rod, left' }).click();
  await expect(desk.page.getByText('Nothing stands open')).toBeVisible();

  await phone.page.goto(`${server.address}/phone`);
  await phone.page.getByRole('button', { name: 'Sync now' }).click();
  await phone.page.goto(`${server.address}/f/${id}`);
  await expect(phone.page.getByRole('main').getByText('Clamp rod, left', { exact: true }).first()).toBeVisible();
  await expect(both).toHaveCount(0);
});

test('a fixture taken to another site stands there with its history', async () => {
  const id = await fixture(desk.page);
  const { page } = desk;
  await page.goto(`${server.address}/sites`);
  await page.getByRole('button', { name: 'Add a site' }).click();
  await page.getByLabel('Name of the site').fill('Second plant');
  await page.getByRole('button', { name: 'Save' }).click();
  await expect(page.getByRole('heading', { name: 'Second plant' })).toBeVisible();
  await page.goto(`${server.address}/f/${id}/edit`);
  await page.getByLabel('It stands at').selectOption({ label: 'Second plant' });
  await page.getByRole('button', { name: 'It stands there now' }).click();
  await sent(page);
  await page.goto(`${server.address}/f/${id}`);
  await expect(page.getByText('Second plant')).toBeVisible();
  const { siteName, rounds } = await asked<{ siteName: string; rounds: unknown[] }>(page, server.address, 'fixture', { id });
  expect(siteName).toBe('Second plant');
  expect(rounds.length).toBeGreaterThan(3);
});

test('a device that is shut out closes with the reason; what it held is set aside, and a supervisor lets it in', async () => {
  const { page } = desk;
  const phone = await pairedPhone(await invite(desk, server, 'Technician one', 'technician'));
  await startRound(phone.page, 'Irrigation valve body');
  await sent(phone.page);
  const round = phone.page.url().split('/r/')[1];
  const done = async () => (await asked<{ done: number }>(page, server.address, 'round', { id: round })).done;
  await phone.network(false);
  await lookAtNext(phone.page);

  await page.goto(`${server.address}/upkeep`);
  await expect(page.getByText('Devices')).toBeVisible();
  await faultless(page, 'upkeep');
  await page.getByRole('button', { name: 'Shut out Phone' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Shut it out' }).click();
  await expect(page.getByText('shut out', { exact: false }).first()).toBeVisible();

  await phone.network(true);
  await phone.page.goto(server.address);
  await expect(phone.page.getByText('A supervisor shut this device out, so nothing can be recorded here any more.')).toBeVisible();
  await expect(phone.page.getByText('What it had recorded is with the server.')).toBeVisible();
  await faultless(phone.page, 'shut out');
  expect(await done()).toBe(0);

  await page.goto(server.address);
  await page.getByRole('link', { name: 'Set aside' }).click();
  await expect(page.getByText('It comes from a device that was shut out.').first()).toBeVisible();
  await expect(page.getByText(/^Instrument test port · Technician one · Irrigation valve body · Example plant · came in /)).toBeVisible();
  await expect(page.getByText('nothing seen').first()).toBeVisible();
  for (const size of [phoneSize, deskSize]) {
    await page.setViewportSize(size);
    await faultless(page, 'set aside');
  }
  const looks = await page.getByRole('button', { name: 'Accept it as it is' }).count();
  for (let left = looks; left > 0; left--) {
    await page.getByRole('button', { name: 'Accept it as it is' }).first().click();
    await expect(page.getByRole('button', { name: 'Accept it as it is' })).toHaveCount(left - 1);
  }
  await expect(page.getByText('Nothing is set aside.')).toBeVisible();
  expect(await done()).toBe(looks);
});
