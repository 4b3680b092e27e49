/** A picture is withdrawn: its bytes leave the device that took it, the server, and every screen; hash, name and reason stay. */
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { Device, deskSize, online, phoneSize } from './browser';
import { faultless } from './faultless';
import { Installation, until } from './installation';
import { look } from './look';
import { firstDesk, invite, pairedPhone, sent } from './plant';

const photo = join(import.meta.dirname, '..', '..', 'testdata', 'images', 'look.png');

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

/** How often a JPEG begins in the files of the phone's app. */
function jpegsHeld(page: Page): Promise<number> {
  return page.evaluate(async () => {
    let found = 0;
    const walk = async (folder: FileSystemDirectoryHandle): Promise<void> => {
      for await (const one of (folder as unknown as { values(): AsyncIterable<FileSystemHandle> }).values()) {
        if (one.kind === 'directory') await walk(one as FileSystemDirectoryHandle);
        else {
          const bytes = new Uint8Array(await (await (one as FileSystemFileHandle).getFile()).arrayBuffer());
          for (let at = 0; at + 2 < bytes.length; at++) {
            if (bytes[at] === 0xff && bytes[at + 1] === 0xd8 && bytes[at + 2] === 0xff) found++;
          }
        }
      }
    };
    await walk(await navigator.storage.getDirectory());
    return found;
  });
}

async function takePicture(page: Page): Promise<void> {
  await page.locator('.picture-add input').setInputFiles(photo);
  await page.getByRole('button', { name: 'Keep the picture' }).click();
  await expect(page.getByText('Picture kept, its location removed.')).toBeVisible();
  await expect(page.getByRole('img', { name: /^Picture of / })).toBeVisible();
}

/** Withdraws the one picture of a finding with a reason. */
async function withdraw(page: Page, why: string, name: string): Promise<void> {
  await page.getByRole('button', { name: 'Withdraw this picture' }).click();
  await expect(page.getByText(/nightly copies hold the picture for up to 14 days more/)).toBeVisible();
  const go = page.getByRole('button', { name: 'Withdraw it for good' });
  await expect(go).toBeDisabled();
  await page.getByLabel('Why it is withdrawn').fill(why);
  await look(page, name);
  await faultless(page, name);
  await go.click();
}

async function gone(page: Page, why: string, by: string): Promise<void> {
  await expect(page.getByText('Picture withdrawn', { exact: true })).toBeVisible();
  await expect(page.locator('.picture').getByText(why)).toBeVisible();
  await expect(page.locator('.picture').getByText(new RegExp(`^${by} · `))).toBeVisible();
  await expect(page.locator('.picture').getByText(/^SHA-256 [0-9a-f]{64}$/)).toBeVisible();
  await expect(page.getByRole('img', { name: /^Picture of / })).toHaveCount(0);
}

test('one device withdraws a picture, and the other one drops its copy', async () => {
  const server = await Installation.start();
  const desk = await firstDesk(server);
  await desk.page.goto(`${server.address}/findings`);
  await desk.page.locator('a[href^="/finding/"]').first().click();
  await desk.page.waitForURL(/\/finding\//);
  const finding = desk.page.url();
  const phone = await pairedPhone(await invite(desk, server, 'Technician one', 'technician'), online);
  await phone.page.goto(finding);
  await takePicture(phone.page);
  await sent(phone.page);
  expect(await jpegsHeld(phone.page)).toBe(1);

  await expect(phone.page.getByText('1 picture', { exact: false })).toHaveCount(0);
  await desk.page.reload(); // it may have asked for the picture before that had come
  await expect(desk.page.getByRole('img', { name: /^Picture of / })).toBeVisible({ timeout: 20_000 });
  const address = (await desk.page.getByRole('img', { name: /^Picture of / }).getAttribute('src')) ?? '';
  expect(address).toMatch(/^\/api\/pictures\//);
  await look(desk.page, 'picture');
  await withdraw(desk.page, 'A colleague stands in it', 'withdraw');
  await gone(desk.page, 'A colleague stands in it', 'Supervisor one');
  await look(desk.page, 'withdrawn');
  await until(
    async () => (await desk.page.request.get(`${server.address}${address}`)).status() === 410,
    () => 'the server serves it still',
  );

  await phone.page.reload(); // comes back into view, and syncs
  await gone(phone.page, 'A colleague stands in it', 'Supervisor one');
  expect(await jpegsHeld(phone.page)).toBe(0);
  await faultless(phone.page, 'withdrawn');
  await look(phone.page, 'withdrawn');
});

test('who took a picture withdraws it offline: it is gone at once, and is not sent', async () => {
  const server = await Installation.start();
  const desk = await firstDesk(server);
  await desk.page.goto(`${server.address}/findings`);
  await desk.page.locator('a[href^="/finding/"]').first().click();
  await desk.page.waitForURL(/\/finding\//);
  const phone = await pairedPhone(await invite(desk, server, 'Technician one', 'technician'));
  await phone.page.goto(desk.page.url());
  await expect(phone.page.locator('.picture-add')).toBeVisible({ timeout: 20_000 }); // the finding has come
  await phone.network(false);
  await takePicture(phone.page);
  await expect(phone.page.getByText('1 picture', { exact: false }).first()).toBeVisible();
  await look(phone.page, 'picture');
  await withdraw(phone.page, 'A secret of the plant', 'withdraw');
  await gone(phone.page, 'A secret of the plant', 'Technician one');
  expect(await jpegsHeld(phone.page)).toBe(0);
  await expect(phone.page.getByText('1 picture', { exact: false })).toHaveCount(0);
  await phone.network(true);
  await sent(phone.page);
  await gone(desk.page, 'A secret of the plant', 'Technician one');
  for (const [device, size] of [[phone, phoneSize], [desk, deskSize]] as const) {
    await device.page.setViewportSize(size);
    await faultless(device.page, 'withdrawn');
  }
});
