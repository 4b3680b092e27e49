/**
 * The whole story at phone size, as a technician, a supervisor and an engineer
 * live it: set-up, pairing, the network cut and the server stopped, a round, a
 * leak sized and one mended, a kill, the way back, the same numbers at a desk.
 */
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { Device, online } from './browser';
import { film } from './camera';
import { Installation } from './installation';
import { asked, type Asker, clerk, deskByHand, firstDesk, invite, keptForOffline, pairedByHand, pairedPhone, sent } from './plant';
import { button, Thumb } from './thumb';

/** A phone sleeps: the page's own clock stands still, that of the day goes on. */
async function sleptAnHour(page: Page): Promise<void> {
  await page.evaluate(() => Object.defineProperty(performance, 'timeOrigin', { value: performance.timeOrigin - 3_600_000 }));
}

interface Home {
  sites: { fixtures: { id: string; name: string; tag: string }[] }[];
}

/** The fixture of the example with 14 joints. */
async function valveBody(desk: Asker, installation: Installation) {
  const home = await asked<Home>(desk.page, installation.address, 'home', {});
  const found = home.sites.flatMap((site) => site.fixtures).find((one) => one.name === 'Irrigation valve body');
  if (!found) throw new Error('the example has no valve body');
  return found;
}

/** From a fixture's page into its running round, conditions as last time. */
async function startRound(page: Page): Promise<void> {
  await page.getByRole('link', { name: 'Start a round' }).tap();
  await button(page, 'Start the round').tap();
  await page.waitForURL(/\/r\/[^/]+$/);
}

/** Two seconds after the last entry the browser is killed, and opened again where it was. */
async function killedInMidJoint(phone: Device): Promise<void> {
  const at = phone.page.url();
  await phone.page.waitForTimeout(2000);
  await phone.kill();
  await phone.start();
  await phone.network(false);
  await phone.page.goto(at);
}

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

