import { type APIRequestContext, expect, type Page, request } from '@playwright/test';
import { Device, deskSize, online, type Wish } from './browser';
import type { Installation } from './installation';

/** What the server wants of requests that change something, as a page of its own sends it. */
export function ours(address: string): Record<string, string> {
  return { 'X-Jointwalk': '1', Origin: address };
}

/** Who can ask the server: the page of a device, or what stands for it where no screen is looked at. */
export interface Asker {
  readonly page: Pick<Page, 'request'>;
}

/** Makes the first person as the screen of the set-up does; the session is with whoever asks. */
export async function setUp(by: APIRequestContext, installation: Installation, device: string, begin: 'example' | 'empty' = 'example'): Promise<void> {
  const data = { code: installation.setupLink.split('#')[1], name: 'Supervisor one', device, example: begin === 'example' };
  const answer = await by.post(`${installation.address}/api/setup`, { headers: ours(installation.address), data });
  expect(answer.ok(), 'set up').toBe(true);
}

/** Makes the first person without a browser: where they only invite and ask, no screen of theirs is needed. */
export async function clerk(installation: Installation): Promise<Asker> {
  const by = await request.newContext();
  await setUp(by, installation, 'Desk');
  return { page: { request: by } };
}

/** Opens a desk of the first person, made without the screen of the set-up. */
export async function firstDesk(installation: Installation, begin: 'example' | 'empty' = 'example', wish: Wish = online): Promise<Device> {
  const desk = await Device.open({ ...wish, size: deskSize });
  await setUp(desk.page.request, installation, 'Desk', begin);
  await desk.page.goto(installation.address);
  await sent(desk.page);
  return desk;
}

/** Opens a desk and makes the first person there as people do. */
export async function deskByHand(installation: Installation): Promise<Device> {
  const desk = await Device.open({ size: deskSize });
  const page = desk.page;
  await page.goto(installation.setupLink);
  await page.getByLabel('Your name').fill('Supervisor one');
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.waitForURL(`${installation.address}/`);
  await sent(page);
  return desk;
}

/** Invites somebody and gives the invitation's link. */
export async function invite(by: Asker, installation: Installation, name: string, duty: 'technician' | 'engineer' | 'supervisor'): Promise<string> {
  const answer = await by.page.request.post(`${installation.address}/api/invitations`, {
    headers: ours(installation.address),
    data: { name, grants: { '*': [duty] } },
  });
  const { link } = (await answer.json()) as { link: string };
  return link;
}

/** Takes an invitation for a page's browser, without a screen. */
export async function pair(page: Page, link: string): Promise<void> {
  const { origin, hash } = new URL(link);
  const answer = await page.request.post(`${origin}/api/pair`, { headers: ours(origin), data: { code: hash.slice(1), device: 'Phone' } });
  expect(answer.ok(), 'paired').toBe(true);
}

/** Opens a phone that is paired by an invitation, without the screens of pairing. */
export async function pairedPhone(link: string, wish: Wish = {}): Promise<Device> {
  const phone = await Device.open(wish);
  await pair(phone.page, link);
  await phone.page.goto(new URL(link).origin);
  await sent(phone.page);
  return phone;
}

/** Opens a phone and pairs it by an invitation as people do. */
export async function pairedByHand(link: string, wish: Wish = {}): Promise<Device> {
  const phone = await Device.open(wish);
  const page = phone.page;
  await page.goto(link);
  const here = page.getByText('Pair here, in the browser');
  const pair = page.getByRole('button', { name: 'Pair this device' });
  await here.or(pair).first().waitFor();
  if (await here.isVisible()) await here.click();
  await pair.click();
  await page.waitForURL((url) => url.pathname === '/');
  await sent(page);
  return phone;
}

/** Waits until the chip says that the server has committed everything. */
export async function sent(page: Page): Promise<void> {
  await page.getByText('Sent', { exact: false }).first().waitFor();
}

/** Waits until the service worker holds the app for offline starts. */
export async function keptForOffline(page: Page): Promise<void> {
  await page.evaluate(async () => void (await navigator.serviceWorker.ready));
}

/** Asks the server as this page's person. */
export async function asked<T>(page: Asker['page'], address: string, question: string, args: unknown): Promise<T> {
  const answer = await page.request.post(`${address}/api/ask/${question}`, { headers: ours(address), data: args });
  return (await answer.json()) as T;
}
