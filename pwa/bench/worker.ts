/** The engine's worker, started without the app, and the process that runs it. */
import type { Page } from '@playwright/test';
import type { Device } from '../browser/browser';

/** The address of the worker's script, which is named after its content. */
export function workerScript(page: Page): Promise<string> {
  return page.evaluate(async () => {
    const kept = await (await fetch('/sw.js')).text(); // it lists all files of the app
    const name = /worker-[\w-]+\.js/.exec(kept)?.[0] ?? '';
    return `/assets/${name}`;
  });
}

/** The page's process: the one that worked most while the page did, three times running. A browser just started has others that work. */
export async function pageProcess(device: Device): Promise<number> {
  for (let last = 0, same = 0; ; ) {
    const id = await device.rendererOf(device.page);
    same = id === last ? same + 1 : 1;
    if (same === 3) return id;
    last = id;
  }
}