test('from set-up to the same numbers at a desk, with the server stopped in between', async () => {
  const installation = await Installation.start();
  const desk = await deskByHand(installation);
  const fixture = await valveBody(desk, installation);
  const camera = await film(`${installation.address}/T/${fixture.tag}`.toUpperCase(), join(tmpdir(), `tag-${fixture.tag}.y4m`));
  const phone = await pairedByHand(await invite(desk, installation, 'Technician one', 'technician'), { camera });
  await keptForOffline(phone.page);
  await phone.close(); // a browser writes its cookies down within half a minute, or when it is closed
  await phone.start();

  await test.step('cold start with the network cut and the server stopped', async () => {
    await installation.stop();
    await phone.kill();
    await phone.start();
    await phone.network(false);
    await phone.page.goto(installation.address);
    await expect(phone.page.getByText('Offline').first()).toBeVisible();
    await expect(phone.page.getByText('Irrigation valve body').first()).toBeVisible();
  });

  await test.step('scan the tag: the fixture, and what was found last time', async () => {
    await phone.page.getByRole('link', { name: 'Scan a tag' }).tap();
    await phone.page.waitForURL(new RegExp(`/f/${fixture.id}`));
    await expect(phone.page.getByText('One leak open, about 17 % of the limit.', { exact: true }).first()).toBeVisible();
    await expect(phone.page.getByText('Rear clamp rod was not reached.', { exact: true }).first()).toBeVisible();
  });

  await test.step('look at a group under one clock; one bubbles, the rest saved in one press', async () => {
    await startRound(phone.page);
    await button(phone.page, 'These 5 are wetted: start').tap();
    await phone.page.getByText('Manifold plug, left').tap();
    await button(phone.page, 'The rest: nothing seen. Size the leak').tap();
    await expect(phone.page.getByText('Saved: nothing seen at 4 joints.')).toBeVisible();
  });

  await test.step('size it: the figure stands there as the numbers come in', async () => {
    const thumb = new Thumb();
    await sleptAnHour(phone.page);
    await thumb.tap(phone.page.getByText('Ten bubbles'));
    await thumb.tap(button(phone.page, 'Start the stopwatch'));
    await phone.page.waitForTimeout(6000);
    await thumb.tap(button(phone.page, 'Stop at the tenth'));
    await thumb.tap(button(phone.page, '¼ of the tube'));
    await expect(phone.page.getByText('of the limit')).toBeVisible();
    const before = await phone.page.getByRole('figure').first().innerText();
    await killedInMidJoint(phone);
    await expect(button(phone.page, '¼ of the tube')).toHaveAttribute('aria-pressed', 'true');
    expect(await phone.page.getByRole('figure').first().innerText()).toBe(before);
    await thumb.hold(button(phone.page, 'Save the leak'));
    await expect(phone.page.getByText('Leak saved.')).toBeVisible();
    expect(thumb.taps).toBeLessThanOrEqual(6);
  });

  await test.step('mended on the spot, in four taps and a second look', async () => {
    const thumb = new Thumb();
    await thumb.tap(button(phone.page, 'Both sides vented, zero seen'));
    await thumb.tap(button(phone.page, 'loose'));
    await thumb.tap(button(phone.page, 'Pressurised, then wetted: start'));
    await phone.page.waitForTimeout(1500);
    await thumb.tap(button(phone.page, 'Nothing seen all around, solution stayed'));
    await expect(phone.page.getByText('Second look saved.')).toBeVisible();
    expect(thumb.taps).toBeLessThanOrEqual(4);
  });

  await test.step('killed: all that was called saved is there', async () => {
    const round = new URL(phone.page.url()).pathname.split('/')[2] ?? '';
    await phone.kill();
    await phone.start();
    await phone.network(false);
    await phone.page.goto(`${installation.address}/r/${round}`);
    await expect(phone.page.getByText('5 of 14 joints looked at.')).toBeVisible();
  });

  await test.step('the end of the round: ranked, not seen, to be put back', async () => {
    await phone.page.getByRole('link', { name: 'To the end of the round' }).tap();
    await expect(phone.page.getByText('Put back what was changed')).toBeVisible();
    await expect(phone.page.getByText('9 joints are not looked at yet.')).toBeVisible();
    await button(phone.page, /^End: 8 things not put back/).tap();
    await phone.page.waitForURL(/\/f\//);
    await expect(phone.page.getByText(/Offline · \d+ records kept here/).first()).toBeVisible();
  });

  await test.step('server and network back: sent unasked', async () => {
    await installation.run();
    await phone.network(true);
    await sent(phone.page);
  });

  await test.step('after a restart of the server the desk shows the same numbers, recomputed', async () => {
    await installation.stop('SIGKILL');
    await installation.run();
    await desk.page.goto(`${installation.address}/t/${fixture.tag}`);
    await desk.page.waitForURL(new RegExp(`/f/${fixture.id}`));
    await desk.page.goto(`${installation.address}/findings`);
    await desk.page.getByText('Manifold plug, left').first().click();
    await desk.page.waitForURL(/\/finding\//);
    const id = new URL(desk.page.url()).pathname.split('/')[2] ?? '';
    const there = await asked<{ agrees: boolean; shown: { median: number }; card: { figure: { molPerSecond: number[] } } }>(
      desk.page, installation.address, 'finding', { id },
    );
    expect(there.agrees).toBe(true);
    expect(Math.abs((there.card.figure.molPerSecond[0] ?? 0) / there.shown.median - 1)).toBeLessThan(1e-12);
    await expect(desk.page.getByText('The same', { exact: false }).first()).toBeVisible();
  });
});

test('a joint pressed while the rest is being saved is sized all the same', async () => {
  const { page } = await firstDesk(await Installation.start());
  await page.getByText('Irrigation valve body').first().click();
  await page.getByRole('link', { name: 'Start a round' }).click();
  await button(page, 'Start the round').click();
  await button(page, 'These 5 are wetted: start').click();
  await page.waitForTimeout(300);
  await page.evaluate(() => {
    document.querySelector<HTMLElement>('footer .button.main')?.click();
    document.querySelector<HTMLElement>('.row.lit .row-main')?.click();
  });
  await expect(page.getByText('Saved: nothing seen at 5 joints.')).toBeVisible();
  await page.waitForURL(/\/leak\//);
});

interface Proposals {
  proposed: string[];
}

/** Notes each group that the page proposes from here on, as often as it does. */
async function noteProposals(page: Page): Promise<void> {
  await page.evaluate(() => {
    const proposed: string[] = [];
    Object.assign(window, { proposed } satisfies Proposals);
    let last = '';
    const note = () => {
      const lit = [...document.querySelectorAll('.rows:not(.running) .row.lit')].map(({ id }) => id).join(' ');
      if (lit !== last && lit !== '') proposed.push(lit);
      last = lit;
    };
    note();
    new MutationObserver(note).observe(document, { subtree: true, childList: true, attributes: true });
  });
}

test('fourteen tight joints in at most eight taps', async () => {
  const installation = await Installation.start();
  const desk = await clerk(installation);
  const fixture = await valveBody(desk, installation);
  const phone = await pairedPhone(await invite(desk, installation, 'Technician one', 'technician'), online);
  await phone.page.goto(`${installation.address}/f/${fixture.id}`);
  await startRound(phone.page);
  await noteProposals(phone.page);
  const thumb = new Thumb();
  for (const size of [5, 5, 4]) {
    await thumb.tap(button(phone.page, `These ${size} are wetted: start`));
    await phone.page.waitForTimeout(1100);
    await thumb.tap(button(phone.page, `All ${size}: nothing seen`));
    await expect(phone.page.getByText(`Saved: nothing seen at ${size} joints.`)).toBeVisible();
  }
  expect(thumb.taps).toBeLessThanOrEqual(8);
  await expect(phone.page.locator('.row.lit')).toHaveCount(0);
  expect(await phone.page.evaluate(() => (window as unknown as Proposals).proposed), 'what was just looked at is not proposed again').toHaveLength(3);
  await sent(phone.page);
  const round = await asked<{ done: number; joints: { mark: string; seconds: number }[] }>(
    phone.page, installation.address, 'round', { id: new URL(phone.page.url()).pathname.split('/')[2] },
  );
  expect(round.joints.map((joint) => joint.mark)).toEqual(Array(14).fill('ring'));
  expect(Math.min(...round.joints.map((joint) => joint.seconds))).toBeGreaterThanOrEqual(1);
});
