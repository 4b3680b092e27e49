/** A name is erased at the desk: its phone closes, and others show who it was without a name. */
import { expect, test } from '@playwright/test';
import { deskSize, Device, online, phoneSize } from './browser';
import { faultless } from './faultless';
import { Installation } from './installation';
import { asked, firstDesk, invite, pairedPhone, sent } from './plant';

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

const nameless = /a person without a name \([0-9a-f]{4}\)/;

test('a name is erased after a confirmation; its phone closes, another shows the records without it', async () => {
  const installation = await Installation.start();
  const desk = await firstDesk(installation);
  const { page } = desk;
  const gone = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'), online);
  const other = await pairedPhone(await invite(desk, installation, 'Technician two', 'technician'), online);
  const home = await asked<{ sites: { fixtures: { id: string }[] }[] }>(page, installation.address, 'home', {});
  const fixture = `${installation.address}/f/${home.sites[0]?.fixtures[0]?.id}`;
  await other.page.goto(fixture);
  await expect(other.page.getByText(', Example technician').first()).toBeVisible();

  await page.goto(`${installation.address}/people`);
  const erase = (name: string) => page.getByRole('button', { name: `Erase the name of ${name}`, exact: true });
  await expect(erase('Supervisor one')).toHaveCount(0);
  for (const name of ['Technician one', 'Example technician']) {
    await erase(name).click();
    const sheet = page.getByRole('dialog', { name: `Erase the name of ${name}` });
    await expect(sheet.getByText('All devices of this person are shut out at once')).toBeVisible();
    for (const size of [phoneSize, deskSize]) {
      await page.setViewportSize(size);
      await faultless(page, 'erase');
    }
    await sheet.getByRole('button', { name: 'Erase it for good' }).click();
    await expect(page.getByText(name, { exact: true })).toHaveCount(0);
  }
  await expect(page.getByRole('row', { name: nameless })).toHaveCount(2);
  await expect(page.getByText('3 people.')).toBeVisible();
  for (const size of [phoneSize, deskSize]) {
    await page.setViewportSize(size);
    await faultless(page, 'people without names');
  }

  await gone.page.goto(installation.address);
  await expect(gone.page.getByText('A supervisor shut this device out, so nothing can be recorded here any more.')).toBeVisible();

  await other.page.goto(installation.address);
  await sent(other.page);
  await other.page.goto(fixture);
  await expect(other.page.getByText(nameless).first()).toBeVisible();
  await expect(other.page.getByText('Example technician')).toHaveCount(0);
  await faultless(other.page, 'fixture of a person without a name');

  await page.goto(`${installation.address}/upkeep`);
  await expect(page.getByText('a device without a name')).toBeVisible();
});
