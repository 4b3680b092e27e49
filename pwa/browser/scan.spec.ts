/** Scanning: camera, picture, typed code, a tag's link; with the network cut; every way in which it goes wrong. */
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from '@playwright/test';
import { Device } from './browser';
import { film } from './camera';
import { Installation } from './installation';
import { asked, type Asker, clerk, firstDesk, invite, keptForOffline, pairedPhone } from './plant';

interface Home {
  sites: { fixtures: { id: string; name: string; tag: string }[] }[];
}

async function aFixture(desk: Asker, { address }: Installation) {
  const fixture = (await asked<Home>(desk.page, address, 'home', {})).sites[0]?.fixtures[0];
  if (!fixture) throw new Error('the example has no fixture');
  return fixture;
}

/** A code with one character changed, so that its check character does not fit. */
function slipped(tag: string): string {
  return (tag.startsWith('A') ? 'B' : 'A') + tag.slice(1);
}

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

test('a tag is read by the camera with the network cut, by a wasm of our own', async () => {
  const installation = await Installation.start();
  const desk = await clerk(installation);
  const fixture = await aFixture(desk, installation);
  const camera = await film(`${installation.address}/T/${fixture.tag}`.toUpperCase(), join(tmpdir(), `scan-${fixture.tag}.y4m`));
  const { page, ...phone } = await phoneOf(desk, installation, { camera });
  const fetched: string[] = [];
  page.on('request', (request) => fetched.push(request.url()));
  await phone.network(false);
  await page.goto(`${installation.address}/scan`);
  await page.waitForURL(`**/f/${fixture.id}`);
  await expect(page.getByRole('heading', { name: fixture.name })).toBeVisible();
  expect(fetched.filter((url) => /zxing.*\.wasm/.test(url)).length).toBe(1);
  expect(fetched.filter((url) => !url.startsWith(installation.address) && !/^(blob|data):/.test(url))).toEqual([]);
});

test('a code is typed as people type, and a slip is caught', async () => {
  const installation = await Installation.start();
  const desk = await clerk(installation);
  const fixture = await aFixture(desk, installation);
  const { page, ...phone } = await phoneOf(desk, installation);
  await phone.network(false);
  await page.goto(`${installation.address}/scan`);
  await page.getByRole('button', { name: 'Type the code' }).click();
  const field = page.getByLabel('Code on the tag');
  await field.pressSequentially(slipped(fixture.tag).toLowerCase());
  await field.press('Enter');
  await expect(page.getByRole('alert').getByText('does not fit')).toBeVisible();
  await field.fill('');
  await field.pressSequentially(fixture.tag.toLowerCase().replaceAll('0', 'o').replaceAll('1', 'l'));
  await expect(field).toHaveValue(`${fixture.tag.slice(0, 5)}-${fixture.tag.slice(5, 10)}-${fixture.tag.slice(10)}`);
  await page.getByRole('button', { name: 'Open the fixture' }).click();
  await page.waitForURL(`**/f/${fixture.id}`);
});

test('a foreign code is shown and never opened; an unknown tag says what to do', async () => {
  const installation = await Installation.start();
  const desk = await clerk(installation);
  const foreign = 'https://elsewhere.example/win?x=1';
  const camera = await film(foreign, join(tmpdir(), 'scan-foreign.y4m'));
  const { page, ...phone } = await phoneOf(desk, installation, { camera });
  await page.goto(`${installation.address}/scan`);
  await expect(page.getByText(foreign)).toBeVisible();
  expect(await page.locator(`a[href*="elsewhere"]`).count()).toBe(0);
  expect(page.url()).toBe(`${installation.address}/scan`);
  const unknown = goodButUnknown;
  await page.goto(`${installation.address}/t/${unknown}`);
  await expect(page.getByText('no fixture here carries it')).toBeVisible();
  await expect(page.getByRole('button', { name: 'Sync now' })).toBeVisible();
  await phone.network(false);
  await page.goto(`${installation.address}/scan`);
  await page.getByRole('button', { name: 'Type the code' }).click();
  await page.getByLabel('Code on the tag').fill(unknown);
  await page.getByRole('button', { name: 'Open the fixture' }).click();
  await expect(page.getByText('There is no network now')).toBeVisible();
});

