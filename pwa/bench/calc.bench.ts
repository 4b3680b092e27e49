/**
 * Every calculation of the file of examples, asked of the engine's worker in a browser: what a screen waits for it, the way to
 * the worker and back included, warm, at full speed and with the page's process held to a quarter of a core. The answers are
 * held to those of the file, to 1e-12.
 */
import { readFileSync } from 'node:fs';
import { expect, type Page, test } from '@playwright/test';
import { Device } from '../browser/browser';
import { Installation } from '../browser/installation';
import { Quarter } from './quarter';
import { pageProcess, workerScript } from './worker';

interface Example {
  name: string;
  in: unknown;
  out: unknown;
}

const examples = JSON.parse(readFileSync('../calc/call/testdata/calls.json', 'utf8')) as Example[];
const warm = 10;
const counted = 41;

/** Starts a worker that stays, as globalThis.reckon: it asks for one calculation. */
async function startWorker(page: Page): Promise<void> {
  await page.evaluate(async (script) => {
    const worker = new Worker(script, { type: 'module' });
    let last = 0;
    const reckon = (args: unknown) =>
      new Promise<unknown>((done) => {
        const id = ++last;
        const heard = ({ data }: MessageEvent) => {
          if (data.id !== id) return;
          worker.removeEventListener('message', heard);
          done(data.answer ?? data.fault);
        };
        worker.addEventListener('message', heard);
        worker.postMessage({ id, name: 'calc', args });
      });
    Object.assign(globalThis, { reckon });
  }, await workerScript(page));
}

/** The answer, and the ms of each call. */
function ask(page: Page, example: Example, times: number): Promise<{ answer: unknown; took: number[] }> {
  return page.evaluate(
    async ([{ name, in: args }, times]) => {
      const { reckon } = globalThis as unknown as { reckon(args: unknown): Promise<unknown> };
      const took: number[] = [];
      let answer: unknown;
      for (let n = 0; n < times; n++) {
        const began = performance.now();
        answer = await reckon({ name, in: args });
        took.push(performance.now() - began);
      }
      return { answer, took };
    },
    [example, times] as const,
  );
}

/** Holds two JSON values to each other, numbers to 1e-12 of the larger. */
function expectSame(got: unknown, want: unknown, path: string): void {
  if (typeof want === 'number') {
    expect(Math.abs(Number(got) - want), path).toBeLessThanOrEqual(1e-12 * Math.max(Math.abs(want), Math.abs(Number(got))));
  } else if (want && typeof want === 'object') {
    expect(Object.keys(got as object).sort(), path).toEqual(Object.keys(want).sort());
    for (const [key, value] of Object.entries(want)) expectSame((got as Record<string, unknown>)[key], value, `${path}.${key}`);
  } else {
    expect(got, path).toBe(want);
  }
}

for (const speed of ['full speed', 'a quarter of a core']) {
  test(`calculations in a browser at ${speed}`, async () => {
    const quarter = speed === 'full speed' ? null : Quarter.make();
    if (speed !== 'full speed' && !quarter) return console.log(`calculations, ${speed}: not measured, this user may not make a cgroup`);
    const server = await Installation.start();
    const device = await Device.open({ serviceWorkers: 'block' });
    try {
      await device.page.goto(`${server.address}/icon.svg`);
      await startWorker(device.page);
      for (const example of examples) expectSame((await ask(device.page, example, warm)).answer, example.out, example.name);
      const letGo = quarter?.hold(await pageProcess(device));
      for (const example of examples) {
        const took = (await ask(device.page, example, counted)).took.sort((a, b) => a - b);
        console.log(`calculations, ${speed}: ${example.name} ${took[counted >> 1]?.toFixed(2)} ms in the middle, ${took.at(-1)?.toFixed(2)} at most (of ${counted})`);
      }
      letGo?.();
    } finally {
      await device.end();
      await server.end();
      quarter?.end();
    }
  });
}
