/** The screens of a round, in every state that a thumb brings them to: no barrier in any theme, language and width. */
import { expect, type Page, test } from '@playwright/test';
import { Device, phoneSize } from './browser';
import { faultless } from './faultless';
import { Installation } from './installation';
import { asked, firstDesk } from './plant';

test.afterEach(async () => {
  await Device.endAll();
  await Installation.endAll();
});

const dresses = [
  { size: phoneSize, theme: 'outdoor', language: 'es' },
  { size: { width: 320, height: 640 }, theme: 'dark', language: 'en' },
];

/** Presses what a selector finds first; words differ by language, places do not. */
async function press(page: Page, selector: string): Promise<void> {
  await page.locator(selector).first().click();
}

const main = 'footer .button.main';

for (const { size, theme, language } of dresses) {
  test(`a round at ${size.width}, ${theme}, ${language}`, async () => {
    test.setTimeout(120_000);
    const installation = await Installation.start();
    const { page } = await firstDesk(installation);
    const { sites } = await asked<{ sites: { fixtures: { id: string }[] }[] }>(page, installation.address, 'home', {});
    await page.setViewportSize(size);
    await page.evaluate((kept) => Object.entries(kept).forEach(([key, value]) => localStorage.setItem(key, value)), {
      'jointwalk-theme': theme,
      'jointwalk-language': language,
    });
    await page.goto(`${installation.address}/f/${sites[0]?.fixtures[2]?.id}`);
    await faultless(page, 'fixture');
    await start(page);
    await watch(page);
    await sizeIt(page);
    await mend(page);
    await end(page);
  });
}

async function start(page: Page): Promise<void> {
  await press(page, main);
  await page.waitForURL(/\/round$/);
  await expect(page.locator('.same')).toBeVisible();
  await faultless(page, 'start');
  await press(page, '.same .button');
  await faultless(page, 'conditions');
  await press(page, main);
  await page.waitForURL(/\/r\/[^/]+$/);
}

