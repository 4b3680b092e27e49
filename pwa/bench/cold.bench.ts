/**
 * A phone's cold start: from making the engine's worker to the first fixture on it answered, in a browser just started,
 * over files that hold 20,000 events, and over a few hundred. At full speed, and with the page's process held to a quarter of a core by the
 * kernel's scheduler (a cgroup of its own; without the right to make one, that part is left out and said). The same over
 * empty files tells what of it is the engine's own start. On a machine that does other work the least of the runs says most.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { Device } from '../browser/browser';
import { Installation } from '../browser/installation';
import { lay } from './lay';
import { Quarter, worked } from './quarter';
import { pageProcess, workerScript } from './worker';

const runs = Number(process.env.COLD_RUNS ?? 5);
/** What a phone holds after a year, and what one holds whose reading costs nothing: between them stands what the events cost. */
const sizes = [600, 20_000];

interface Start {
  /** ms from making the worker until its files were open, and until a question was answered. */
  open: number;
  answered: number;
  /** Its size in characters; a fault is one of a few. */
  size: number;
}

/** The processors' time that the page's process took besides, all its threads, in ms: other work on the machine does not count. */
type Worked = Start & { worked: number };

/** Starts the worker in the page and asks it for a fixture; null asks for the list of all. */
async function startWorker(page: Page, fixture: string | null): Promise<Start> {
  return page.evaluate(async ([script, fixture]) => {
    const began = performance.now();
    const worker = new Worker(script, { type: 'module' });
    const answer = (id: number, question: string, args: unknown) =>
      new Promise<unknown>((done) => {
        worker.addEventListener('message', ({ data }) => data.id === id && done(data.answer ?? data.fault));
        worker.postMessage({ id, name: question, args });
      });
    const here = answer(1, 'here', null).then(() => performance.now() - began);
    const told = fixture ? { question: 'fixture', args: { id: fixture } } : { question: 'home', args: {} };
    const size = JSON.stringify(await answer(2, 'ask', told)).length;
    const answered = performance.now() - began;
    const open = await here;
    worker.terminate();
    return { open, answered, size };
  }, [await workerScript(page), fixture] as const);
}

let server: Installation;
const pools: { events: number; files: string; fixture: string }[] = [];

test.beforeAll(async () => {
  server = await Installation.start();
  for (const events of sizes) {
    const files = mkdtempSync(join(tmpdir(), 'jointwalk-pool-'));
    execFileSync('go', ['run', './server/bench', '-pool', files, '-pooled', String(events)], { cwd: '..', stdio: 'inherit' });
    const { fixture } = JSON.parse(readFileSync(join(files, 'phone.json'), 'utf8')) as { fixture: string };
    pools.push({ events, files, fixture });
  }
});

test.afterAll(async () => {
  await server.end();
  for (const { files } of pools) rmSync(files, { recursive: true, force: true });
});

/** Starts the browser anew each time; the page is there and idle when the worker is made. */
async function measure(device: Device, quarter: Quarter | null, fixture: string | null): Promise<Worked[]> {
  const all: Worked[] = [];
  for (let n = 0; n <= runs; n++) {
    await device.close();
    await device.start();
    await device.page.goto(`${server.address}/icon.svg`);
    const renderer = await pageProcess(device);
    const letGo = quarter?.hold(renderer);
    const before = worked(renderer);
    const start = await startWorker(device.page, fixture);
    const took = worked(renderer) - before;
    letGo?.();
    if (n > 0) all.push({ ...start, worked: took }); // the first fills the browser's cache
  }
  return all;
}

function tell(what: string, all: Worked[]): void {
  const of = (pick: (start: Worked) => number) => all.map(pick).sort((a, b) => a - b);
  const line = (name: string, sorted: number[]) =>
    `${name} ${sorted[0]?.toFixed(0)} ms at best, ${sorted[Math.floor(sorted.length / 2)]?.toFixed(0)} in the middle`;
  console.log(`cold start, ${what}: ${line('open', of(({ open }) => open))}; ${line('answered', of(({ answered }) => answered))}; ${line('processors', of(({ worked }) => worked))} (of ${all.length})`);
}

for (const speed of ['full speed', 'a quarter of a core']) {
  test(`a phone's cold start at ${speed}`, async () => {
    const quarter = speed === 'full speed' ? null : Quarter.make();
    if (speed !== 'full speed' && !quarter) return console.log(`cold start, ${speed}: not measured, this user may not make a cgroup`);
    const device = await Device.open({ serviceWorkers: 'block' });
    try {
      await device.page.goto(`${server.address}/icon.svg`);
      tell(`${speed}, empty files`, await measure(device, quarter, null));
      for (const { events, files, fixture } of pools) {
        await lay(device.page, files);
        const all = await measure(device, quarter, fixture);
        for (const { size } of all) expect(size, 'the fixture was answered').toBeGreaterThan(5000);
        tell(`${speed}, ${events} events`, all);
      }
    } finally {
      await device.end();
      quarter?.end();
    }
  });
}
