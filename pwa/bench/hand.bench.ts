/**
 * The phone in the hand: what a thumb waits for, with the page's process held to a quarter of a core by the kernel's scheduler,
 * the network cut, and the files of a phone that holds 20,000 events. Each figure beside its goal; the middle of the runs with
 * the quarter below and above it. Nothing fails for being slow: the table says it. Without the right to make a cgroup it is left
 * out, and said.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, type Locator, type Page, test } from '@playwright/test';
import { Device } from '../browser/browser';
import { film } from '../browser/camera';
import { Installation } from '../browser/installation';
import { keptForOffline } from '../browser/plant';
import { lay } from './lay';
import { Quarter } from './quarter';
import { firstScreen, precached } from './weights';
import { pageProcess, workerScript } from './worker';

const events = 20_000;
const starts = Number(process.env.COLD_RUNS ?? 5);
const rounds = 7;
const groups = 3; // in each round
const taps = 8; // in each group
const between = 500; // ms from a tap to the next: nobody looks from joint to joint faster
const scans = 7;
const unwatched = 3000; // ms of a start in which nothing looks into the page: that would be its work too

/** What the page notes of itself: ms on its own clock, which begins with its navigation. */
interface Noted extends Window {
  usable?: number;
  reactions: number[];
  saves: number[];
  playing?: number;
  arrived?: number;
}

/** Notes when the list of fixtures stands there, how long taps and saves take, when the camera shows and when a fixture stands there. */
function watchItself(): void {
  const here = window as unknown as Noted;
  here.reactions = [];
  here.saves = [];
  let pressed = 0;
  addEventListener('click', (event) => void (pressed = event.timeStamp), { capture: true });
  addEventListener('playing', () => void (here.playing ??= performance.now()), { capture: true });
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) if (entry.name === 'click') here.reactions.push(entry.duration);
  }).observe({ type: 'event', durationThreshold: 16 } as PerformanceObserverInit);
  const painted = (then: (now: number) => void) => requestAnimationFrame(() => setTimeout(() => then(performance.now())));
  let saved = false;
  new MutationObserver(() => {
    if (!here.usable && document.querySelector('main a[href^="/f/"]')) painted((now) => void (here.usable ??= now));
    if (here.playing && !here.arrived && location.pathname.startsWith('/f/') && document.querySelector('main h1, h1')) painted((now) => void (here.arrived ??= now));
    const says = document.querySelector('.undo')?.textContent?.includes('Saved: nothing seen') ?? false;
    if (says && !saved) painted((now) => void here.saves.push(now - pressed));
    saved = says;
  }).observe(document, { childList: true, subtree: true, characterData: true });
}

const noted = <K extends keyof Noted>(page: Page, key: K) => page.evaluate((key) => (window as unknown as Noted)[key], key) as Promise<Noted[K]>;

/** What stands at a share of the sorted values. */
function at(values: number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
}

function row(what: string, goal: string, figure: string): void {
  console.log(`  ${what.padEnd(58)} ${goal.padStart(12)} ${figure}`);
}

/** The middle, or what 95 of 100 stay below, with quarters and how many there were. */
function timed(what: string, goal: number, values: number[], share: 0.5 | 0.95): void {
  const ms = (value: number) => value.toFixed(0);
  const spread = `middle ${ms(at(values, 0.5))}, quarters ${ms(at(values, 0.25))} and ${ms(at(values, 0.75))}, of ${values.length}`;
  row(share === 0.5 ? what : `${what}, 95 of 100`, `≤ ${goal} ms`, `${ms(at(values, share))} ms (${spread})`);
}

test('sizes of what a phone loads', () => {
  const kb = (bytes: number) => `${(bytes / 1000).toFixed(1)} kB`;
  console.log('the phone in the hand: what is loaded, compressed as served (brotli)');
  row('first screen, JavaScript and styles', '≤ 130 kB', kb(firstScreen('dist')));
  row('precache', '≤ 3000 kB', kb(precached('dist')));
});

test('the phone in the hand at a quarter of a core', async () => {
  test.setTimeout(600_000);
  const quarter = Quarter.make();
  if (!quarter) return console.log('the phone in the hand: not measured, this user may not make a cgroup');
  const files = mkdtempSync(join(tmpdir(), 'jointwalk-pool-'));
  const server = await Installation.start();
  try {
    execFileSync('go', ['run', './server/bench', '-pool', files, '-pooled', String(events)], { cwd: '..', stdio: 'inherit' });
    const { fixture } = JSON.parse(readFileSync(join(files, 'phone.json'), 'utf8')) as { fixture: string };
    const camera = join(files, 'tag.y4m');
    const device = await Device.open({ camera });
    await device.page.goto(server.address);
    await keptForOffline(device.page);
    await device.page.goto(`${server.address}/icon.svg`);
    await lay(device.page, files);
    await film(`${server.address}/T/${await tagOf(device.page, fixture)}`.toUpperCase(), camera); // the browser opens it at its next start
    console.log(`the phone in the hand: a quarter of a core, no network, ${events} events; the machine’s load is ${loadavg()[0]?.toFixed(1)}, other work makes it slower`);
    timed('cold start until the fixtures stand there', 1500, await coldStarts(device, server, quarter), 0.5);
    const { reactions, saves } = await looks(device, server, quarter, fixture);
    timed('tap to reaction', 50, reactions, 0.95);
    timed('save', 150, saves, 0.95);
    timed('scan: from the picture to the fixture', 1000, await scanned(device, server, quarter), 0.5);
  } finally {
    await Device.endAll();
    await server.end();
    quarter.end();
    rmSync(files, { recursive: true, force: true });
  }
});