test('no code of others leads anywhere, and no address of ours leads away', async () => {
  const installation = await Installation.start();
  const { page } = await firstDesk(installation, 'example', {}); // the app's own worker answers strange paths too
  await keptForOffline(page); // once it is there
  const away: string[] = [];
  page.on('request', (request) => {
    if (!request.url().startsWith(installation.address) && !/^(blob|data):/.test(request.url())) away.push(request.url());
  });
  page.on('dialog', (dialog) => void (away.push(dialog.message()), dialog.dismiss()));
  const at = `${installation.address}/scan`;
  const type = async (text: string) => {
    await page.goto(at);
    await page.getByRole('button', { name: 'Type the code' }).click();
    await page.getByLabel('Code on the tag').fill(text);
    await page.getByRole('button', { name: 'Open the fixture' }).click();
  };
  const foreign = [
    'https://elsewhere.example/win?x=1', "javascript:alert('ran')//", 'WIFI:T:WPA;S:guest/net;P:secret;;', 'data:text/html,<script>alert(1)</script>',
    '//elsewhere.example/t/', `${installation.address}/leave/now`, 'intent://scan/#Intent;scheme=x;end', `https://elsewhere.example/t/${goodButUnknown}/../x`,
  ];
  for (const text of foreign) {
    await type(text);
    await expect(page.locator('.foreign')).toHaveText(text);
    expect(await page.locator('main a').evaluateAll((all) => all.map((one) => (one as HTMLAnchorElement).origin))).not.toContain('https://elsewhere.example');
    expect(page.url()).toBe(at);
  }
  await type(`https://elsewhere.example/t/${goodButUnknown}`); // of another installation: a code like ours, whose fixture is not here
  await expect(page.getByText('no fixture here carries it')).toBeVisible();
  expect(page.url()).toBe(at);
  for (const path of [`/t/${encodeURIComponent('https://elsewhere.example')}`, '/?next=https://elsewhere.example', '/join?redirect=//elsewhere.example', '/setup?return=javascript:alert(1)', '//elsewhere.example/x']) {
    await page.goto(installation.address + path);
    await expect(page.locator('main')).not.toBeEmpty();
    expect(new URL(page.url()).origin, path).toBe(installation.address);
  }
  expect(away).toEqual([]);
});

test('where the camera is refused the picture and the typed code still stand there', async () => {
  const installation = await Installation.start();
  const desk = await firstDesk(installation);
  const fixture = await aFixture(desk, installation);
  const { page } = desk;
  await page.addInitScript(() => {
    navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', 'NotAllowedError'));
  });
  await page.goto(`${installation.address}/scan`);
  await expect(page.getByText('may not use the camera')).toBeVisible();
  const picture = await page.evaluate(drawn);
  await page.setInputFiles('input[type=file]', { name: 'wall.png', mimeType: 'image/png', buffer: Buffer.from(picture, 'base64') });
  await expect(page.getByText('No QR code was found in that picture')).toBeVisible();
  await page.goto(`${installation.address}/t/${fixture.tag}`);
  await page.waitForURL(`**/f/${fixture.id}`);
});

/** A good code that no fixture carries. */
const goodButUnknown = checked('0000000000');

/** A code with its check character, by the recursion of ISO/IEC 7064 MOD 37,36; shares no code with the engine. */
function checked(text: string): string {
  const signs = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ';
  const product = [...text].reduce((p, sign) => (((p + signs.indexOf(sign)) % 36 || 36) * 2) % 37, 36);
  return text + signs[(37 - product) % 36];
}

/** A picture without a code, as base64: drawn in the page. */
function drawn(): string {
  const canvas = document.createElement('canvas');
  canvas.width = 320;
  canvas.height = 240;
  canvas.getContext('2d')?.fillRect(40, 40, 100, 100);
  return canvas.toDataURL('image/png').split(',')[1] ?? '';
}

async function phoneOf(desk: Asker, installation: Installation, wish: { camera?: string } = {}) {
  const phone = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'), wish);
  await keptForOffline(phone.page);
  return { page: phone.page, network: (on: boolean) => phone.network(on) };
}