async function watch(page: Page): Promise<void> {
  await expect(page.locator('.row.lit')).toHaveCount(5);
  await faultless(page, 'group');
  await heard(page);
  await startWithGhost(page);
  await press(page, '.row:nth-child(2) .row-main');
  await expect(page.locator('.row.bubbling')).toHaveCount(1);
  await faultless(page, 'group running');
  await ringsOnce(page);
  await press(page, '.row:nth-child(3) .row-side');
  await faultless(page, 'more of a joint');
  await press(page, 'dialog .choice.two .pick');
  await expect(page.locator('.row.lit')).toHaveCount(4);
  await press(page, main);
  await page.waitForURL(/\/leak\//);
}

/** The press that starts the clock, and its ghost on what stands in its place at once: that would save the whole group. */
async function startWithGhost(page: Page): Promise<void> {
  const other = await page.evaluate(async (main) => {
    const start = document.querySelector<HTMLElement>(main);
    start?.click();
    await new Promise((drawn) => setTimeout(drawn, 0));
    const end = document.querySelector<HTMLElement>(main);
    end?.click();
    return start !== end;
  }, main);
  expect(other, 'another button stands there').toBe(true);
  await page.waitForTimeout(300);
  await expect(page.locator('.row.lit')).toHaveCount(5);
  await expect(page.locator('.watch')).toBeVisible();
}

/** Notes from here on the pitch of each sound. */
async function heard(page: Page): Promise<void> {
  await page.evaluate(() => {
    const make = AudioContext.prototype.createOscillator;
    const pitches: number[] = [];
    Object.assign(window, { pitches });
    AudioContext.prototype.createOscillator = function () {
      const made = make.call(this);
      const { start } = made;
      made.start = (when) => {
        pitches.push(made.frequency.value);
        start.call(made, when);
      };
      return made;
    };
  });
}

/** One sound as the look is long enough; none as all joints bubble, where it shows nothing, and then do not. */
async function ringsOnce(page: Page): Promise<void> {
  const enough = page.locator('.watch.enough');
  await expect(enough).toBeVisible();
  for (const shown of [false, true]) {
    for (const row of [1, 3, 4, 5]) {
      await page.locator(`.row:nth-child(${row}) .row-main`).dispatchEvent('click'); // on a low screen one lies under the act
      await page.waitForTimeout(100); // a press that comes sooner is the ghost of this one
    }
    await expect(enough).toBeVisible({ visible: shown });
  }
  expect(await page.evaluate(() => (window as unknown as { pitches: number[] }).pitches)).toEqual([1320]);
}

/** Presses what wants to be held, until it is done. */
async function hold(page: Page, selector: string): Promise<void> {
  await page.locator(selector).first().click({ delay: 800 });
}

/** What wet glass reports of one pointer on an element. */
async function touch(page: Page, selector: string, id: number, ...what: ('down' | 'move' | 'up' | 'cancel')[]): Promise<void> {
  for (const [n, one] of what.entries()) {
    const at = { pointerId: id, isPrimary: id === 1, clientX: 100 + (one === 'move' ? 60 : 0), clientY: 200, width: 9, height: 9, pressure: 0.5 };
    await page.locator(selector).dispatchEvent(`pointer${one}`, at);
    if (n < what.length - 1) await page.waitForTimeout(100);
  }
}

async function sizeIt(page: Page): Promise<void> {
  await faultless(page, 'leak');
  await press(page, '.choice.even.slim .pick:nth-child(3)');
  await press(page, main);
  await wetTaps(page);
  await faultless(page, 'tapping');
  await touch(page, '.locked .hold', 1, 'down', 'up'); // a drop ends nothing
  await expect(page.locator('.locked')).toBeVisible();
  await page.goBack({ waitUntil: 'commit' }).catch(() => undefined); // nor does going back
  await expect(page.locator('.locked-asked')).toBeVisible();
  await faultless(page, 'going back while it counts');
  await hold(page, '.locked .hold');
  await expect(page.locator('.number-field').first()).toContainText('4');
  await press(page, '.sizes .pick:last-child');
  await press(page, '.pad button:nth-child(11)');
  await expect(page.locator('.leak-figure [role=alert]')).toBeVisible();
  await faultless(page, 'a size of zero');
  await press(page, '.sizes .pick:nth-child(2)');
  await expect(page.locator('.leak-figure .figure')).toBeVisible();
  await press(page, '.sized .pick:last-child'); // a second bubble
  await press(page, '.sizes .pick:nth-child(3)');
  await expect(page.locator('.sized .pick')).toHaveCount(3);
  await expect(page.locator('.leak-figure .figure')).toBeVisible();
  await faultless(page, 'sized');
  await press(page, main); // a press saves nothing
  await expect(page.locator('.leak-figure')).toBeVisible();
  await hold(page, main);
}

/** A true tap, and while that finger is down another that comes and goes: as the screen itself reports them. */
async function twoFingers(page: Page): Promise<void> {
  const glass = await page.context().newCDPSession(page);
  const [one, other] = [{ x: 100, y: 200, id: 1 }, { x: 160, y: 240, id: 2 }];
  const steps = [['touchStart', [one]], ['touchStart', [one, other]], ['touchEnd', [one]], ['touchEnd', []]] as const;
  for (const [type, touchPoints] of steps) {
    await glass.send('Input.dispatchTouchEvent', { type, touchPoints: [...touchPoints] });
    await page.waitForTimeout(100);
  }
  await glass.detach();
}

/** Four true taps, and what wet glass makes beside them: a ghost, a second finger, a palm that smears, one that is given up. */
async function wetTaps(page: Page): Promise<void> {
  const area = '.locked .tap-area';
  await page.waitForTimeout(200);
  await touch(page, area, 1, 'down', 'up');
  await page.evaluate(() => {
    const area = document.querySelector('.locked .tap-area');
    for (const kind of ['pointerdown', 'pointerup']) area?.dispatchEvent(new PointerEvent(kind, { pointerId: 7, isPrimary: true, bubbles: true }));
  });
  await page.waitForTimeout(200);
  await twoFingers(page);
  for (const beside of [['down', 'move', 'up'], ['down', 'cancel']] as const) {
    await page.waitForTimeout(200);
    await touch(page, area, 1, 'down', 'up');
    await page.waitForTimeout(200);
    await touch(page, area, 1, ...beside);
  }
  await expect(page.locator('.tap-count')).toHaveText('4');
}

async function mend(page: Page): Promise<void> {
  await expect(page.locator('.mend')).toBeVisible();
  await faultless(page, 'after');
  await press(page, '.mend .button');
  await press(page, '.mend .pick');
  await faultless(page, 'mending');
  await press(page, main);
  await expect(page.locator('.stopwatch')).toBeVisible();
  await faultless(page, 'second look');
  await press(page, main);
  await page.waitForURL(/\/r\/[^/]+$/);
}

async function end(page: Page): Promise<void> {
  const round = page.url();
  await page.goto(`${round}/end`);
  await expect(page.locator('.put-back')).toHaveCount(8);
  await press(page, '.put-back');
  await faultless(page, 'end');
  await press(page, main);
  await page.waitForURL(/\/f\//);
  await page.goto(round);
  await faultless(page, 'round that is over');
}
