/** What every page must keep to: no barrier, nothing wider than the screen, on a phone nothing too small to press. */
import AxeBuilder from '@axe-core/playwright';
import { expect, type Page } from '@playwright/test';

/** Checks the page as it stands; `where` names it when something is wrong. */
export async function faultless(page: Page, where: string): Promise<void> {
  await settled(page);
  const width = page.viewportSize()?.width ?? 0;
  const place = `${where} at ${width}`;
  const { violations } = await barriers(page);
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`), place).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), place).toBeLessThanOrEqual(0);
  if (width < 900) expect(await tooSmall(page), place).toEqual([]);
}

/**
 * What axe finds, some rules left out. Our pages have no frames of others, for which alone axe opens a second page to put its results together, and
 * of what is right it need not write a report: both cost more than its rules.
 */
export async function barriers(page: Page, ...without: string[]): ReturnType<AxeBuilder['analyze']> {
  await still(page);
  return new AxeBuilder({ page }).setLegacyMode().options({ resultTypes: ['violations'] }).disableRules(without).analyze();
}

/** Waits until nothing moves any more: half faded is neither colour. */
async function still(page: Page): Promise<void> {
  await page.evaluate(() => Promise.allSettled(document.getAnimations().map(({ finished }) => finished)));
}

/** Waits for the page's own words, once the chip knows how things stand. */
async function settled(page: Page): Promise<void> {
  await expect(page.locator('.chip').first()).not.toBeEmpty();
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
