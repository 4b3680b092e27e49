/**
 * WebKitGTK's small browser under a screen of its own (Xvfb), through Debian's WebKitWebDriver over plain HTTP. Under
 * automation it keeps its profile in memory: a killed one begins anew.
 */
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { createConnection } from 'node:net';
import { freePort, until } from '../browser/installation';
import { type Browser, type Engine, expression, type Hearing, phoneSize } from './driver';
import { aimedAt, family } from './processes';

const window = '/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser';

const patience = 60_000; // ms for an answer
const lost = 5000; // ms until a question counts as lost: what a page is asked while it loads may never be answered

/** Debian's WebKitGTK. */
export const webkit: Engine = {
  name: 'webkit',
  by: 'WebKitWebDriver over HTTP, MiniBrowser under Xvfb',
  keeps: false,
  profiles: false,
  version: () => `WebKitGTK ${execFileSync('dpkg-query', ['-W', '-f=${Version}', 'webkit2gtk-driver']).toString()}`,
  open,
};

interface Screen {
  process: ChildProcess;
  display: string;
}

async function open(profile: string): Promise<Browser> {
  const screen = await newScreen();
  const port = await freePort();
  const driver = spawn('WebKitWebDriver', ['-p', String(port)], { stdio: 'ignore', detached: true, env: environment(profile, screen.display) });
  await until(() => listens(port), () => 'WebKitWebDriver did not start');
  const session = await Session.begin(`http://127.0.0.1:${port}`);
  await session.call('POST', '/window/rect', phoneSize);
  return new Driven(session, driver, screen.process);
}

/** A screen that nobody else uses: Xvfb picks its number and tells it. */
function newScreen(): Promise<Screen> {
  const process = spawn('Xvfb', ['-displayfd', '3', '-screen', '0', '1280x1024x24', '-nolisten', 'tcp'], { stdio: ['ignore', 'ignore', 'ignore', 'pipe'] });
  return new Promise((resolve, reject) => {
    process.once('error', reject);
    process.once('exit', () => reject(new Error('Xvfb did not start')));
    process.stdio[3]?.once('data', (told: Buffer) => resolve({ process, display: `:${told.toString().trim()}` }));
  });
}

function environment(profile: string, display: string): NodeJS.ProcessEnv {
  return {
    ...process.env,
    DISPLAY: display,
    GDK_BACKEND: 'x11',
    NO_AT_BRIDGE: '1',
    LANG: 'en_GB.UTF-8',
    LIBGL_ALWAYS_SOFTWARE: '1',
    WEBKIT_DISABLE_COMPOSITING_MODE: '1',
    WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1', // it needs rights that a container does not give
    XDG_DATA_HOME: `${profile}/data`,
    XDG_CACHE_HOME: `${profile}/cache`,
    XDG_CONFIG_HOME: `${profile}/config`,
  };
}

function listens(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const probe = createConnection(port, '127.0.0.1');
    probe.once('connect', () => probe.end(() => resolve(true)));
    probe.once('error', () => resolve(false));
  });
}

/** A session of the WebDriver protocol (W3C). */
class Session {
  private constructor(
    private readonly base: string,
    private readonly id: string,
  ) {}

  static async begin(base: string): Promise<Session> {
    const options = { binary: window, args: ['--automation', '--full-screen'] };
    const wish = { capabilities: { alwaysMatch: { 'webkitgtk:browserOptions': options, pageLoadStrategy: 'eager' } } };
    const { sessionId } = (await command(base, 'POST', '/session', wish)) as { sessionId: string };
    return new Session(base, sessionId);
  }

  call(method: string, path: string, body?: unknown, within = patience): Promise<unknown> {
    return command(this.base, method, `/session/${this.id}${path}`, body, within);
  }
}

async function command(base: string, method: string, path: string, body?: unknown, within = patience): Promise<unknown> {
  const answer = await fetch(base + path, { method, signal: AbortSignal.timeout(within), ...(body === undefined ? {} : { body: JSON.stringify(body) }) });
  const { value } = (await answer.json()) as { value: { error?: string; message?: string } | null };
  if (value?.error !== undefined) throw new Error(`${method} ${path}: ${value.error}: ${value.message ?? ''}`);
  return value;
}

class Driven implements Browser {
  constructor(
    private readonly session: Session,
    private readonly driver: ChildProcess,
    private readonly screen: ChildProcess,
  ) {}

  async goto(address: string): Promise<void> {
    await this.session.call('POST', '/url', { url: address });
  }

  async address(): Promise<string> {
    return (await this.session.call('GET', '/url', undefined, lost)) as string;
  }

  async run<A extends unknown[], T>(script: (...args: A) => T | Promise<T>, ...args: A): Promise<T> {
    const asked = `const done = arguments[arguments.length - 1];
      Promise.resolve().then(() => ${expression(script, args)}).then((ok) => done({ ok }), (cause) => done({ fault: String(cause) }));`;
    const told = (await this.session.call('POST', '/execute/async', { script: asked, args: [] }, lost)) as { ok?: T; fault?: string };
    if (told.fault !== undefined) throw new Error(told.fault);
    return told.ok as T;
  }

  async tap(x: number, y: number, held = 0): Promise<void> {
    const move = { type: 'pointerMove', duration: 0, x: Math.round(x), y: Math.round(y), origin: 'viewport' };
    const actions = [move, { type: 'pointerDown', button: 0 }, { type: 'pause', duration: held }, { type: 'pointerUp', button: 0 }];
    await this.session.call('POST', '/actions', { actions: [{ type: 'pointer', id: 'mouse', parameters: { pointerType: 'mouse' }, actions }] });
  }

  async type(text: string): Promise<void> {
    const focused = (await this.session.call('GET', '/element/active')) as Record<string, string>;
    await this.session.call('POST', `/element/${Object.values(focused)[0] ?? ''}/value`, { text });
  }

  async shot(path: string): Promise<void> {
    writeFileSync(path, Buffer.from((await this.session.call('GET', '/screenshot')) as string, 'base64'));
  }

  hear(_hearing: Hearing): void {
    // this protocol tells nothing of the console
  }

  async close(): Promise<void> {
    await this.session.call('DELETE', '').catch(() => undefined);
    await this.aim()();
  }

  aim(): () => Promise<void> {
    return aimedAt([...family(this.driver.pid ?? 0), this.screen.pid ?? 0].filter((id) => id > 0));
  }
}
