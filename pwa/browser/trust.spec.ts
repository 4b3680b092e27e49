/** What a phone may keep hangs on the connection: https of our own, https of others, and none. */
import { execFileSync } from 'node:child_process';
import { X509Certificate } from 'node:crypto';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connect } from 'node:tls';
import { expect, type Page, test } from '@playwright/test';
import { Device, deskSize, phoneSize, type Wish } from './browser';
import { faultless } from './faultless';
import { freePort, Installation, until } from './installation';
import { firstByHand, lookAtNext, startRound } from './phone';
import { keptForOffline } from './plant';

/** ms */
const day = 86_400_000;

let folder: string;
let server: Installation | undefined;

test.beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'jointwalk-trust-'));
});

test.afterEach(async () => {
  await Device.endAll();
  await server?.end();
  server = undefined;
  rmSync(folder, { recursive: true, force: true });
});

/** A server with an authority of its own; the address of its page about trust. */
async function local(): Promise<{ own: Installation; trust: string }> {
  const [port, plain] = [await freePort(), await freePort()];
  const flags = ['--https=local', '--url', `https://localhost:${port}`, '--trust', `127.0.0.1:${plain}`];
  server = await Installation.start(flags, 'https', port);
  return { own: server, trust: `http://localhost:${plain}/trust` };
}

/** What makes a browser trust an authority: a home of its own that holds it. */
function trusting(pem: string): Wish {
  const store = join(folder, '.pki', 'nssdb');
  mkdirSync(store, { recursive: true });
  execFileSync('certutil', ['-d', `sql:${store}`, '-N', '--empty-password']);
  execFileSync('certutil', ['-d', `sql:${store}`, '-A', '-n', 'authority', '-t', 'C,,', '-i', pem]);
  return { env: { HOME: folder } };
}

async function downloaded(trust: string): Promise<X509Certificate> {
  const answer = await fetch(`${trust}/jointwalk.crt`);
  expect(answer.headers.get('content-type')).toBe('application/x-x509-ca-cert');
  return new X509Certificate(Buffer.from(await answer.arrayBuffer()));
}

test('its own authority, once trusted, lets the app start cold with the server dead and the network cut', async () => {
  const { own, trust } = await local();
  const authority = await downloaded(trust);
  const pem = join(folder, 'authority.pem');
  writeFileSync(pem, authority.toString());
  const phone = await Device.open(trusting(pem));

  await phone.page.goto(trust);
  const shown = await phone.page.locator('.print code').allInnerTexts();
  expect(shown.join(':')).toBe(authority.fingerprint256);
  expect(execFileSync('openssl', ['x509', '-in', pem, '-noout', '-fingerprint', '-sha256'], { encoding: 'utf8' }).trim()).toContain(`=${shown.join(':')}`);

  await firstByHand(phone, own);
  await phone.page.goto(`${own.address}/phone`);
  await expect(phone.page.getByText('What you save is kept on this device.')).toBeVisible();
  await expect(phone.page.getByText('Why this device cannot work offline')).toBeHidden();
  await keptForOffline(phone.page);
  expect(await phone.page.evaluate(() => caches.keys())).not.toEqual([]);

  await phone.close();
  await own.stop('SIGKILL');
  await phone.start();
  await phone.network(false);
  await phone.page.goto(own.address);
  await expect(phone.page.getByText('Offline', { exact: false }).first()).toBeVisible();
  await phone.page.getByText('Irrigation valve body').first().click();
  await expect(phone.page.getByRole('link', { name: 'Start a round' })).toBeVisible();
});

test('a certificate that was clicked away keeps no app, and the app says so with the way to trust', async () => {
  const { own, trust } = await local();
  const { page } = await Device.open();
  await expect(page.goto(own.setupLink)).rejects.toThrow('ERR_CERT_AUTHORITY_INVALID');
  await page.locator('#details-button').click();
  await page.locator('#proceed-link').click();
  await says(page, 'This device does not trust the certificate of the server');
  expect(await page.evaluate(() => navigator.serviceWorker.getRegistrations().then((all) => all.length))).toBe(0);
  await page.getByRole('link', { name: 'How this device comes to trust it' }).click();
  await page.waitForURL(trust);
  await expect(page.getByRole('heading', { name: 'Trust this server' })).toBeVisible();
});

test('a certificate from files is served, and a changed one is taken without a restart', async () => {
  const [cert, key] = [join(folder, 'cert.pem'), join(folder, 'key.pem')];
  issue('first', cert, key);
  const port = await freePort();
  server = await Installation.start(['--https=files', '--cert', cert, '--key', key, '--url', `https://localhost:${port}`], 'https', port);
  expect(await served(port)).toContain('first');

  const phone = await Device.open(trusting(cert));
  await firstByHand(phone, server);
  await keptForOffline(phone.page);
  expect(await phone.page.evaluate(() => fetch('/healthz').then((answer) => answer.text()))).toBe('ok\ncertificate: 29 days left\n');

  issue('second', join(folder, 'next.pem'), join(folder, 'next.key'));
  copyFileSync(join(folder, 'next.key'), key);
  copyFileSync(join(folder, 'next.pem'), cert);
  await until(async () => (await served(port)).includes('second'), () => 'the changed certificate was not taken');
});

