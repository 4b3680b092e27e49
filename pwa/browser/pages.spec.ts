/** The pages of the desk, of findings, of scanning and of coming in: no barrier, nothing wider than the screen, nothing too small to press, no false alarm. */
import { expect, type Page, test } from '@playwright/test';
import { deskSize, Device, phoneSize } from './browser';
import { faultless } from './faultless';
import { Installation } from './installation';
import { asked, firstDesk } from './plant';

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

/** The paths of all these pages at an installation with the example. */
async function paths(page: Page, address: string): Promise<string[]> {
  const { sites } = await asked<{ sites: { fixtures: { id: string }[] }[] }>(page, address, 'home', {});
  const { findings } = await asked<{ findings: { id: string }[] }>(page, address, 'findings', {});
  const fixture = sites[0]?.fixtures[0]?.id;
  return ['/', '/scan', '/t/0000000000A', '/new/0000000000A', '/sites', `/f/${fixture}/edit`, '/people', '/asides', '/upkeep', '/conflicts', '/findings', `/finding/${findings[0]?.id}`, '/phone', '/screen', '/join', '/setup'];
}

/** Alarms that a page has shown since it was opened. */
interface Alarmed extends Window {
  alarms: Set<string>;
}

function watchAlarms(): void {
  const alarms = ((window as unknown as Alarmed).alarms = new Set());
  const look = () => document.querySelectorAll('[role=alert]').forEach((one) => alarms.add(one.textContent));
  new MutationObserver(look).observe(document, { childList: true, subtree: true, characterData: true });
}

/** What a page has cried and then taken back, as it does where it speaks before the engine has. */
const takenBack = (page: Page) =>
  page.evaluate(() => {
    const standing = [...document.querySelectorAll('[role=alert]')].map((one) => one.textContent);
    return [...(window as unknown as Alarmed).alarms].filter((words) => !standing.includes(words));
  });

/** Each theme and each language once, on a phone and at a desk: what they could break does not depend on the other. */
const dresses = [
  { size: phoneSize, theme: 'outdoor', language: 'en' },
  { size: phoneSize, theme: 'light', language: 'es' },
  { size: deskSize, theme: 'dark', language: 'de' },
];

for (const { size, theme, language } of dresses) {
  test(`every page at ${size.width}, ${theme}, ${language}`, async () => {
    test.setTimeout(180_000);
    const installation = await Installation.start();
    const { page } = await firstDesk(installation, 'example', {});
    const all = await paths(page, installation.address);
    await page.setViewportSize(size);
    await page.evaluate((kept) => Object.entries(kept).forEach(([key, value]) => localStorage.setItem(key, value)), {
      'jointwalk-theme': theme,
      'jointwalk-language': language,
    });
    await page.addInitScript(watchAlarms);
    for (const path of all) {
      await page.goto(installation.address + path);
      await faultless(page, path);
      expect(await takenBack(page), path).toEqual([]);
    }
  });
}
