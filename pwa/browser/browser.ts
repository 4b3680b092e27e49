import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page, type Worker } from '@playwright/test';
import { violations } from './violations';

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

/** For a device that is never cut off: it keeps no app for offline starts, which is a third of what a browser's first visit costs. */
export const online: Wish = { serviceWorkers: 'block' };

/** One device: a browser with a profile of its own, killed and opened again at will. */
export class Device {
  private static readonly opened = new Set<Device>();
  readonly profile = mkdtempSync(join(tmpdir(), 'jointwalk-profile-'));
  private context: BrowserContext | undefined;
  private starts = 0;

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
      args: [...flags, '--enable-logging', `--log-file=${this.log(this.starts++)}`, ...(this.wish.flags ?? []), ...(this.wish.camera ? [`--use-file-for-fake-video-capture=${this.wish.camera}`] : [])],
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

  /** Where the browser of one start writes its log; one that starts anew begins its file anew. */
  private log(start: number): string {
    return join(this.profile, `log-${start}`);
  }

  /** What this browser refused so far because a policy of its page or worker forbids it. */
  violations(): string[] {
    return Array.from({ length: this.starts }, (_, start) => violations(this.log(start))).flat();
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

  /** The workers of the page, and the service workers: what runs there obeys policies of its own. */
  get workers(): Worker[] {
    return [...this.page.workers(), ...(this.context?.serviceWorkers() ?? [])];
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

  /** Closes it for good. Throws when a page or worker did what its policy forbids, unless that was `meant`. */
  async end(meant = false): Promise<void> {
    Device.opened.delete(this);
    await this.close();
    const found = this.violations();
    rmSync(this.profile, { recursive: true, force: true });
    if (found.length > 0 && !meant) throw new Error(`against the policy:\n${found.join('\n')}`);
  }

  /** Closes what a test left open. Each test calls it after: it throws as `end` does. */
  static async endAll(): Promise<void> {
    const ended = await Promise.allSettled([...Device.opened].map((one) => one.end()));
    for (const one of ended) if (one.status === 'rejected') throw one.reason;
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