/** The code on a fixture's tag, as the engine has it. */
async function tagOf(page: Page, fixture: string): Promise<string> {
  return page.evaluate(async ([script, id]) => {
    const worker = new Worker(script, { type: 'module' });
    const told = new Promise<{ tag: string }>((done) => worker.addEventListener('message', ({ data }) => data.id === 1 && done(data.answer)));
    worker.postMessage({ id: 1, name: 'ask', args: { question: 'fixture', args: { id } } });
    const { tag } = await told;
    worker.terminate();
    return tag;
  }, [await workerScript(page), fixture] as const);
}

/** Opens the browser anew, network cut, on a page of this origin that does nothing; what is done then is done at a quarter. */
async function held(device: Device, server: Installation, quarter: Quarter, what: (page: Page) => Promise<void>): Promise<void> {
  await device.close();
  await device.start();
  await device.network(false);
  await device.page.addInitScript(watchItself);
  await device.page.goto(`${server.address}/icon.svg`);
  const letGo = quarter.hold(await pageProcess(device));
  await what(device.page);
  letGo();
}

async function coldStarts(device: Device, server: Installation, quarter: Quarter): Promise<number[]> {
  const all: number[] = [];
  for (let n = 0; n <= starts; n++) {
    await held(device, server, quarter, async (page) => {
      await page.goto(server.address, { waitUntil: 'commit' });
      await page.waitForTimeout(unwatched);
      await expect.poll(() => noted(page, 'usable'), { timeout: 60_000 }).toBeTruthy();
      if (n > 0) all.push((await noted(page, 'usable')) ?? Number.NaN);
      else await page.waitForTimeout(5000); // nothing was ever listed from these files: it is, and is kept
    });
  }
  return all;
}

/** Rounds of a fixture after one start of the app: joints are tapped to and fro under the clock, then the group is saved. */
async function looks(device: Device, server: Installation, quarter: Quarter, fixture: string): Promise<{ reactions: number[]; saves: number[] }> {
  const seen: { reactions: number[]; saves: number[] } = { reactions: [], saves: [] };
  await held(device, server, quarter, async (page) => {
    await page.goto(server.address);
    for (let n = 0; n < rounds; n++) {
      await route(page, `/f/${fixture}/round`);
      await page.getByRole('button', { name: 'Start the round' }).click({ timeout: 60_000 });
      for (let group = 0; group < groups; group++) seen.reactions.push(...(await lookedAt(page)));
    }
    seen.saves.push(...(await noted(page, 'saves')));
  });
  return seen;
}

/** Goes to a screen as a link does, without a new start. */
async function route(page: Page, path: string): Promise<void> {
  await page.evaluate((path) => {
    history.pushState(null, '', path);
    dispatchEvent(new PopStateEvent('popstate'));
  }, path);
}

/** One group: a joint is tapped to and fro under its clock, then it is saved. Gives what each tap took. Nothing looks into the page meanwhile: that would be its work too. */
async function lookedAt(page: Page): Promise<number[]> {
  await page.getByRole('button', { name: /wetted: start$/ }).click({ timeout: 60_000 });
  await page.waitForTimeout(1000); // a person looks first
  const before = (await noted(page, 'reactions')).length;
  const row = await middle(page.locator('.rows .row-main:not([disabled])').first());
  const end = await middle(page.getByRole('button', { name: /nothing seen$/i }).last());
  for (let tap = 0; tap < taps; tap++) {
    await page.touchscreen.tap(...row); // as a thumb does: no script runs for it
    await page.waitForTimeout(between);
  }
  await page.touchscreen.tap(...end);
  await page.waitForTimeout(1500);
  await expect(page.getByText('Saved: nothing seen')).toBeVisible({ timeout: 30_000 });
  const slow = (await noted(page, 'reactions')).slice(before, -1); // the last was the save
  return [...slow, ...Array<number>(Math.max(0, taps - slow.length)).fill(16)]; // quicker ones are not told
}

/** Where the middle of a part of the page is. */
async function middle(part: Locator): Promise<[number, number]> {
  const box = await part.boundingBox();
  if (!box) throw new Error('nothing to press');
  return [box.x + box.width / 2, box.y + box.height / 2];
}

/** From the list of fixtures, which the engine has told: what a start costs is measured above. */
async function scanned(device: Device, server: Installation, quarter: Quarter): Promise<number[]> {
  const all: number[] = [];
  await held(device, server, quarter, async (page) => {
    for (let n = 0; n < scans; n++) {
      await page.goto(server.address);
      await page.locator('main a[href^="/f/"]').first().waitFor();
      await expect(page.getByText('As this phone last showed it')).toHaveCount(0, { timeout: 60_000 });
      await page.getByRole('link', { name: 'Scan a tag' }).tap();
      await page.waitForURL(/\/f\//, { timeout: 60_000 });
      await page.waitForTimeout(1000);
      await expect.poll(() => noted(page, 'arrived'), { timeout: 30_000 }).toBeTruthy();
      all.push(((await noted(page, 'arrived')) ?? Number.NaN) - ((await noted(page, 'playing')) ?? Number.NaN));
    }
  });
  return all;
}
