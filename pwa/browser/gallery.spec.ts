/** The gallery: every part in every state, in each theme, width, language and with gloves; its pictures are for people to look at. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { createServer, type ViteDevServer } from 'vite';
import { Device, online } from './browser';
import { barriers } from './faultless';

let server: ViteDevServer;
let address = '';

test.describe.configure({ mode: 'default' }); // one server serves all of it

test.beforeAll(async () => {
  server = await createServer({ root: join(import.meta.dirname, '..'), logLevel: 'error', server: { host: '127.0.0.1', port: 0, proxy: {} } });
  await server.listen();
  address = server.resolvedUrls?.local[0] ?? '';
});

test.afterAll(async () => {
  await Device.endAll();
  await server.close();
});

test('the app is built without it', () => {
  const built = readdirSync(join(import.meta.dirname, '..', 'dist'), { recursive: true }).map(String);
  expect(built).toContain('index.html');
  expect(built.filter((name) => name.includes('gallery'))).toEqual([]);
});

const dresses = [
  { width: 390, theme: 'light', language: 'en', gloves: 'off' },
  { width: 320, theme: 'outdoor', language: 'es', gloves: 'on' },
  { width: 1440, theme: 'dark', language: 'de', gloves: 'off' },
];

test('every part in every state, without a barrier and within the screen', async ({}, info) => {
  const { page } = await Device.open(online);
  await page.goto(`${address}gallery/gallery.css`); // some page there, to dress it before it is drawn
  for (const { width, ...kept } of dresses) {
    await page.setViewportSize({ width, height: 844 });
    await page.evaluate((values) => Object.entries(values).forEach(([key, value]) => localStorage.setItem(`jointwalk-${key}`, value)), kept);
    await page.goto(`${address}gallery/index.html`);
    await page.locator('[data-ready]').waitFor({ state: 'attached' });
    const place = `${width}, ${kept.theme}, ${kept.language}`;
    const { violations } = await barriers(page, 'page-has-heading-one');
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`), place).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), place).toBeLessThanOrEqual(0);
    if (kept.gloves === 'on') expect(await lowerThan(page, 96), place).toEqual([]);
    await page.screenshot({ path: info.outputPath(`${place}.png`), fullPage: true });
  }
  await page.setViewportSize({ width: 390, height: 844 });
  await page.evaluate(() => (document.documentElement.style.fontSize = '200%'));
  await page.screenshot({ path: info.outputPath('390, letters twice as large.png'), fullPage: true });
  expect(await beyond(page), 'letters twice as large').toEqual([]);
});

/** Main acts, choices and rows that are lower than so many pixels, by their words. */
function lowerThan(page: Page, pixels: number): Promise<string[]> {
  return page.locator('.button.main, .button.quiet, .pick, .row-main').evaluateAll(
    (all, least) => all.filter((one) => one.clientHeight > 0 && (one as HTMLElement).offsetHeight < least && !one.closest('.slim')).map((one) => `${one.className}: ${one.textContent}`),
    pixels,
  );
}

/** What stands beyond the right edge of the screen, or is cut off within what holds it; a field's text may be longer than it. */
function beyond(page: Page): Promise<string[]> {
  return page.locator('body *:not(svg *, input)').evaluateAll((all) =>
    all
      .filter((one) => {
        const cut = getComputedStyle(one).overflowX !== 'visible' && one.scrollWidth > one.clientWidth + 1 && !one.classList.contains('spoken');
        return cut || one.getBoundingClientRect().right > innerWidth + 1;
      })
      .map((one) => `${one.tagName}.${one.getAttribute('class') ?? ''}: ${one.textContent?.slice(0, 40)}`),
  );
}
