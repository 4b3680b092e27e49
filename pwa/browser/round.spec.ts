/** The screens of a round, in every state that a thumb brings them to: no barrier in any theme, language and width. */
import { expect, type Page, test } from '@playwright/test';
import { deskSize, Device, phoneSize } from './browser';
import { faultless } from './faultless';
import { Installation } from './installation';
import { asked, firstDesk } from './plant';

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

const dresses = [
  { size: phoneSize, theme: 'outdoor', language: 'es' },
  { size: { width: 320, height: 640 }, theme: 'light', language: 'en' },
  { size: deskSize, theme: 'dark', language: 'en' },
];

/** Presses what a selector finds first; words differ by language, places do not. */
async function press(page: Page, selector: string): Promise<void> {
  await page.locator(selector).first().click();
}

const main = 'footer .button.main';

for (const { size, theme, language } of dresses) {
  test(`a round at ${size.width}, ${theme}, ${language}`, async () => {
    test.setTimeout(180_000);
    const installation = await Installation.start();
    const { page } = await firstDesk(installation);
    const { sites } = await asked<{ sites: { fixtures: { id: string }[] }[] }>(page, installation.address, 'home', {});
    await page.setViewportSize(size);
    await page.evaluate((kept) => Object.entries(kept).forEach(([key, value]) => localStorage.setItem(key, value)), {
      'jointwalk-theme': theme,
      'jointwalk-language': language,
    });
    await page.goto(`${installation.address}/f/${sites[0]?.fixtures[2]?.id}`);
    await faultless(page, 'fixture');
    await start(page);
    await watch(page);
    await sizeIt(page);
    await mend(page);
    await end(page);
  });
}

async function start(page: Page): Promise<void> {
  await press(page, main);
  await page.waitForURL(/\/round$/);
  await expect(page.locator('.same')).toBeVisible();
  await faultless(page, 'start');
  await press(page, '.same .button');
  await faultless(page, 'conditions');
  await press(page, main);
  await page.waitForURL(/\/r\/[^/]+$/);
}

async function watch(page: Page): Promise<void> {
  await expect(page.locator('.row.lit')).toHaveCount(5);
  await faultless(page, 'group');
  await press(page, main);
  await press(page, '.row:nth-child(2) .row-main');
  await expect(page.locator('.row.bubbling')).toHaveCount(1);
  await faultless(page, 'group running');
  await press(page, '.row:nth-child(3) .row-side');
  await faultless(page, 'more of a joint');
  await press(page, 'dialog .choice .pick');
  await expect(page.locator('.row.lit')).toHaveCount(4);
  await press(page, main);
  await page.waitForURL(/\/leak\//);
}

async function sizeIt(page: Page): Promise<void> {
  await faultless(page, 'leak');
  await press(page, '.choice.even.slim .pick:nth-child(3)');
  await press(page, main);
  for (let n = 0; n < 4; n++) {
    await page.waitForTimeout(300);
    await page.locator('.tap-area').dispatchEvent('pointerdown', { pointerId: 1, isPrimary: true });
    await page.locator('.tap-area').dispatchEvent('pointerup', { pointerId: 1, isPrimary: true });
  }
  await faultless(page, 'tapping');
  await press(page, '.tap-pad .button.main');
  await press(page, '.sizes .pick:last-child');
  await press(page, '.pad button:nth-child(11)');
  await expect(page.locator('.leak-figure [role=alert]')).toBeVisible();
  await faultless(page, 'a size of zero');
  await press(page, '.sizes .pick:nth-child(2)');
  await expect(page.locator('.leak-figure .figure')).toBeVisible();
  await faultless(page, 'sized');
  await press(page, main);
}

async function mend(page: Page): Promise<void> {
  await expect(page.locator('.mend')).toBeVisible();
  await faultless(page, 'after');
  await press(page, '.mend .button');
  await press(page, '.mend .pick');
  await faultless(page, 'mending');
  await press(page, main);
  await expect(page.locator('.stopwatch')).toBeVisible();
  await faultless(page, 'second look');
  await press(page, main);
  await page.waitForURL(/\/r\/[^/]+$/);
}

async function end(page: Page): Promise<void> {
  const round = page.url();
  await page.goto(`${round}/end`);
  await expect(page.locator('.put-back')).toHaveCount(8);
  await press(page, '.put-back');
  await faultless(page, 'end');
  await press(page, main);
  await page.waitForURL(/\/f\//);
  await page.goto(round);
  await faultless(page, 'round that is over');
}
