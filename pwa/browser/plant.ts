import type { Page } from '@playwright/test';
import { Device, deskSize, type Wish } from './browser';
import type { Installation } from './installation';

/** What the server wants of requests that change something, as a page of its own sends it. */
export function ours(address: string): Record<string, string> {
  return { 'X-Jointwalk': '1', Origin: address };
}

/** Opens a desk and makes the first person there. */
export async function firstDesk(installation: Installation, begin: 'example' | 'empty' = 'example'): Promise<Device> {
  const desk = await Device.open({ size: deskSize });
  const page = desk.page;
  await page.goto(installation.setupLink);
  await page.getByLabel('Your name').fill('Supervisor one');
  if (begin === 'empty') await page.getByText('An empty book').click();
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.waitForURL(`${installation.address}/`);
  await sent(page);
  return desk;
}

/** Invites somebody at a desk and gives the invitation's link. */
export async function invite(desk: Device, installation: Installation, name: string, duty: 'technician' | 'engineer' | 'supervisor'): Promise<string> {
  const answer = await desk.page.request.post(`${installation.address}/api/invitations`, {
    headers: ours(installation.address),
    data: { name, grants: { '*': [duty] } },
  });
  const { link } = (await answer.json()) as { link: string };
  return link;
}

/** Opens a phone and pairs it by an invitation. */
export async function pairedPhone(link: string, wish: Wish = {}): Promise<Device> {
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
export async function asked<T>(page: Page, address: string, question: string, args: unknown): Promise<T> {
  const answer = await page.request.post(`${address}/api/ask/${question}`, { headers: ours(address), data: args });
  return (await answer.json()) as T;
}