test('a desk warns of the end of a certificate, and of files that cannot be taken', async () => {
  const [cert, key] = [join(folder, 'cert.pem'), join(folder, 'key.pem')];
  issueEnding(6, cert, key);
  const port = await freePort();
  server = await Installation.start(['--https=files', '--cert', cert, '--key', key, '--url', `https://localhost:${port}`], 'https', port);
  const { heard } = server;
  await until(() => heard().includes('days=5'), () => `no warning in the log:\n${heard()}`);
  const desk = await Device.open({ ...trusting(cert), size: deskSize });
  const { page } = desk;
  await firstByHand(desk, server);
  const note = page.getByRole('link', { name: /^The certificate ends in 5 days, .* After that no phone comes in\.$/ });
  await expect(note).toBeVisible();
  await faultless(page, 'the note of the certificate');
  await note.click();
  await expect(page.getByText('Put a new one into the files that the server was started with')).toBeVisible();

  writeFileSync(cert, 'half a certificate');
  await until(async () => {
    await page.reload();
    await page.getByRole('heading', { name: 'Devices' }).waitFor();
    return page.getByText('The certificate files changed and cannot be taken; the earlier certificate goes on.').isVisible();
  }, () => 'nothing said of the files');
  for (const size of [phoneSize, deskSize]) {
    await page.setViewportSize(size);
    await faultless(page, 'upkeep with a certificate near its end');
  }
});

test('plain http under a name: it works while reached, says why not offline, and nothing breaks', async () => {
  const port = await freePort();
  const address = `http://plant.test:${port}`;
  server = await Installation.start(['--url', address], 'http', port);
  const phone = await Device.open({ flags: ['--host-resolver-rules=MAP plant.test 127.0.0.1'] });
  const { page } = phone;
  const broken = brokenOn(page);
  await page.goto(server.setupLink);
  const there = () => [navigator.serviceWorker, navigator.mediaDevices, navigator.storage, crypto.randomUUID].map((it) => typeof it);
  expect(await page.evaluate(there)).toEqual(Array<string>(4).fill('undefined'));
  await says(page, 'This connection is not secure');
  await firstByHand(phone, server, address);
  await expect(page.getByRole('alert')).toContainText('This browser keeps nothing.');

  await startRound(page, 'Irrigation valve body');
  await lookAtNext(page);
  await expect(page.getByText('Saved: nothing seen')).toBeVisible();
  await page.reload();
  await expect(page.getByText('nothing seen', { exact: false }).first()).toBeVisible();

  await server.stop('SIGKILL');
  await lookAtNext(page);
  await expect(page.getByText('Not safe yet: the server has not answered. Keep this page open.')).toBeVisible({ timeout: 15_000 });
  await expect(page.getByRole('link', { name: 'not safe yet' })).toBeVisible();
  await server.run();
  await page.getByRole('link', { name: 'not safe yet' }).click();
  await page.getByRole('button', { name: 'Sync now' }).click();
  await expect(page.getByText('All records are sent.')).toBeVisible();
  await says(page, 'This connection is not secure');
  await page.goto(`${address}/scan`);
  await expect(page.getByText('On this connection the browser hides the camera.')).toBeVisible();
  expect(broken).toEqual([]);
});

/** What broke on a page, as it comes; not what the browser notes of headers and of a dead server. */
function brokenOn(page: Page): string[] {
  const broken: string[] = [];
  const noted = /Cross-Origin-Opener-Policy|ERR_CONNECTION_REFUSED/;
  page.on('pageerror', (fault) => broken.push(fault.message));
  page.on('console', (message) => {
    if (message.type() === 'error' && !noted.test(message.text())) broken.push(message.text());
  });
  return broken;
}

/** The words about why not offline. */
async function says(page: Page, words: string): Promise<void> {
  const note = page.getByRole('note').filter({ hasText: 'Why this device cannot work offline' });
  await expect(note).toContainText(words);
  await expect(note).toContainText('with the network cut the page is gone');
}

/** A certificate for localhost that stands for itself. */
function issue(name: string, cert: string, key: string): void {
  execFileSync('openssl', [
    'req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes', '-days', '30', '-subj', `/CN=${name}`,
    '-addext', 'subjectAltName=DNS:localhost', '-addext', 'extendedKeyUsage=serverAuth', '-keyout', key, '-out', cert,
  ], { stdio: 'ignore' });
}

/** The same with a life of ninety days, of which so many are left (less a minute): the tool's own commands begin at once, its small authority need not. */
function issueEnding(days: number, cert: string, key: string): void {
  const csr = join(folder, 'request.pem');
  const settings = join(folder, 'authority.cnf');
  const stamp = (ms: number) => new Date(ms).toISOString().replace(/[-:T]|\.\d+/g, '');
  const end = Date.now() + days * day - 60_000;
  writeFileSync(join(folder, 'index.txt'), '');
  writeFileSync(
    settings,
    `[ca]\ndefault_ca=own\n[own]\ndatabase=${folder}/index.txt\nnew_certs_dir=${folder}\nrand_serial=yes\ndefault_md=sha256\npolicy=any\nx509_extensions=server\n` +
      '[any]\ncommonName=supplied\n[server]\nsubjectAltName=DNS:localhost\nextendedKeyUsage=serverAuth\nbasicConstraints=CA:TRUE\n',
  );
  execFileSync('openssl', ['req', '-new', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes', '-subj', '/CN=ending', '-keyout', key, '-out', csr], { stdio: 'ignore' });
  const dates = ['-startdate', stamp(end - 90 * day), '-enddate', stamp(end)];
  execFileSync('openssl', ['ca', '-batch', '-notext', '-selfsign', '-config', settings, '-keyfile', key, '-in', csr, '-out', cert, ...dates], { stdio: 'ignore' });
}

/** The subject of the certificate that a port serves. */
function served(port: number): Promise<string> {
  return new Promise((resolve, reject) => {
    const socket = connect({ port, host: '127.0.0.1', servername: 'localhost', rejectUnauthorized: false }, () => {
      resolve(socket.getPeerX509Certificate()?.subject ?? '');
      socket.destroy();
    });
    socket.once('error', reject);
  });
}
