/** A device of the long runs: a server, somebody who watches it, and a browser that is killed and opened again. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Installation } from '../browser/installation';
import { pair } from '../engines/acts';
import type { Browser, Engine } from '../engines/driver';
import { Hand } from '../engines/hand';
import { Observer } from '../engines/observer';

export class Device {
  private readonly profile = mkdtempSync(join(tmpdir(), 'jointwalk-long-'));
  private running: Browser | undefined;
  serves = true;

  private constructor(
    readonly engine: Engine,
    readonly server: Installation,
    readonly observer: Observer,
  ) {}

  /** A paired device with the invented site; its browser was closed once, so that its session is written down. */
  static async paired(engine: Engine): Promise<Device> {
    const server = await Installation.start();
    const device = new Device(engine, server, await Observer.first(server));
    try {
      await device.open();
      await pair(device.hand, await device.observer.invite('Technician one'));
      await device.close();
      return device;
    } catch (cause) {
      await device.end();
      throw cause;
    }
  }

  get browser(): Browser {
    if (!this.running) throw new Error('the browser is closed');
    return this.running;
  }

  get hand(): Hand {
    return new Hand(this.browser);
  }

  async open(): Promise<void> {
    this.running = await this.engine.open(this.profile);
  }

  async close(): Promise<void> {
    await this.running?.close();
    this.running = undefined;
  }

  /** Opens an address of the server, answered by it or by the app's own copy. */
  goto(path: string): Promise<void> {
    return this.browser.goto(this.server.address + path);
  }

  /** Kills with what was aimed before. */
  async killed(shoot: () => Promise<void>): Promise<void> {
    await shoot();
    this.running = undefined;
  }

  /** Whether the server is there from now on; it goes by SIGKILL. */
  async serving(there: boolean): Promise<void> {
    if (there === this.serves) return;
    this.serves = there;
    await (there ? this.server.run() : this.server.stop('SIGKILL'));
  }

  /** Brings the server back and waits until the open page says that all is sent, up to two minutes. */
  async sendAll(): Promise<void> {
    await this.serving(true);
    await this.goto('/');
    const end = Date.now() + 120_000;
    while (!(await this.hand.sees('All sent').catch(() => false))) {
      if (Date.now() > end) throw new Error(`never sent:\n${await this.hand.text()}`);
      await new Promise((resolve) => setTimeout(resolve, 250));
    }
    if (await this.hand.sees('set aside')) throw new Error(`something was set aside:\n${await this.hand.text()}`);
  }

  async end(): Promise<void> {
    await this.close();
    await this.server.end();
    rmSync(this.profile, { recursive: true, force: true, maxRetries: 10 }); // a browser that closes still writes for a moment
  }
}
