/** The bubble of a finding is measured in a picture, by keys alone; its size becomes a correction. */
import { expect, type Page, test } from '@playwright/test';
import { Device, phoneSize } from './browser';
import { faultless } from './faultless';
import { Installation } from './installation';
import { firstDesk } from './plant';

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

/** A card straight on, ten pixels a millimetre, its first corner at 470, 350, and a bubble of 64 pixels in the middle of the picture. */
async function drawn(page: Page): Promise<Buffer> {
  const address = await page.evaluate(() => {
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [1600, 1200];
    const pen = canvas.getContext('2d')!;
    pen.fillStyle = '#555';
    pen.fillRect(0, 0, 1600, 1200);
    pen.fillStyle = '#eee';
    pen.fillRect(470, 350, 856, 540);
    pen.fillStyle = '#234';
    pen.beginPath();
    pen.arc(800, 600, 32, 0, 7);
    pen.fill();
    return canvas.toDataURL('image/png');
  });
  return Buffer.from(address.split(',')[1] ?? '', 'base64');
}

/** Moves the chosen point by tens of pixels and goes on to the next. */
async function put(page: Page, right: number, down: number): Promise<void> {
  for (let i = 0; i < Math.abs(right); i++) await page.keyboard.press(right > 0 ? 'Shift+ArrowRight' : 'Shift+ArrowLeft');
  for (let i = 0; i < Math.abs(down); i++) await page.keyboard.press(down > 0 ? 'Shift+ArrowDown' : 'Shift+ArrowUp');
  await page.keyboard.press('Enter');
}

test('a bubble is measured in a picture by keys, and its size is used', async () => {
  const server = await Installation.start();
  const { page } = await firstDesk(server);
  await page.setViewportSize(phoneSize);
  await page.goto(`${server.address}/findings`);
  await page.locator('a[href^="/finding/"]').first().click();
  await page.waitForURL(/\/finding\//);
  await page.locator('.picture-add input').setInputFiles({ name: 'bubble.png', mimeType: 'image/png', buffer: await drawn(page) });
  await page.getByRole('button', { name: 'Keep the picture' }).click();
  await page.getByRole('link', { name: 'Measure the bubble' }).click();

  const stage = page.locator('.measure-stage');
  await stage.focus();
  await put(page, -1, -1);
  await put(page, 20, -1);
  await put(page, 20, 5);
  await put(page, -1, 5);
  await faultless(page, 'measure-scale');
  await page.getByRole('button', { name: 'Next: the bubble' }).click();
  await stage.focus();
  await page.keyboard.press('Enter');
  // 6.4 mm in the card's plane, less 3 % for the depth that is expected: worked by hand in calc/picture.
  await expect(page.locator('.measure-says .figure strong').first()).toHaveText('6.20');
  await page.getByRole('button', { name: 'One pixel right' }).click();
  await expect(page.locator('.measure-says .figure strong').first()).not.toHaveText('6.20');
  await page.reload(); // what was pointed at is kept
  await expect(page.locator('.measure-says .figure strong').first()).not.toHaveText('6.20');
  await page.getByRole('button', { name: 'One pixel left' }).click();
  await expect(page.locator('.measure-says .figure strong').first()).toHaveText('6.20');
  await faultless(page, 'measure-rim');
  await page.getByRole('button', { name: 'Use this size' }).click();
  await expect(page.getByText('measured in a picture', { exact: true })).toBeVisible();
  await expect(page.getByText('Size used.', { exact: false })).toBeVisible();
});
