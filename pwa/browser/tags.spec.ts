/** Tags: what a label means can change, by a supervisor, and is on record. */
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { Device } from './browser';
import { Installation } from './installation';
import { asked, firstDesk, invite, pairedPhone, sent } from './plant';

const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

interface Home {
  sites: { fixtures: { id: string; name: string; tag: string }[] }[];
}

test('a label is given to another fixture: scanned, it leads there, and both say what became of it', async () => {
  const installation = await Installation.start();
  const desk = await firstDesk(installation);
  const { page } = desk;
  const fixtures = async () => (await asked<Home>(page, installation.address, 'home', {})).sites.flatMap((site) => site.fixtures);
  const [from, to] = await fixtures();
  const tag = from?.tag ?? '';

  await page.goto(`${installation.address}/f/${to?.id}/edit`);
  const section = page.getByRole('region', { name: 'Another tag' });
  await section.getByLabel('Code').fill(`${tag.slice(0, 10)}${tag.endsWith('0') ? '1' : '0'}`);
  await expect(section.getByRole('alert')).toBeVisible();
  await expect(button(page, 'It is on this fixture now')).toHaveCount(0);
  await section.getByLabel('Code').fill(tag);
  await expect(section.getByText(`This tag is on ${from?.name} now.`, { exact: false })).toBeVisible();
  await button(page, 'It is on this fixture now').click();
  await expect(section.getByRole('list', { name: 'Tags that it had' }).getByRole('listitem')).toHaveCount(2);
  await expect(section.getByText('by Supervisor one', { exact: false }).first()).toBeVisible();
  await sent(page);

  const phone = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'));
  await phone.page.goto(`${installation.address}/t/${tag}`);
  await phone.page.waitForURL(`**/f/${to?.id}`);
  await expect(phone.page.getByRole('heading', { level: 1, name: to?.name ?? '' })).toBeVisible();

  await page.goto(`${installation.address}/f/${from?.id}/edit`);
  await expect(page.getByText(`This tag is on ${to?.name} now. Give this fixture another one.`)).toBeVisible();
  await button(page, 'Give it a new tag to print').click();
  await expect(page.getByText('Give this fixture another one.', { exact: false })).toHaveCount(0);
  await sent(page);
  const fresh = (await fixtures()).find(({ id }) => id === from?.id)?.tag ?? '';
  expect(fresh).not.toBe(tag);
  await phone.page.goto(`${installation.address}/t/${fresh}`);
  await phone.page.waitForURL(`**/f/${from?.id}`);
});

test('a fixture has a photo: after a scan people see whether the tag is on the right one', async () => {
  const installation = await Installation.start();
  const desk = await firstDesk(installation);
  const { page } = desk;
  const [fixture] = (await asked<Home>(page, installation.address, 'home', {})).sites.flatMap((site) => site.fixtures);
  const shown = (on: Page) => on.getByRole('img', { name: `Photo of ${fixture?.name}` });
  await page.goto(`${installation.address}/f/${fixture?.id}/edit`);
  const section = page.getByRole('region', { name: 'Its photo' });
  await section.locator('input').setInputFiles(join(import.meta.dirname, '..', '..', 'testdata', 'images', 'look.png'));
  await expect(shown(page)).toBeVisible();
  await sent(page);

  const phone = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'));
  await phone.page.goto(`${installation.address}/t/${fixture?.tag}`);
  await expect(shown(phone.page)).toBeVisible();
  await expect.poll(() => shown(phone.page).evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(0);
  if (process.env.LOOKS) await phone.page.screenshot({ path: join(process.env.LOOKS, 'photo-phone.png') });
  if (process.env.LOOKS) await page.screenshot({ path: join(process.env.LOOKS, 'photo-desk.png'), fullPage: true });

  await section.getByRole('button', { name: 'Withdraw this picture' }).click();
  await page.getByLabel('Why it is withdrawn').fill('a face');
  await page.getByRole('button', { name: 'Withdraw it for good' }).click();
  await expect(shown(page)).toHaveCount(0);
});
