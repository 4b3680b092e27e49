/** People: what they do where, and who uses a phone. */
import { expect, type Page, test } from '@playwright/test';
import { Device, online } from './browser';
import { Installation } from './installation';
import { lookAtNext, startRound } from './phone';
import { asked, clerk, firstDesk, invite, keptForOffline, ours, pairedByHand, pairedPhone } from './plant';

const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

interface Home {
  sites: { id: string; name: string; fixtures: { id: string }[] }[];
}

test('one records at one site and supervises another: each screen offers what is theirs there, and the server holds to it', async () => {
  const installation = await Installation.start();
  const desk = await firstDesk(installation);
  const added = await desk.page.request.post(`${installation.address}/api/sites`, { headers: ours(installation.address), data: { name: 'Hall south', zone: 'UTC' } });
  expect(added.status()).toBe(201);
  const home = await asked<Home>(desk.page, installation.address, 'home', {});
  const [here] = home.sites.filter(({ fixtures }) => fixtures.length > 0);
  const fixture = here?.fixtures[0]?.id ?? '';

  await desk.page.goto(`${installation.address}/people`);
  await button(desk.page, 'Invite somebody').click();
  const form = desk.page.getByRole('region', { name: 'Invite somebody' });
  await form.getByLabel('Name').fill('Two hats');
  const at = (site: string) => form.getByRole('group', { name: site });
  await at('all sites').getByText('technician', { exact: true }).click(); // what is offered first
  await button(desk.page, 'Make the invitation').click();
  await expect(form.getByRole('alert')).toHaveText('Choose at least one.');
  await at(here?.name ?? '').getByText('technician', { exact: true }).click();
  await at('Hall south').getByText('supervisor', { exact: true }).click();
  await button(desk.page, 'Make the invitation').click();
  const phone = await pairedByHand((await desk.page.locator('.invitation .link').textContent()) ?? '', online);
  const page = phone.page;
  await expect(desk.page.getByText('Taken on “Phone”. If that is not the device of Two hats, close it under Upkeep.')).toBeVisible();
  await page.goto(`${installation.address}/phone`);
  await expect(page.getByText('Two hats is signed in on “Phone”.')).toBeVisible();

  await page.goto(`${installation.address}/f/${fixture}`);
  await expect(page.getByRole('link', { name: 'Label of tag' })).toHaveCount(1);
  await expect(page.getByRole('link', { name: 'Edit fixture, joints and program' })).toHaveCount(0);
  await expect(page.getByRole('link', { name: 'Start a round' })).toHaveCount(1);
  await page.goto(`${installation.address}/f/${fixture}/edit`);
  await expect(page.getByText('This is for supervisors.', { exact: false })).toBeVisible();
  await page.goto(`${installation.address}/sites`);
  await expect(button(page, 'New fixture at Hall south')).toBeVisible();
  await expect(button(page, `New fixture at ${here?.name}`)).toHaveCount(0);
  await expect(button(page, 'Add a site')).toHaveCount(0);
  const rename = (site: string) => page.request.patch(`${installation.address}/api/sites/${site}`, { headers: ours(installation.address), data: { name: 'Mine' } });
  expect((await rename(here?.id ?? '')).status()).toBe(403);

  await page.goto(`${installation.address}/people`);
  await expect(page.getByText('Two hats', { exact: false }).first()).toBeVisible();
  await expect(page.getByText('works nowhere', { exact: false })).toHaveCount(0);
  await desk.page.goto(`${installation.address}/people`);
  await expect(desk.page.getByRole('row', { name: `Two hats technician · ${here?.name} supervisor · Hall south` })).toBeVisible();
});

test('what another saw is corrected by a supervisor only', async () => {
  const installation = await Installation.start();
  const desk = await firstDesk(installation);
  const { findings } = await asked<{ findings: { id: string; seen: { by: string } }[] }>(desk.page, installation.address, 'findings', {});
  const phone = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'), online);
  for (const [page, may] of [[phone.page, 0], [desk.page, 1]] as const) {
    await page.goto(`${installation.address}/finding/${findings[0]?.id}`);
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await expect(page.getByText(/^Seen .* by /).first()).toBeVisible();
    await expect(button(page, 'Correct it')).toHaveCount(may);
  }
});

