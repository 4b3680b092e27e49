/** What people settle: a joint that two people renamed apart, a fixture that went to another site. */
import { expect, type Page, test } from '@playwright/test';
import { Device, deskSize, phoneSize } from './browser';
import { faultless } from './faultless';
import { Installation } from './installation';
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
  const phone = await pairedPhone(await invite(desk, server, 'Technician one', 'technician'));
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
  await expect(desk.page.getByText('Technician one', { exact: false })).toBeVisible();
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
