/**
 * One round, two ways: 14 joints with two leaks, played on the screens of a phone without a network, its taps counted as they
 * are made; and the same on a round sheet. Both are timed by the keystroke-level model (keystrokes.ts) for one person, with the
 * same operators; what they wait for is the same for both. The phone is paired, open at its first screen, and holds the fixture; the sheet is printed.
 */
import { expect, type Locator, type Page, test } from '@playwright/test';
import { Device } from '../browser/browser';
import { Installation } from '../browser/installation';
import { asked, clerk, invite, keptForOffline, pairedPhone } from '../browser/plant';
import { type Act, hold, onPaper, operators, type Round, tap, timeOf, workedOut } from './keystrokes';

/** Seconds: a group is watched for half a minute, ten bubbles take so long at either leak. */
const plan: Round = { groups: [5, 5, 4], watched: 30, leaks: [6, 4] };
/** Where the round leaks: the joints that are tapped, by their place in the first group. */
const leaking = [1, 3];
/** Seconds that a thumb stays on the button that saves. */
const held = 0.8;

/** Taps on the screens, and writes down what a person does. */
class Thumb {
  readonly acts: Act[] = [];

  /** A tap; one that is not `decided` follows from the one before. */
  async tap(what: string, target: Locator, decided = true, waits = 0): Promise<void> {
    await target.page().waitForTimeout(100); // no thumb is sooner after the one before, and the app takes what is for a ghost
    await target.tap();
    this.acts.push({ ...tap(what, decided), waits });
  }

  async hold(what: string, target: Locator): Promise<void> {
    await target.click({ delay: held * 1000 });
    this.acts.push(hold(what, held));
  }
}

test('a round of 14 joints with two leaks, on the phone and on a sheet', async () => {
  const installation = await Installation.start();
  try {
    const office = await clerk(installation);
    const phone = await pairedPhone(await invite(office, installation, 'Technician one', 'technician'));
    await keptForOffline(phone.page);
    await phone.network(false);
    const { acts, id } = await play(phone);
    tell(acts);
    await phone.network(true);
    await phone.page.goto(installation.address);
    await expect(phone.page.getByText('All sent').first()).toBeVisible();
    const kept = await asked<{ joints: { mark: string }[] }>(office.page, installation.address, 'round', { id });
    expect(kept.joints.filter(({ mark }) => mark === 'ring').length, 'tight joints that the server has').toBe(12);
  } finally {
    await Device.endAll();
    await installation.end();
  }
});

/** From the list of fixtures to the end of the round; what was done, and the id of the round. */
async function play({ page }: Device): Promise<{ acts: Act[]; id: string }> {
  const thumb = new Thumb();
  const button = (name: string | RegExp) => page.getByRole('button', { name });
  thumb.acts.push({ what: 'takes the phone, as one takes clipboard and pen', does: 'HH' });
  await thumb.tap('the fixture', page.getByText('Irrigation valve body').first());
  await thumb.tap('start a round', page.getByRole('link', { name: 'Start a round' }));
  await thumb.tap('conditions as last time: start', button('Start the round'));
  await page.waitForURL(/\/r\/[^/]+$/);
  const id = page.url().split('/r/')[1] ?? '';
  for (const [n, joints] of plan.groups.entries()) {
    await thumb.tap(`${joints} are wetted: start`, button(/wetted: start$/), true, plan.watched);
    if (n > 0) {
      await thumb.tap('all: nothing seen', button(/^All \d+: nothing seen$/));
      continue;
    }
    for (const place of leaking) await thumb.tap('this one bubbles', page.locator('.rows .row-main:not([disabled])').nth(place));
    await thumb.tap('the rest: nothing seen', button(/^The rest: nothing seen/));
    for (const [leak, seconds] of plan.leaks.entries()) await sizeIt(thumb, page, leak, seconds);
  }
  await thumb.tap('to the end', page.locator('footer').getByText('To the end of the round'));
  await thumb.tap('end', page.locator('footer .button.main'));
  await page.waitForURL(/\/f\//);
  return { acts: thumb.acts, id };
}

/** Ten bubbles by the stopwatch, which the phone proposes once it was the way of counting; a size, saved; to be mended later. */
async function sizeIt(thumb: Thumb, page: Page, leak: number, seconds: number): Promise<void> {
  const button = (name: string | RegExp) => page.getByRole('button', { name });
  await page.waitForURL(/\/leak\//);
  if (leak === 0) await thumb.tap('time for ten', page.getByText('Ten bubbles'));
  await thumb.tap('start at a bubble', button('Start the stopwatch'), true, seconds);
  await page.waitForTimeout(seconds * 1000);
  await thumb.tap('stop at the tenth', button('Stop at the tenth'), false);
  await thumb.tap('a quarter of the tube', button('¼ of the tube'));
  await thumb.hold('save', button('Save the leak'));
  await expect(page.getByText('Leak saved.')).toBeVisible();
  await thumb.tap('on: it is mended later', page.locator('footer .button.main'));
}

function tell(acts: Act[]): void {
  const taps = acts.filter(({ does }) => does.endsWith('PK')).length;
  const ways: [string, Act[]][] = [
    [`phone, ${taps} taps, leak rates and shares on it`, acts],
    ['sheet, what was seen and no more', onPaper(plan)],
    ['sheet, leak rates worked out beside it', [...onPaper(plan), ...workedOut(plan)]],
  ];
  console.log('captures: 14 joints, two leaks; seconds by the keystroke-level model of Card, Moran and Newell (1980)');
  for (const [letter, { what, seconds, from }] of Object.entries(operators)) console.log(`  ${letter} ${seconds} s  ${what} (${from})`);
  console.log(`  ${'way'.padEnd(52)}   acting  waiting      all`);
  for (const [way, done] of ways) {
    const { acting, waiting } = timeOf(done);
    console.log(`  ${way.padEnd(52)} ${[acting, waiting, acting + waiting].map((s) => `${s.toFixed(1)} s`.padStart(8)).join(' ')}`);
  }
}
