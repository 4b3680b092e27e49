/** The desk: a site, a fixture, its joints and program, its label; people and invitations; findings reviewed. */
import { expect, type Page, test } from '@playwright/test';
import { Device, online } from './browser';
import { Installation } from './installation';
import { asked, clerk, firstDesk, invite, pairedByHand, pairedPhone } from './plant';

const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

/** A new fixture at a new site, opened for editing; gives its id. */
async function newFixture(page: Page, address: string): Promise<string> {
  await page.goto(`${address}/sites`);
  await button(page, 'Add a site').click();
  await page.getByLabel('Name of the site').fill('Hall north');
  await button(page, 'Save').click();
  await button(page, 'New fixture at Hall north').click();
  await page.getByLabel('Name of the fixture').fill('Filling head');
  await page.getByLabel('Where it stands').fill('Line 2');
  await button(page, 'Make it and go on').click();
  await page.waitForURL(/\/f\/[^/]+\/edit$/);
  return page.url().split('/').at(-2) ?? '';
}

const list = [
  'Tube at the filler; compression fitting; test side; 6 mm',
  'Port; instrument port; test',
  'Rear clamp\trod seal\tclamp\t12,5',
  'Odd one; something; cooling; thick',
].join('\n');

test('a site, a fixture, joints from a list, their order, a program with commas, a label', async () => {
  const installation = await Installation.start();
  const { page } = await firstDesk(installation, 'empty');
  const fixture = await newFixture(page, installation.address);
  const names = page.locator('table.joints tbody th');

  await test.step('what was not understood is chosen before anything is saved', async () => {
    await button(page, 'Paste a list').click();
    await page.getByLabel('The list').fill(list);
    await expect(page.getByText('In 1 line something was not understood')).toBeVisible();
    await expect(button(page, 'Add 4 joints')).toBeDisabled();
    await page.getByLabel('Kind').selectOption('weld');
    await page.getByLabel('Circuit').selectOption('vent');
    await button(page, 'Add 4 joints').click();
    await expect(names).toHaveText(['Tube at the filler', 'Port', 'Rear clamp', 'Odd one']);
  });

  await test.step('moved, changed, retired, undone', async () => {
    await button(page, 'Port: down').click();
    await expect(names).toHaveText(['Tube at the filler', 'Rear clamp', 'Port', 'Odd one']);
    await button(page, 'Edit Odd one').click();
    await page.getByRole('textbox', { name: 'Outside diameter' }).fill('0');
    await page.getByRole('dialog').getByRole('button', { name: 'Save' }).click();
    await expect(page.getByText('A number above zero.')).toBeVisible();
    await page.getByText('Retire this joint').click();
    await page.getByLabel('Why it is retired').fill('taken off');
    await button(page, 'Retire it').click();
    await expect(names).toHaveText(['Tube at the filler', 'Rear clamp', 'Port']);
    await button(page, 'Undo').click();
    await expect(names).toHaveText(['Tube at the filler', 'Rear clamp', 'Port', 'Odd one']);
  });

  await test.step('a program: what is wrong is said at its field, a comma does for a dot', async () => {
    await button(page, 'Save the program').click();
    await expect(page.getByText('Fill this in.')).toHaveCount(4);
    await page.getByLabel('Name of the program').fill('Head, 2.5 bar');
    await page.getByRole('textbox', { name: 'Test pressure, gauge' }).fill('2,5');
    await page.getByLabel('Unit of: Test pressure').selectOption('bar');
    await page.getByRole('textbox', { name: 'Volume under test' }).fill('200');
    await page.getByLabel('Test', { exact: true }).fill('10');
    await page.getByRole('textbox', { name: 'Limit', exact: true }).fill('0,5');
    await button(page, 'Save the program').click();
    await expect(page.getByText(/Limit 0\.50*, allowance for the station 0\.050*/)).toBeVisible();
  });

  await test.step('what is typed stands when somebody else changes the fixture meanwhile', async () => {
    await page.getByRole('textbox', { name: 'Limit', exact: true }).fill('0,7');
    await page.getByLabel('Note', { exact: true }).fill('Clamp slowly.');
    await button(page, 'Rear clamp: up').click();
    await expect(names).toHaveText(['Rear clamp', 'Tube at the filler', 'Port', 'Odd one']);
    await expect(page.getByRole('textbox', { name: 'Limit', exact: true })).toHaveValue('0,7');
    await page.evaluate(() => {
      const save = (words: string) => [...document.querySelectorAll('button')].find(({ textContent }) => textContent === words)?.click();
      for (const words of ['Save', 'Save the program']) save(words); // at once: neither waits for the other, and none is dropped
    });
    await expect(page.getByText('Limit 0.700')).toBeVisible();
    await expect(page.getByLabel('Note', { exact: true })).toHaveValue('Clamp slowly.');
  });

  const kept = await asked<{ tag: string; program: { program: unknown } }>(page, installation.address, 'fixture', { id: fixture });
  expect(kept.program.program).toMatchObject({ pressure: { value: 2.5, unit: 'bar' }, limitRate: { value: 0.7 }, allowance: 0.1 });

  await page.getByText('60 × 40').click();
  const label = await page.request.get(installation.address + ((await page.getByRole('link', { name: 'Open the label' }).getAttribute('href')) ?? ''));
  expect(label.headers()['content-type']).toBe('application/pdf');
  await expect(page.getByText(`${kept.tag.slice(0, 5)}-${kept.tag.slice(5, 10)}-${kept.tag.slice(10)}`)).toBeVisible();
});

