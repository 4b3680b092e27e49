import { expect, type Page } from '@playwright/test';
import type { Device } from './browser';
import type { Installation } from './installation';
import { sent, setUp } from './plant';

/** Makes the first person on a phone, with the example site, until all of it is held there. */
export async function firstPhone({ page }: Device, server: Installation): Promise<void> {
  await setUp(page.request, server, 'Phone');
  await page.goto(server.address);
  await held(page);
}

/** The same as people do it: by the link that the server shows. */
export async function firstByHand({ page }: Device, server: Installation, address = server.address): Promise<void> {
  await page.goto(server.setupLink.replace(server.address, address));
  await page.getByLabel('Your name').fill('First person');
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.waitForURL(`${address}/`);
  await held(page);
}

async function held(page: Page): Promise<void> {
  await sent(page);
  await expect(page.getByText('Irrigation valve body').first()).toBeVisible();
}

/** Starts a round of a fixture as last time, unless something is changed first. */
export async function startRound(page: Page, fixture: string, change?: () => Promise<void>): Promise<void> {
  await page.getByText(fixture).first().click();
  await page.getByRole('link', { name: 'Start a round' }).click();
  await change?.();
  await page.getByRole('button', { name: 'Start the round' }).click();
  await page.waitForURL(/\/r\//);
}

/** Looks at the proposed group and sees nothing there. */
export async function lookAtNext(page: Page): Promise<void> {
  await page.getByRole('button', { name: /wetted: start$/ }).click();
  await page.waitForTimeout(100); // sooner it would be the ghost of the first press
  await page.getByRole('button', { name: /^All \d+: nothing seen$/ }).click();
}

/** Opens the page of a leak at the first joint of a round. */
export async function openLeak(page: Page): Promise<void> {
  await page.getByRole('button', { name: /^More for/ }).first().click();
  await page.getByRole('button', { name: 'Leaks: size it' }).click();
  await page.waitForURL(/\/leak\//);
}

const keys = (page: Page) => page.getByRole('group', { name: 'Number keys' });

/** Types a number on the app's own keys, five digits of it, behind what stands there. */
export async function press(page: Page, number: number | string): Promise<void> {
  const text = typeof number === 'string' ? number : String(Number(number.toPrecision(5)));
  for (const key of text) await keys(page).getByText(key, { exact: true }).click();
}

/** Takes off all that the keys typed: six characters are the most. */
export async function erase(page: Page): Promise<void> {
  for (let n = 0; n < 6; n++) await keys(page).getByRole('button', { name: 'Erase' }).click();
}
