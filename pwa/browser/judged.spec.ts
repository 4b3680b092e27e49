/**
 * The story that the phone is judged by, thumb only and without a network: a blank tag is registered, its 14 joints are looked at in groups,
 * three leaks are sized in three ways, one is mended on the spot and one to be looked at later, the round ends. Then the network comes back.
 */
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { Device } from './browser';
import { film } from './camera';
import { Installation } from './installation';
import { look } from './look';
import { asked, type Asker, clerk, invite, keptForOffline, pairedPhone, sent } from './plant';
import { button, Thumb } from './thumb';

const blank = '0123456789R';
const sizes = [{ width: 320, height: 640 }, { width: 390, height: 844 }];

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

for (const size of sizes) {
  test(`from a blank tag to the end of a round with three leaks, at ${size.width}, and the same at the server`, () => judged(size));
}

async function judged(size: { width: number; height: number }): Promise<void> {
  const installation = await Installation.start();
  const office = await clerk(installation);
  const camera = await film(`${installation.address}/T/${blank}`, join(tmpdir(), `judged-${size.width}.y4m`));
  const phone = await pairedPhone(await invite(office, installation, 'Technician one', 'technician'), { camera, size });
  await keptForOffline(phone.page);
  const story = new Story(phone.page);
  await story.thumb.ready(phone.page);
  await phone.network(false);
  await story.register();
  await story.begin();
  const round = phone.page.url().split('/r/')[1] ?? '';
  await story.firstGroup();
  await story.byTen();
  await story.mendedOnTheSpot();
  await story.byGas();
  await story.mendedForLater();
  await story.secondGroup();
  await story.byTaps();
  await story.thirdGroup();
  await story.end();
  const told = await story.told(round);
  expect(told.map(({ state }) => state).sort()).toEqual(Object.values(states));
  await phone.network(true);
  await sent(phone.page);
  await expectSame(office, installation, round, told);
}

/** The states of a leak in the phone's words; each stands in no other. */
const states: Record<string, string> = { 'on-spot': 'mended on the spot, seen tight', waiting: 'mended, waits for its second look', open: 'open' };

/** What a phone's screen says of a leak. */
interface Told {
  joint: string;
  state: string;
  rate: string;
}

/** The steps of the story on a phone, a picture of each. */
class Story {
  readonly thumb = new Thumb();
  private pictures = 0;

  constructor(private readonly page: Page) {
    page.setDefaultTimeout(15_000);
  }

  private tap(name: string | RegExp): Promise<void> {
    return this.thumb.tap(button(this.page, name));
  }

  /** A picture, when what it is of stands there. */
  private async look(name: string): Promise<void> {
    if (process.env.LOOKS) await this.page.waitForTimeout(300);
    await look(this.page, `judged-${String(++this.pictures).padStart(2, '0')}-${name}`);
  }

  private async type(text: string): Promise<void> {
    const keys = this.page.getByRole('group', { name: 'Number keys' });
    for (const key of text) await this.thumb.tap(keys.getByText(key, { exact: true }));
  }

  /** The blank tag is scanned; its fixture gets a name, and joints and program of one that is built the same. */
  async register(): Promise<void> {
    const { page, thumb } = this;
    await thumb.tap(page.getByRole('link', { name: 'Scan a tag' }));
    await expect(page.getByRole('link', { name: 'Register a fixture here' })).toBeVisible();
    await this.look('blank-tag');
    await thumb.tap(page.getByRole('link', { name: 'Register a fixture here' }));
    await thumb.tap(page.getByLabel('Name of the fixture'));
    await page.keyboard.type('Valve body, second');
    await this.look('register');
    await this.tap('Register it');
    await page.waitForURL('**/joints');
    await this.look('joints');
    await this.tap('Copy from another fixture');
    await expect(button(page, /^Irrigation valve body/)).toBeVisible();
    await this.look('copy');
    await this.tap(/^Irrigation valve body/);
    await expect(page.getByText('14 joints', { exact: false }).first()).toBeVisible();
    await this.look('copied');
  }

  async begin(): Promise<void> {
    const { page, thumb } = this;
    await thumb.tap(page.getByRole('link', { name: 'To the fixture' }));
    await expect(page.getByRole('link', { name: 'Start a round' })).toBeVisible();
    await this.look('fixture');
    await thumb.tap(page.getByRole('link', { name: 'Start a round' }));
    await expect(button(page, 'Start the round')).toBeEnabled();
    await this.look('conditions');
    await this.tap('Start the round');
    await page.waitForURL(/\/r\/[^/]+$/);
    await expect(page.locator('.row')).toHaveCount(14);
    await this.look('round');
  }

