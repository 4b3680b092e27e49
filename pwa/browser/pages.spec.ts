/** The pages of the desk, of findings, of scanning and of coming in: no barrier, nothing wider than the screen, nothing too small to press. */
import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';
import { deskSize, Device, phoneSize } from './browser';
import { Installation } from './installation';
import { asked, firstDesk } from './plant';

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

/** The paths of all these pages at an installation with the example. */
async function paths(page: Page, address: string): Promise<string[]> {
  const { sites } = await asked<{ sites: { fixtures: { id: string }[] }[] }>(page, address, 'home', {});
  const { findings } = await asked<{ findings: { id: string }[] }>(page, address, 'findings', {});
  const fixture = sites[0]?.fixtures[0]?.id;
  return ['/', '/scan', '/t/0000000000A', '/sites', `/f/${fixture}/edit`, '/people', '/findings', `/finding/${findings[0]?.id}`, '/phone', '/join', '/setup'];
}

/** Each theme and each language once, on a phone and at a desk: what they could break does not depend on the other. */
const dresses = [
  { size: phoneSize, theme: 'outdoor', language: 'en' },
  { size: phoneSize, theme: 'light', language: 'es' },
  { size: deskSize, theme: 'dark', language: 'en' },
];

test('every page, on a phone and at a desk, in every theme and language', async () => {
  test.setTimeout(180_000);
  const installation = await Installation.start();
  const { page } = await firstDesk(installation);
  const all = await paths(page, installation.address);
  for (const { size, theme, language } of dresses) {
    await page.setViewportSize(size);
    await page.evaluate((kept) => Object.entries(kept).forEach(([key, value]) => localStorage.setItem(key, value)), {
      'jointwalk-theme': theme,
      'jointwalk-language': language,
    });
    for (const path of all) await faultless(page, installation.address, path, size.width < 900);
  }
});

async function faultless(page: Page, address: string, path: string, phone: boolean): Promise<void> {
  await page.goto(address + path);
  await settled(page);
  const where = `${path} at ${page.viewportSize()?.width}`;
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`), where).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), where).toBeLessThanOrEqual(0);
  if (phone) expect(await tooSmall(page), where).toEqual([]);
}

/** Waits for the page's own words, once the chip knows how things stand. */
async function settled(page: Page): Promise<void> {
  await expect(page.locator('.chip')).not.toBeEmpty();
  await expect(page.locator('main')).not.toBeEmpty();
  await page.waitForTimeout(400);
}

/** What can be pressed and is lower or narrower than 48 px, by its words; links within a text are let be. */
function tooSmall(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('button, select, summary, input:not([type=file]), textarea, label.button, a')]
      .filter((one) => one.offsetParent !== null)
      .filter((one) => one.offsetHeight < 48 || one.offsetWidth < 48)
      .map((one) => `${one.tagName} ${one.textContent || one.getAttribute('aria-label')} ${one.offsetWidth}×${one.offsetHeight}`),
  );
}
