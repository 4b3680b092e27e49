import { expect, type Page } from '@playwright/test';
import type { Device } from './browser';
import type { Installation } from './installation';
import { sent } from './plant';

/** Makes the first person on a phone, with the example site, until all of it is held there. */
export async function firstPhone(phone: Device, server: Installation, address = server.address): Promise<void> {
  const { page } = phone;
  await page.goto(server.setupLink.replace(server.address, address));
  await page.getByLabel('Your name').fill('First person');
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.waitForURL(`${address}/`);
  await sent(page);
  await expect(page.getByText('Irrigation valve body').first()).toBeVisible();
}

/** Starts a round of a fixture as last time. */
export async function startRound(page: Page, fixture: string): Promise<void> {
  await page.getByText(fixture).first().click();
  await page.getByRole('link', { name: 'Start a round' }).click();
  await page.getByRole('button', { name: 'Start the round' }).click();
  await page.waitForURL(/\/r\//);
}

/** Looks at the proposed group and sees nothing there. */
export async function lookAtNext(page: Page): Promise<void> {
  await page.getByRole('button', { name: /wetted: start$/ }).click();
  await page.getByRole('button', { name: /nothing seen$/ }).click();
}