test('an invitation is read off its picture, works once, and a wrong code says what to do', async () => {
  const installation = await Installation.start();
  const { page } = await firstDesk(installation);
  await page.goto(`${installation.address}/people`);
  await button(page, 'Invite somebody').click();
  await button(page, 'Make the invitation').click();
  await expect(page.getByText('A name is needed.')).toBeVisible();
  await page.getByLabel('Name', { exact: true }).fill('Technician one');
  await button(page, 'Make the invitation').click();
  const qr = page.getByRole('img', { name: 'QR code of the invitation for Technician one' });
  const picture = await qr.screenshot();
  const code = (await page.locator('.tag-code').textContent()) ?? '';
  await expect(page.getByRole('timer')).toHaveText(/Good for (10:00|9:5\d) more/);

  const phone = (await Device.open(online)).page;
  await phone.goto(`${installation.address}/join`);
  await expect(phone.getByText('First put the app on this phone')).toBeVisible();
  await button(phone, 'Pair here, in the browser').click();
  await phone.setInputFiles('input[type=file]', { name: 'qr.png', mimeType: 'image/png', buffer: picture });
  await expect(phone.getByText('Invitation read.')).toBeVisible();
  await phone.getByLabel('Name of this device').fill('Phone one');
  await button(phone, 'Pair this device').click();
  await phone.waitForURL(`${installation.address}/`);
  await expect(phone.getByText('Irrigation valve body').first()).toBeVisible();
  await phone.goto(`${installation.address}/people`);
  await expect(phone.getByText('This is for supervisors.')).toBeVisible();

  const other = (await Device.open(online)).page;
  await other.goto(`${installation.address}/join`);
  await button(other, 'Pair here, in the browser').click();
  await button(other, 'Type the code').click();
  await other.getByLabel('Invitation code').fill(code.toLowerCase());
  await expect(other.getByLabel('Invitation code')).toHaveValue(code);
  await button(other, 'Pair this device').click();
  await expect(other.getByText('This invitation was used already.')).toBeVisible();
  await other.getByLabel('Invitation code').fill('AAAAA-AAAAA');
  await button(other, 'Pair this device').click();
  await expect(other.getByText('That code is not right.')).toBeVisible();
});

