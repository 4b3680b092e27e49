/**
 * Capture, kill, sync: one suite for every engine. What an engine cannot do is
 * written down with its reason; what it can do must hold.
 */
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from '@playwright/test';
import { Installation } from '../browser/installation';
import type { Browser, Engine } from './driver';
import { count, group, left, openLeak, pair, startRound } from './acts';
import { Hand } from './hand';
import { layoutFaults } from './layout';
import { Observer } from './observer';
import { type EngineRun, keep, type Step } from './outcome';
import { chromium, firefox } from './puppet';
import { webkit } from './webkit';

const fixture = /^Irrigation valve body/;
const nothingKept = 'This browser keeps nothing. A record is safe only once the server has it: stay on the network.';
const noHandles = 'the engine lends no synchronous file handles, so records live in memory and end with the process';
const hasHandles = 'the engine lends file handles: this device keeps its records itself';
const ephemeral = 'a browser driven by WebKitWebDriver keeps its profile in memory: nothing is left to open again';

/** One engine's way through the suite. */
class Trial {
  readonly steps: Step[] = [];
  readonly seen: string[] = []; // joints that must have arrived once each: round joint result
  round = '';
  private running: Browser | undefined;

  constructor(
    readonly engine: Engine,
    readonly server: Installation,
    readonly observer: Observer,
    readonly profile: string,
  ) {}

  get hand(): Hand {
    if (!this.running) throw new Error('the browser is closed');
    return new Hand(this.running);
  }

  async open(): Promise<void> {
    this.running = await this.engine.open(this.profile);
  }

  async home(): Promise<void> {
    await this.hand.browser.goto(this.server.address);
  }

  async kill(): Promise<void> {
    await this.hand.browser.aim()();
    this.running = undefined;
  }

  async close(): Promise<void> {
    await this.running?.close();
    this.running = undefined;
  }

  /** A step that this engine can do; what it asserts must hold. */
  async step(name: string, run: () => Promise<void>): Promise<void> {
    console.log(`${this.engine.name}: ${name}`);
    await test.step(name, run);
    this.steps.push({ step: name, ran: true });
  }

  /** A step that needs something: done where it is there, written down with the reason where not. */
  async where(there: boolean, why: string, name: string, run: () => Promise<void>): Promise<void> {
    if (there) return this.step(name, run);
    this.steps.push({ step: name, ran: false, why });
  }

  /** Looks at the page as it stands, and keeps its picture where pictures are asked for. */
  async look(name: string): Promise<void> {
    expect(await layoutFaults(this.hand.browser, name)).toEqual([]);
    const shots = process.env['SHOTS'];
    if (shots === undefined) return;
    mkdirSync(shots, { recursive: true });
    await this.hand.browser.shot(join(shots, `${this.engine.name}-${name}.png`));
  }
}

const runs: EngineRun[] = [];

for (const engine of [chromium, firefox, webkit]) {
  test(`capture, kill, sync in ${engine.name}`, async () => {
    test.setTimeout(300_000);
    const server = await Installation.start();
    const profile = mkdtempSync(join(tmpdir(), `jointwalk-${engine.name}-`));
    const trial = new Trial(engine, server, await Observer.first(server), profile);
    try {
      await trial.open();
      await pairing(trial);
      await offline(trial);
      await (engine.keeps ? captured(trial) : inMemory(trial));
      await arrived(trial);
      await pages(trial);
      runs.push({ engine: engine.name, version: engine.version(), by: engine.by, steps: trial.steps });
    } finally {
      await trial.close();
      await server.end();
      rmSync(profile, { recursive: true, force: true, maxRetries: 10 });
    }
  });
}

test.afterAll(() => {
  if (runs.length === 3) keep('engines', { engines: runs });
});

async function pairing(trial: Trial): Promise<void> {
  const { engine } = trial;
  await trial.step('pairs by an invitation, fetches its sites, keeps the app for offline starts', async () => {
    await pair(trial.hand, await trial.observer.invite('Technician one'));
  });
  await trial.step(`says how it keeps records: ${engine.keeps ? 'no notice' : 'a notice on every page that nothing is kept'}`, async () => {
    expect(await trial.hand.sees(nothingKept)).toBe(!engine.keeps);
    await trial.hand.browser.goto(`${trial.server.address}/phone`);
    await trial.hand.see('Sites held here');
    expect(await trial.hand.sees('What you save is kept on this device.')).toBe(engine.keeps);
    expect(await trial.hand.sees(nothingKept)).toBe(!engine.keeps);
    await trial.home();
  });
  await trial.where(engine.profiles, ephemeral, 'closed and opened again: still the same device, all of it there', async () => {
    await trial.close();
    await trial.open();
    await trial.home();
    await trial.hand.see('All sent');
    await trial.hand.see('Irrigation valve body');
  });
}

async function offline(trial: Trial): Promise<void> {
  const { engine } = trial;
  await trial.step('server killed: the app opens from its own copy in the running browser', async () => {
    await trial.server.stop('SIGKILL');
    await trial.hand.browser.goto('about:blank');
    await trial.home();
    await trial.hand.see('Offline');
  });
  await trial.where(engine.profiles, ephemeral, 'server and browser killed: a cold start shows the fixtures', async () => {
    await trial.kill();
    await trial.open();
    await trial.home();
    await trial.hand.see('Offline');
    await trial.hand.see('Irrigation valve body');
  });
}

