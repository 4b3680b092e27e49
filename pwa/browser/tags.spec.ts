/** Tags: what a label means can change, by a supervisor, and is on record. */
import { join } from 'node:path';
import { expect, type Locator, type Page, test } from '@playwright/test';
import { Device, online } from './browser';
import { faultless } from './faultless';
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
  const tagAtServer = async (fixture?: string) => (await fixtures()).find(({ id }) => id === fixture)?.tag ?? '';
  await expect.poll(() => tagAtServer(to?.id)).toBe(tag); // the chip may still say what it said before

  const phone = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'), online);
  const leads = async (code: string, fixture?: string) => // once the phone has all: it is filled in slices
    expect(async () => {
      await phone.page.goto(`${installation.address}/t/${code}`);
      await phone.page.waitForURL(`**/f/${fixture}`, { timeout: 5000 });
    }).toPass({ timeout: 40_000 });
  await leads(tag, to?.id);
  await expect(phone.page.getByRole('heading', { level: 1, name: to?.name ?? '' })).toBeVisible();

  await page.goto(`${installation.address}/f/${from?.id}/edit`);
  await expect(page.getByText(`This tag is on ${to?.name} now. Give this fixture another one.`)).toBeVisible();
  await button(page, 'Give it a new tag to print').click();
  await expect(page.getByText('Give this fixture another one.', { exact: false })).toHaveCount(0);
  await expect.poll(() => tagAtServer(from?.id)).toMatch(/^[0-9A-Z]{11}$/);
  const fresh = await tagAtServer(from?.id);
  expect(fresh).not.toBe(tag);
  await leads(fresh, from?.id);
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
  await expect(page.getByRole('button', { name: 'Keep the picture' })).toBeVisible();
  await faultless(page, 'a picture just taken');
  await page.getByRole('button', { name: 'Keep the picture' }).click();
  await expect(shown(page)).toBeVisible();
  await pinTwo(page, `${installation.address}/f/${fixture?.id}/pins`);
  await sent(page);
  await expect(page.getByText('1 picture', { exact: false })).toHaveCount(0);

  const phone = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'), online);
  await phone.page.goto(`${installation.address}/t/${fixture?.tag}`);
  await expect(shown(phone.page)).toBeVisible();
  await expect.poll(() => shown(phone.page).evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(0);
  await expect(phone.page.locator('.pins .pin')).toHaveCount(2);
  if (process.env.LOOKS) await phone.page.screenshot({ path: join(process.env.LOOKS, 'photo-phone.png') });
  await withoutNetwork(phone, shown(phone.page), fixture?.name ?? '');
  if (process.env.LOOKS) await page.screenshot({ path: join(process.env.LOOKS, 'photo-desk.png'), fullPage: true });

  await page.goto(`${installation.address}/f/${fixture?.id}/edit`);
  await section.getByRole('button', { name: 'Withdraw this picture' }).click();
  await page.getByLabel('Why it is withdrawn').fill('a face');
  await page.getByRole('button', { name: 'Withdraw it for good' }).click();
  await expect(shown(page)).toHaveCount(0);
  await phone.network(true);
  await expect(shown(phone.page)).toHaveCount(0); // it is told by itself, now that it hears again
});

/** Another phone than the one that took the photo shows it offline, once it was fetched after all else. */
async function withoutNetwork(phone: Device, photo: Locator, name: string): Promise<void> {
  const { page } = phone;
  const again = async () => {
    await page.getByRole('link', { name: 'Back' }).click();
    await page.getByRole('link', { name }).first().click();
    await expect(photo).toHaveAttribute('src', /^blob:/, { timeout: 1000 });
  };
  await expect(again).toPass({ timeout: 10_000 });
  await phone.network(false);
  await again();
  await expect.poll(() => photo.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(0);
  await expect(page.locator('.pins .pin')).toHaveCount(2);
}

/** Pins one joint by a press and the next by the keyboard. */
async function pinTwo(page: Page, address: string): Promise<void> {
  await page.goto(address);
  const rows = page.locator('.pin-row');
  await page.locator('button.pin-board').click({ position: { x: 40, y: 40 } });
  await expect(rows.nth(0).locator('.pin-number')).toHaveText('1');
  await expect(rows.nth(1)).toHaveAttribute('aria-pressed', 'true');
  await page.locator('button.pin-board').press('ArrowRight');
  await page.locator('button.pin-board').press('Enter');
  await expect(rows.nth(1).locator('.pin-number')).toHaveText('2');
  await expect(rows.nth(2)).toHaveAttribute('aria-pressed', 'true');
  await faultless(page, 'pins');
}
