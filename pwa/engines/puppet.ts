/** Chromium over its own protocol and Firefox over WebDriver BiDi, both through puppeteer-core. */
import { execFileSync } from 'node:child_process';
import puppeteer, { type Browser as Puppet, type LaunchOptions, type Page } from 'puppeteer-core';
import { type Browser, Crashed, type Engine, expression, type Hearing, phoneSize } from './driver';
import { aimedAt, family } from './processes';

const chromiumFlags = [
  '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--force-prefers-reduced-motion', '--lang=en-GB',
];

/** Storage for good without a question, English words, no moving parts. */
const firefoxPrefs = {
  'dom.storageManager.prompt.testing': true,
  'dom.storageManager.prompt.testing.allow': true,
  'intl.accept_languages': 'en-GB',
  'ui.prefersReducedMotion': 1,
};

/** Debian's Chromium. */
export const chromium: Engine = {
  name: 'chromium',
  by: 'puppeteer-core, DevTools protocol, headless',
  keeps: true,
  profiles: true,
  version: () => told('/usr/bin/chromium'),
  open: (profile) =>
    opened({ browser: 'chrome', executablePath: '/usr/bin/chromium', args: chromiumFlags, userDataDir: profile }, true),
};

/** Debian's Firefox ESR. */
export const firefox: Engine = {
  name: 'firefox',
  by: 'puppeteer-core, WebDriver BiDi, headless',
  keeps: true,
  profiles: true,
  version: () => told('/usr/bin/firefox-esr'),
  open: (profile) =>
    opened({ browser: 'firefox', executablePath: '/usr/bin/firefox-esr', userDataDir: profile, extraPrefsFirefox: firefoxPrefs }, false),
};

function told(path: string): string {
  return execFileSync(path, ['--version'], { stdio: ['ignore', 'pipe', 'ignore'] }).toString().trim();
}

async function opened(options: LaunchOptions, touch: boolean): Promise<Browser> {
  const browser = await puppeteer.launch({ headless: true, defaultViewport: null, ...options });
  const page = (await browser.pages())[0] ?? (await browser.newPage());
  await page.setViewport(touch ? { ...phoneSize, deviceScaleFactor: 2, isMobile: true, hasTouch: true } : phoneSize);
  return new Puppeteered(browser, page, touch);
}

class Puppeteered implements Browser {
  private readonly crash: Promise<never>;

  constructor(
    private readonly browser: Puppet,
    private readonly page: Page,
    private readonly touch: boolean,
  ) {
    this.crash = new Promise((_, reject) => page.once('error', ({ message }) => reject(new Crashed(message))));
    this.crash.catch(() => undefined); // heard by whoever asks the page next
  }

  async goto(address: string): Promise<void> {
    await this.page.goto(address, { waitUntil: 'domcontentloaded', timeout: 60_000 });
  }

  async address(): Promise<string> {
    return this.page.url();
  }

  run<A extends unknown[], T>(script: (...args: A) => T | Promise<T>, ...args: A): Promise<T> {
    return Promise.race([this.page.evaluate(expression(script, args)) as Promise<T>, this.crash]);
  }

  async tap(x: number, y: number, held = 0): Promise<void> {
    if (!this.touch) return this.page.mouse.click(x, y, { delay: held });
    if (held === 0) return this.page.touchscreen.tap(x, y);
    await this.page.touchscreen.touchStart(x, y);
    await new Promise((resolve) => setTimeout(resolve, held));
    await this.page.touchscreen.touchEnd();
  }

  type(text: string): Promise<void> {
    return this.page.keyboard.type(text);
  }

  async shot(path: string): Promise<void> {
    await this.page.screenshot({ path: path as `${string}.png` });
  }

  hear(hearing: Hearing): void {
    this.page.on('console', (message) => hearing(message.text()));
  }

  async close(): Promise<void> {
    await this.browser.close();
  }

  aim(): () => Promise<void> {
    const id = this.browser.process()?.pid;
    if (id === undefined) throw new Error('the browser is gone already');
    return aimedAt(family(id));
  }
}