/** Where the phone keeps its records: all of a round without the server, and a kill. */
async function captured(trial: Trial): Promise<void> {
  await trial.step('no server: a round, a group looked at, a leak counted and sized, each said to be saved', () => capture(trial));
  await trial.step('browser killed right after "saved", no server: all that was called saved is there', async () => {
    await trial.kill();
    await trial.open();
    expect(await left(trial.hand, trial.server.address, trial.round)).toBe(9);
    await trial.hand.see(/Offline · \d+ records kept here/);
  });
  await trial.step('browser killed in mid-count: the draft stands there again', async () => {
    await trial.hand.browser.goto(trial.server.address + trial.round);
    const [joint] = await group(trial.hand);
    await openLeak(trial.hand, joint);
    await count(trial.hand, 1200);
    await new Promise((resolve) => setTimeout(resolve, 1000));
    const at = await trial.hand.browser.address();
    await trial.kill();
    await trial.open();
    await trial.hand.browser.goto(at);
    await trial.hand.hold('Save the leak');
    await trial.hand.see('Leak saved.');
    trial.seen.push(`${trial.round} ${joint.id} leaks`);
  });
  trial.steps.push({ step: 'nothing kept here: "saved" waits for the server', ran: false, why: hasHandles });
  await trial.step('server back: all is sent, unasked', async () => {
    await trial.server.run();
    await trial.home();
    await trial.hand.see('All sent');
  });
}

async function capture(trial: Trial): Promise<void> {
  trial.round = await startRound(trial.hand, fixture);
  const joints = await group(trial.hand);
  await trial.hand.press(/wetted: start$/);
  await trial.hand.press(new RegExp(`^${joints[1]?.name}`));
  await trial.hand.press('The rest: nothing seen. Size the leak');
  await trial.hand.see('Saved: nothing seen at 4 joints.');
  await trial.hand.at(/\/leak\//);
  await count(trial.hand, 1200);
  await trial.look('leak-sized');
  await trial.hand.hold('Save the leak');
  await trial.hand.see('Leak saved.');
  trial.seen.push(...joints.map(({ id }, n) => `${trial.round} ${id} ${n === 1 ? 'leaks' : 'none'}`));
}

/** Where it keeps nothing: "saved" is the server's word alone. */
async function inMemory(trial: Trial): Promise<void> {
  for (const step of ['no server: a round, a group looked at, a leak counted and sized, each said to be saved',
    'browser killed right after "saved", no server: all that was called saved is there', 'browser killed in mid-count: the draft stands there again']) {
    trial.steps.push({ step, ran: false, why: noHandles });
  }
  await trial.step('nothing kept here: "saved" waits for the server', async () => {
    await trial.server.run();
    await trial.home();
    await trial.hand.see('All sent');
    trial.round = await startRound(trial.hand, fixture);
    await trial.server.stop('SIGKILL');
    const joints = await group(trial.hand);
    await trial.hand.press(/wetted: start$/);
    await trial.hand.press(`All ${joints.length}: nothing seen`);
    await trial.hand.see('Not safe yet: the server has not answered. Keep this page open.');
    expect(await trial.hand.sees('Saved: nothing seen')).toBe(false);
    expect(await trial.hand.sees(nothingKept)).toBe(true);
    trial.seen.push(...joints.map(({ id }) => `${trial.round} ${id} none`));
  });
  await trial.step('server back: all is sent, unasked', async () => {
    await trial.server.run();
    await trial.hand.see('All sent');
  });
  await trial.step('browser killed right after "saved": the server has it', async () => {
    const joints = await group(trial.hand);
    await trial.hand.press(/wetted: start$/);
    await trial.hand.press(`All ${joints.length}: nothing seen`);
    await trial.hand.see(`Saved: nothing seen at ${joints.length} joints.`);
    await trial.kill();
    trial.seen.push(...joints.map(({ id }) => `${trial.round} ${id} none`));
    await trial.open();
  });
}

async function arrived(trial: Trial): Promise<void> {
  await trial.step('the server has each record once, and no other of this round', async () => {
    const round = trial.round.split('/')[2] ?? '';
    const looks = (await trial.observer.looks()).filter((look) => look.round === round);
    expect(looks.map((look) => `/r/${look.round} ${look.joint} ${look.result}`).sort()).toEqual([...trial.seen].sort());
  });
}

/** The screens at the size of a phone: nothing wider than it, nothing too small to press. */
async function pages(trial: Trial): Promise<void> {
  await trial.step('home, a leak being counted, the end of a round and this device at 390 × 844', async () => {
    if (!trial.engine.profiles) await pair(trial.hand, await trial.observer.invite('Technician two'));
    await trial.home();
    await trial.hand.see('Irrigation valve body');
    await trial.look('home');
    await trial.hand.browser.goto(trial.server.address + trial.round);
    await trial.hand.see(/wetted: start/);
    const [joint] = await group(trial.hand);
    await trial.look('round');
    await openLeak(trial.hand, joint);
    await trial.hand.press('Ten bubbles');
    await trial.hand.press('Start the stopwatch');
    await trial.hand.see('Stop at the tenth');
    await trial.look('counting');
    await left(trial.hand, trial.server.address, trial.round);
    await trial.look('end');
    await trial.hand.browser.goto(`${trial.server.address}/phone`);
    await trial.hand.see('All sent');
    await trial.look('phone');
  });
}