/** Types a PIN on the pad, and goes on. */
async function pin(page: Page, digits: string): Promise<void> {
  for (const digit of digits) await page.getByRole('group', { name: 'Number keys' }).getByRole('button', { name: digit, exact: true }).click();
  await button(page, 'Go on').click();
}

test('two share a phone: a press and a PIN, each record in the name of who held it, also without a network', async () => {
  const installation = await Installation.start();
  const desk = await clerk(installation);
  const phone = await pairedPhone(await invite(desk, installation, 'Early shift', 'technician'));
  const page = phone.page;
  await keptForOffline(page);
  const code = async (name: string, duty: 'technician' | 'supervisor') => {
    const made = await desk.page.request.post(`${installation.address}/api/invitations`, { headers: ours(installation.address), data: { name, grants: { '*': [duty] } } });
    return ((await made.json()) as { code: string }).code;
  };

  await test.step('a supervisor does not share it; a technician joins by a code', async () => {
    await page.goto(`${installation.address}/phone`);
    await page.getByText('Other people on this phone').click();
    await page.getByLabel('Invitation code').fill(await code('Boss two', 'supervisor'));
    await button(page, 'Let them use it').click();
    await expect(page.getByText('Who supervises has a device of their own', { exact: false })).toBeVisible();
    await page.getByLabel('Invitation code').fill(await code('Late shift', 'technician'));
    await button(page, 'Let them use it').click();
    await page.waitForURL('**/who');
  });

  await test.step('who holds it chooses a PIN first', async () => {
    await expect(page.getByText('Now Early shift does', { exact: false })).toBeVisible();
    await pin(page, '0420');
    await pin(page, '0421');
    await expect(page.getByText('The two were not the same.', { exact: false })).toBeVisible();
    await pin(page, '0420');
    await pin(page, '0420');
    await expect(button(page, 'Late shift')).toBeVisible();
  });

  await phone.network(false);
  await test.step('handed over without a network', async () => {
    await button(page, 'Late shift').click();
    await pin(page, '8888');
    await pin(page, '8888');
    await page.waitForURL(`${installation.address}/`);
    await expect(page.getByRole('link', { name: 'Late shift' })).toBeVisible();
    await expect(page.getByRole('link', { name: 'Sites and new fixtures' })).toHaveCount(0);
  });

  await startRound(page, 'Irrigation valve body');
  const late = page.url().split('/').at(-1) ?? '';
  await lookAtNext(page);

  await test.step('handed back: a wrong PIN does nothing', async () => {
    await page.goto(`${installation.address}/who`);
    await button(page, 'Early shift').click();
    await pin(page, '0421');
    await expect(page.getByText('That is not it.', { exact: false })).toBeVisible();
    await pin(page, '0420');
    await page.waitForURL(`${installation.address}/`);
    await expect(page.getByRole('link', { name: 'Early shift' })).toBeVisible();
  });
  await startRound(page, 'Camp-stove regulator');
  const early = page.url().split('/').at(-1) ?? '';

  await test.step('all of it is sent, each in its own name', async () => {
    await phone.network(true);
    await page.goto(installation.address);
    await expect(page.getByText('All sent').first()).toBeVisible();
    for (const [round, name] of [[late, 'Late shift'], [early, 'Early shift']] as const) {
      const { started } = await asked<{ started: { name: string } }>(desk.page, installation.address, 'round', { id: round });
      expect(started.name).toBe(name);
    }
  });

  await test.step('a shared phone gives out no invitations', async () => {
    await page.goto(`${installation.address}/phone`);
    await expect(page.getByText('Other people on this phone')).toBeVisible();
    await expect(page.getByText('Another device of yours')).toHaveCount(0);
  });
});