test('an engineer corrects, pictures and answers a finding; the phone sees the answer', async () => {
  const installation = await Installation.start();
  const desk = await firstDesk(installation);
  const { page } = desk;
  await page.goto(`${installation.address}/findings`);
  await expect(page.getByText(/findings wait for a review/)).toBeVisible();
  await page.locator('a[href^="/finding/"]').first().click();
  await page.waitForURL(/\/finding\//);
  const address = page.url();

  await button(page, 'Correct it').click();
  await page.getByRole('textbox', { name: 'Bubbles' }).fill('30');
  const figure = page.getByRole('dialog').locator('figure strong');
  await expect(figure).toBeVisible();
  await page.getByLabel('Why it is corrected').fill('counted again from the film');
  await expect(button(page, 'Save')).toBeEnabled();
  const shown = await settled(page);
  await button(page, 'Save').click();
  await expect(page.locator('main figure strong').first()).toHaveText(shown);
  await expect(page.getByText('The same: what stood on the phone')).toBeVisible();

  await page.setInputFiles('.picture-add input', { name: 'joint.jpg', mimeType: 'image/jpeg', buffer: await located(page) });
  await page.getByRole('button', { name: /^Picture with/ }).press('Enter');
  await page.getByRole('button', { name: 'Keep the picture' }).click();
  const picture = page.locator('.pictures img');
  await expect(picture).toBeVisible();
  await expect.poll(() => picture.evaluate((img: HTMLImageElement) => img.naturalWidth)).toBe(1600);
  const { pictures } = await asked<{ pictures: { hash: string }[] }>(page, installation.address, 'finding', { id: address.split('/').at(-1) });
  const sent = () => page.request.get(`${installation.address}/api/pictures/${pictures[0]?.hash}`);
  await expect.poll(async () => (await sent()).status()).toBe(200);
  expect((await (await sent()).body()).includes(place)).toBe(false);

  await button(page, 'Look again').click();
  await page.getByLabel('Note to the technician').fill('Size the bubble again.');
  await button(page, 'Send').click();
  await expect(page.getByText('Reviewed: look again.')).toBeVisible();

  const phone = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'), online);
  await phone.page.goto(address);
  await expect(phone.page.getByText('Size the bubble again.')).toBeVisible();
  await expect(phone.page.getByText('counted again from the film')).toBeVisible();
  await expect(phone.page.locator('.pictures img')).toBeVisible();
  await expect(button(phone.page, 'Accept')).toHaveCount(0);
});

/** What a camera might have written beside the pixels. */
const place = 'Exif-place-of-the-picture';

/** A photo of 3000 × 2000 with a place written into it. */
async function located(page: Page): Promise<Buffer> {
  const base64 = await page.evaluate(() => {
    const canvas = document.createElement('canvas');
    canvas.width = 3000;
    canvas.height = 2000;
    canvas.getContext('2d')?.fillRect(500, 500, 900, 900);
    return canvas.toDataURL('image/jpeg').split(',')[1] ?? '';
  });
  const jpeg = Buffer.from(base64, 'base64');
  const note = Buffer.from(place);
  const comment = Buffer.from([0xff, 0xfe, 0, note.length + 2, ...note]);
  return Buffer.concat([jpeg.subarray(0, 2), comment, jpeg.subarray(2)]);
}

/** The figure in the open dialog once it has stopped changing. */
async function settled(page: Page): Promise<string> {
  const figure = page.getByRole('dialog').locator('figure strong');
  let last = '';
  await expect
    .poll(async () => {
      const before = last;
      last = (await figure.textContent()) ?? '';
      return last === before;
    }, { intervals: [400] })
    .toBe(true);
  return last;
}

test('nobody is offered what their duty does not cover', async () => {
  const installation = await Installation.start();
  const desk = await clerk(installation);
  const home = await asked<{ sites: { fixtures: { id: string }[] }[] }>(desk.page, installation.address, 'home', {});
  const fixture = home.sites.flatMap(({ fixtures }) => fixtures)[0]?.id ?? '';
  for (const [duty, edits, rounds] of [['technician', 0, 1], ['engineer', 0, 0], ['supervisor', 1, 1]] as const) {
    const { page } = await pairedPhone(await invite(desk, installation, `A ${duty}`, duty), online);
    await page.goto(`${installation.address}/f/${fixture}`);
    await expect(page.getByRole('link', { name: 'Label of tag' })).toHaveCount(1);
    await expect(page.getByRole('link', { name: 'Edit fixture, joints and program' })).toHaveCount(edits);
    await expect(page.getByRole('link', { name: 'Start a round' })).toHaveCount(rounds);
    await page.goto(`${installation.address}/f/${fixture}/edit`);
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await expect(page.getByText('This is for supervisors.', { exact: false })).toHaveCount(1 - edits);
    await page.goto(installation.address);
    await expect(page.getByRole('link', { name: 'Findings' })).toHaveCount(1);
    await expect(page.getByRole('link', { name: 'People' })).toHaveCount(edits);
  }
});

test('a person adds a device and shuts it out, and a supervisor gives somebody a new one: the person stays the same', async () => {
  const installation = await Installation.start();
  const desk = await firstDesk(installation);
  const phone = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'), online);
  const me = async (page: Page) => (await (await page.request.get(`${installation.address}/api/me`)).json()) as { person: { id: string }; device: { id: string } };
  const before = await me(phone.page);

  await phone.page.goto(`${installation.address}/phone`);
  await phone.page.getByText('Another device of yours').click();
  await button(phone.page, 'Make an invitation for it').click();
  const own = (await phone.page.locator('.invitation .link').textContent()) ?? '';
  const tablet = await pairedByHand(own, online);
  const after = await me(tablet.page);
  expect(after.person.id).toBe(before.person.id);
  expect(after.device.id).not.toBe(before.device.id);

  await phone.page.goto(`${installation.address}/phone`);
  const mine = phone.page.getByRole('region', { name: 'Your devices' });
  await expect(mine.getByRole('listitem')).toHaveCount(2);
  await mine.getByRole('button', { name: /^Shut out/ }).click();
  await phone.page.getByRole('dialog').getByRole('button', { name: 'Shut it out' }).click();
  await expect(mine).toHaveCount(0);
  expect((await tablet.page.request.get(`${installation.address}/api/me`)).status()).toBe(403);

  await desk.page.goto(`${installation.address}/people`);
  await button(desk.page, 'New device for Technician one').click();
  await expect(desk.page.getByRole('heading', { name: 'Invitation for Technician one' })).toBeVisible();
  const given = await pairedPhone((await desk.page.locator('.invitation .link').textContent()) ?? '', online);
  expect((await me(given.page)).person.id).toBe(before.person.id);

  await desk.page.goto(`${installation.address}/people`);
  await button(desk.page, 'Change Technician one').click();
  const form = desk.page.getByRole('region', { name: 'Change Technician one' });
  const everywhere = form.getByRole('group', { name: 'all sites' });
  await everywhere.getByText('technician', { exact: true }).click();
  await expect(form.getByText('works nowhere any more')).toBeVisible();
  await everywhere.getByText('engineer', { exact: true }).click();
  await button(desk.page, 'Save').click();
  await expect(form).toHaveCount(0);
  await expect(desk.page.getByRole('row', { name: 'Technician one engineer · all sites' })).toBeVisible();
  await button(desk.page, 'Shut out all devices of Technician one').click();
  await button(desk.page, 'Shut them out').click();
  await expect(desk.page.getByRole('dialog')).toHaveCount(0);
  expect((await given.page.request.get(`${installation.address}/api/me`)).status()).toBe(403);
  await button(desk.page, 'Change Supervisor one').click();
  await desk.page.getByRole('region', { name: 'Change Supervisor one' }).getByRole('group', { name: 'all sites' }).getByText('supervisor', { exact: true }).click();
  await button(desk.page, 'Save').click();
  await expect(desk.page.getByRole('alert')).toHaveText('Somebody must be left who supervises all sites.');
});
