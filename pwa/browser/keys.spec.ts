/** A round by keys alone: each thing is reached, seen while it has the focus, and leads on; the focus is never lost. */
import { expect, type Page, test } from '@playwright/test';
import { Device, online } from './browser';
import { Installation } from './installation';
import { firstPhone } from './phone';

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

/** What has the focus, by its words; "nothing" where the focus is lost, and with what is wrong where it cannot be seen. */
function focused(page: Page): Promise<string> {
  return page.evaluate(() => {
    const one = document.activeElement;
    if (!(one instanceof HTMLElement) || one === document.body) return 'nothing';
    const words = one.getAttribute('aria-label') ?? one.innerText.replaceAll(/\s+/g, ' ');
    const { left, top, width, height } = one.getBoundingClientRect();
    const there = document.elementFromPoint(left + width / 2, top + height / 2);
    const seen = there !== null && (one.contains(there) || there.contains(one));
    const ring = getComputedStyle(one).outlineStyle !== 'none';
    return `${words}${seen ? '' : ', covered'}${ring ? '' : ', without a ring'}`;
  });
}

/** Goes on by the tab key until that has the focus, and presses a key on it. */
async function go(page: Page, words: string | RegExp, { key = 'Enter', by = 'Tab' } = {}): Promise<void> {
  const all: string[] = [];
  for (let n = 0; n < 45; n++) {
    await page.keyboard.press(by);
    await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn, 0))));
    const here = await focused(page);
    all.push(here);
    expect(here).not.toMatch(/covered$|without a ring$/);
    if (typeof words === 'string' ? here === words : words.test(here)) return page.keyboard.press(key);
  }
  throw new Error(`${words} is not reached: ${all.join(' | ')}`);
}

const led = (page: Page, words: string | RegExp) => expect.poll(() => focused(page)).toMatch(words);

test('a round by keys alone: the focus leads on and is seen', async () => {
  const server = await Installation.start();
  const phone = await Device.open(online);
  await firstPhone(phone, server);
  const { page } = phone;
  await go(page, /^Irrigation valve body/);
  await led(page, /^Irrigation valve body$/);
  await go(page, 'Start a round', { by: 'Shift+Tab' });
  await page.waitForURL(/\/round$/);
  await led(page, /^Irrigation valve body$/);
  await go(page, 'Start the round');
  await page.waitForURL(/\/r\//);
  await led(page, /^Irrigation valve body$/);

  await go(page, 'These 5 are wetted: start', { by: 'Shift+Tab' });
  await led(page, /^Quick coupling at the fixture mended/);
  await go(page, 'More for Quick coupling at the fixture');
  await led(page, /^heard$/);
  await page.keyboard.press('Escape');
  await led(page, /^More for Quick coupling at the fixture$/);
  await go(page, 'More for Instrument test port');
  await go(page, 'Nothing seen, not all around');
  await led(page, /^Tube to manifold, upper nut/);
  await page.keyboard.press('Space');
  await led(page, /^Tube to manifold, upper nut bubbles$/);
  await go(page, 'The rest: nothing seen. Size the leak');
  await page.waitForURL(/\/leak\//);
  await led(page, /^Tube to manifold, upper nut$/);

  await go(page, 'Start the stopwatch');
  await led(page, /^Stop$/);
  await page.waitForTimeout(700); // sooner it would be the press that started it
  await page.keyboard.press('Space');
  await led(page, /^Bubbles –$/);
  await page.keyboard.type('12');
  await page.keyboard.press('Backspace');
  await page.keyboard.type('8');
  await led(page, /^Bubbles 18$/);
  await go(page, '¼ of the tube', { by: 'Shift+Tab' });
  await go(page, 'Save the leak', { by: 'Shift+Tab' });
  await page.keyboard.press('Enter');
  await expect(page.getByText('Leak saved.')).toBeVisible();
  await led(page, /^Tube to manifold, upper nut$/);

  await go(page, 'Both sides vented, zero seen');
  await led(page, /^loose$/);
  await page.keyboard.press('Enter');
  await go(page, 'Pressurised, then wetted: start');
  await led(page, /Nothing seen all around, solution stayed$/);
  await go(page, 'Nothing seen all around, solution stayed');
  await page.waitForURL(/\/r\/[^/]+$/);
  await led(page, /These 5 are wetted: start$/);
  await go(page, 'To the end of the round', { by: 'Shift+Tab' });
  await page.waitForURL(/\/end$/);
  await go(page, 'Settings of the instrument as before', { key: 'Space' });
  await go(page, 'End: 7 things not put back');
  await page.waitForURL(/\/f\//);
  await led(page, /^Irrigation valve body$/);
});
