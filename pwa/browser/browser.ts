import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page } from '@playwright/test';

const flags = [
  '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream',
];

export const phoneSize = { width: 390, height: 844 };
export const deskSize = { width: 1440, height: 900 };

export interface Wish {
  size?: { width: number; height: number };
  /** What the camera shows: a y4m file. */
  camera?: string;
  locale?: string;
  env?: Record<string, string>;
  /** More flags of the browser. */
  flags?: string[];
  /** What the browser calls itself. */
  userAgent?: string;
  /** 'block': no service worker stands between page and network. */
  serviceWorkers?: 'block';
}

/** One device: a browser with a profile of its own, killed and opened again at will. */
export class Device {
  private static readonly opened = new Set<Device>();
  readonly profile = mkdtempSync(join(tmpdir(), 'jointwalk-profile-'));
  private context: BrowserContext | undefined;

  private constructor(private readonly wish: Wish) {}

  static async open(wish: Wish = {}): Promise<Device> {
    const made = new Device(wish);
    Device.opened.add(made);
    await made.start();
    return made;
  }

  /** Starts the browser on the same profile. */
  async start(): Promise<void> {
    const size = this.wish.size ?? phoneSize;
    const small = size.width < 900;
    this.context = await chromium.launchPersistentContext(this.profile, {
      executablePath: '/usr/bin/chromium',
      args: [...flags, ...(this.wish.flags ?? []), ...(this.wish.camera ? [`--use-file-for-fake-video-capture=${this.wish.camera}`] : [])],
      viewport: size,
      hasTouch: small,
      isMobile: small,
      locale: this.wish.locale ?? 'en-GB',
      permissions: ['camera'],
      reducedMotion: 'reduce',
      ...(this.wish.userAgent ? { userAgent: this.wish.userAgent } : {}),
      ...(this.wish.serviceWorkers ? { serviceWorkers: this.wish.serviceWorkers } : {}),
      ...(this.wish.env ? { env: { ...process.env, ...this.wish.env } as Record<string, string> } : {}),
    });
  }

  get page(): Page {
    const page = this.context?.pages()[0];
    if (!page) throw new Error('the browser is closed');
    return page;
  }

  /** Cuts the network of this device, or gives it back. */
  async network(on: boolean): Promise<void> {
    await this.context?.setOffline(!on);
  }

  /** The process that runs one of its pages: the one that works while the page does. */
  async rendererOf(page: Page): Promise<number> {
    const ids = renderersOf(this.profile);
    const before = ids.map(worked);
    await page.evaluate(() => {
      const until = performance.now() + 500;
      while (performance.now() < until);
    });
    const grown = ids.map((id, n) => worked(id) - (before[n] ?? 0));
    const found = ids[grown.indexOf(Math.max(...grown))];
    if (found === undefined) throw new Error('the browser has no renderer');
    return found;
  }

  /** SIGKILL to every process of this browser. */
  async kill(): Promise<void> {
    const gone = new Promise((resolve) => this.context?.once('close', resolve));
    for (const id of processesOf(this.profile)) end(id);
    await gone;
    this.context = undefined;
  }

  /** Closes the browser as a person does; `start` opens it again. A browser writes its cookies down 30 s late, or now. */
  async close(): Promise<void> {
    await this.context?.close();
    this.context = undefined;
  }

  async end(): Promise<void> {
    Device.opened.delete(this);
    await this.close();
    rmSync(this.profile, { recursive: true, force: true });
  }

  /** Closes what a test left open. */
  static async endAll(): Promise<void> {
    for (const one of [...Device.opened]) await one.end();
  }
}

/** The processes of the browser with that profile, by their ids. */
function processesOf(profile: string): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .filter((id) => told(id).includes(`--user-data-dir=${profile}`));
}

/** The processes that run pages; these have their words in one. */
function renderersOf(profile: string): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .filter((id) => told(id).some((words) => words.includes('--type=renderer') && words.includes(`--user-data-dir=${profile} `)));
}

/** The processor time of a process so far, in the kernel's ticks; 0 once it is gone. */
function worked(id: number): number {
  try {
    return Number(readFileSync(`/proc/${id}/stat`, 'utf8').split(') ')[1]?.split(' ')[11]);
  } catch {
    return 0;
  }
}

function told(id: number): string[] {
  try {
    return readFileSync(`/proc/${id}/cmdline`, 'utf8').split('\0');
  } catch {
    return []; // gone meanwhile
  }
}

function end(id: number): void {
  try {
    process.kill(id, 'SIGKILL');
  } catch {
    // gone with its parent
  }
}