  async firstGroup(): Promise<void> {
    await this.tap('These 5 are wetted: start');
    await this.look('clock');
    await this.thumb.tap(this.page.locator('.row-main').nth(1));
    await this.thumb.tap(this.page.locator('.row-main').nth(3));
    await this.look('two-bubble');
    await this.tap('The rest: nothing seen. Size 2 leaks');
    await this.page.waitForURL(/\/leak\//);
    await this.look('leak');
  }

  /** The time of ten bubbles, and their size beside the tube. */
  async byTen(): Promise<void> {
    await this.thumb.tap(this.page.getByText('Ten bubbles'));
    await this.tap('Start the stopwatch');
    await this.page.waitForTimeout(2500);
    await this.look('ten-running');
    await this.tap('Stop at the tenth');
    await this.look('ten-stopped');
    await this.tap('¼ of the tube');
    await expect(this.page.getByText('of the limit').first()).toBeVisible();
    await this.look('ten-sized');
    await this.save();
  }

  private async save(): Promise<void> {
    await this.thumb.hold(button(this.page, 'Save the leak'));
    await expect(this.page.getByText('Leak saved.')).toBeVisible();
    await this.look('saved');
  }

  async mendedOnTheSpot(): Promise<void> {
    await this.tap('Both sides vented, zero seen');
    await this.look('vented');
    await this.tap('loose');
    await this.look('cause');
    await this.tap('Pressurised, then wetted: start');
    await this.look('second-look');
    await this.page.waitForTimeout(1100);
    await this.tap('Nothing seen all around, solution stayed');
    await expect(this.page.getByText('Second look saved.')).toBeVisible();
  }

  /** Gas collected over water in a minute. */
  async byGas(): Promise<void> {
    await expect(this.page.getByRole('heading', { name: 'Manifold plug, left' })).toBeVisible();
    await this.look('next-leak');
    await this.tap('Nothing to count, or too fast');
    await this.look('other-ways');
    await this.tap('Collect gas');
    await this.look('collect');
    await this.tap('Type the time instead');
    await this.type('60');
    await this.look('collect-time');
    await this.tap(/^Volume/);
    await this.type('0.8');
    await expect(this.page.getByText('of the limit').first()).toBeVisible();
    await this.look('collected');
    await this.save();
  }

  async mendedForLater(): Promise<void> {
    await this.tap('Both sides vented, zero seen');
    await this.tap('seal worn');
    await this.look('spare');
    await this.thumb.tap(this.page.getByLabel('Spare part, if one went in'));
    await this.page.keyboard.type('O-ring 10 × 2');
    await this.look('spare-typed');
    await this.tap('Look again later');
    await this.page.waitForURL(/\/r\/[^/]+$/);
    await expect(this.page.getByText('Repair saved. It waits for its second look.')).toBeVisible();
    await this.look('rows-waiting');
  }

  async secondGroup(): Promise<void> {
    await this.tap('These 5 are wetted: start');
    await this.thumb.tap(this.page.locator('.row.lit .row-main').nth(3));
    await this.look('second-group');
    await this.tap('The rest: nothing seen. Size the leak');
    await this.page.waitForURL(/\/leak\//);
  }

  /** A tap for each bubble, and their size in millimetres. */
  async byTaps(): Promise<void> {
    await this.thumb.tap(this.page.getByText('Tap each'));
    await this.tap('Start tapping');
    for (let n = 0; n < 4; n++) {
      await this.page.waitForTimeout(400);
      await this.tap('Tap for each bubble');
    }
    await this.look('tapping');
    await this.thumb.hold(button(this.page, 'Done: 4 taps'));
    await this.tap(/^Size in millimetres/);
    await this.look('millimetres');
    await this.tap('2');
    await expect(this.page.getByText('of the limit').first()).toBeVisible();
    await this.look('tapped');
    await this.save();
    await this.thumb.tap(this.page.getByRole('link', { name: 'Back to the joints' }));
  }

  async thirdGroup(): Promise<void> {
    await this.tap('These 4 are wetted: start');
    await this.page.waitForTimeout(process.env.LOOKS ? 6000 : 1100);
    await this.look('third-group');
    await this.tap('All 4: nothing seen');
    await expect(this.page.getByText('Saved: nothing seen at 4 joints.')).toBeVisible();
    await this.look('all-looked-at');
  }

  async end(): Promise<void> {
    const { page, thumb } = this;
    await thumb.tap(page.locator('footer').getByRole('link', { name: 'To the end of the round' }));
    await expect(page.locator('.put-back')).toHaveCount(8);
    await this.look('end');
    for (let n = 0; n < 8; n++) await thumb.tap(page.locator('.put-back').nth(n));
    await this.look('put-back');
    await this.tap('End the round');
    await page.waitForURL(/\/f\//);
    await expect(page.getByText('Round ended.')).toBeVisible();
    await this.look('ended');
  }

  /** The record of the round as the phone has it: its leaks. */
  async told(round: string): Promise<Told[]> {
    const { page, thumb } = this;
    await thumb.tap(page.locator(`a[href="/r/${round}/end"]`).last());
    await expect(page.locator('.finding-row')).toHaveCount(3);
    await this.look('record');
    return page.locator('.finding-row').evaluateAll((rows, states) => {
      const said = (row: Element, what: string) => row.querySelector(what)?.textContent ?? '';
      return rows.map((row) => ({
        joint: said(row, '.strong'),
        state: states.find((state) => row.textContent?.includes(state)) ?? '',
        rate: said(row, '.figure strong'),
      }));
    }, Object.values(states));
  }
}

interface ServerRound {
  joints: { name: string; mark: string }[];
  findings: { id: string; jointName: string; state: string; figure: { median: string } }[];
}


/** The server has the round as the phone told it, and computes the same figures from what was seen. */
async function expectSame(office: Asker, { address }: Installation, id: string, told: Told[]): Promise<void> {
  const { joints, findings } = await asked<ServerRound>(office.page, address, 'round', { id });
  expect(joints.map(({ mark }) => mark).filter((mark) => mark === 'ring').length, 'joints where nothing is seen').toBe(12);
  expect(joints.length).toBe(14);
  expect(findings.map(({ jointName, state, figure }) => ({ joint: jointName, state: states[state], rate: figure.median }))).toEqual(told);
  for (const finding of findings) {
    const { agrees } = await asked<{ agrees: boolean }>(office.page, address, 'finding', { id: finding.id });
    expect(agrees, finding.jointName).toBe(true);
  }
}
