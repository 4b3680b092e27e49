/** The browser killed between a tap and "saved", and right after "saved", through the real screens. */
import { count, group, left, openLeak, startRound } from '../engines/acts';
import { held } from '../engines/hand';
import { holdFor } from '../src/app/leak/touches';
import { Crashed } from '../engines/driver';
import { Account, type Act, type Reckoning } from './account';
import type { Device } from './device';
import { Watch } from './watch';

const acts = ['leak', 'partly', 'group'] as const;
const fixture = /^Irrigation valve body/;
const bubbling = 1200; // ms that the stopwatch of a leak runs

/** What was counted. */
export interface Taps {
  /** Kills after the press reached the page and before "saved" stood there. */
  between: number;
  /** Kills after "saved" stood there. */
  after: number;
  /** Of those between, how many had been kept all the same. */
  keptUnseen: number;
  /** With the server killed too, so that nothing could be sent. */
  serverDown: number;
  /** From the press to "saved", as heard from outside: the median in ms of those not killed before. */
  savedAfterMs: number;
  /** Times that the page's process died by itself, between kills; the browser was opened anew and nothing was missing. */
  crashes: number;
  acts: Record<string, number>;
  looks: Reckoning;
}

/** One way of saving: makes everything ready, and says what is pressed last and what that saves. */
interface Ready {
  press: string | RegExp;
  joints: string[];
  result: string;
}

/** One run of kills on a device. */
export class TapKills {
  private readonly account = new Account();
  private readonly rounds = new Set<string>();
  private readonly waits: number[] = [];
  private readonly taps: Omit<Taps, 'looks' | 'savedAfterMs'> = { between: 0, after: 0, keptUnseen: 0, serverDown: 0, crashes: 0, acts: {} };
  private round = '';
  private unseen = 0; // joints of the round that nobody looked at yet

  constructor(
    private readonly device: Device,
    private readonly chance: () => number,
  ) {}

  /** Kills until both kinds were had as often as wanted. */
  async run(wanted: number): Promise<Taps> {
    await this.device.open();
    for (let n = 0; this.taps.between < wanted || this.taps.after < wanted; n++) {
      if (n % 10 === 0) console.log(`${this.device.engine.name}: ${this.taps.between} between, ${this.taps.after} after`);
      if (n > 6 * wanted + 20) throw new Error(`too few kills come between: ${JSON.stringify(this.taps)}`);
      if (n % 4 === 3) await this.device.serving(this.chance() < 0.5);
      if (this.unseen === 0) await this.newRound();
      const early = this.taps.between < wanted && (this.taps.after >= wanted || n % 2 === 1);
      await this.cycle(acts[n % 3] ?? 'group', early);
    }
    await this.device.sendAll();
    const looks = (await this.device.observer.looks()).filter(({ round }) => this.rounds.has(`/r/${round}`));
    return { ...this.taps, savedAfterMs: Math.round(median(this.waits)), looks: this.account.reckon(looks) };
  }

  /** Ends the round that is done, if there is one, and begins the next. */
  private async newRound(): Promise<void> {
    const { hand } = this.device;
    if (this.round !== '') {
      await this.device.goto(`${this.round}/end`);
      await hand.press(/^End/);
      await hand.at(/^\/f\//);
    }
    await this.device.goto('/');
    this.round = await startRound(hand, fixture);
    this.rounds.add(this.round);
    this.unseen = await left(hand, this.device.server.address, this.round);
    await this.device.goto(this.round);
  }

  /** One saving, one kill, and a look at what is there afterwards. */
  private async cycle(name: (typeof acts)[number], early: boolean): Promise<void> {
    const ready = await this.steady(() => this.make[name]());
    const place = await this.device.hand.place(ready.press);
    const watch = await Watch.begin(this.device.browser);
    const shoot = this.device.browser.aim();
    const tapped = this.device.browser.tap(...place, name === 'leak' ? held : 0).catch(() => undefined); // the kill may cut it off
    await watch.pressed();
    if (name === 'leak') await new Promise((resolve) => setTimeout(resolve, holdFor)); // so long nothing is written
    await (early ? this.moment() : this.untilSaved(watch));
    await this.device.killed(shoot);
    await tapped;
    this.taps.acts[name] = (this.taps.acts[name] ?? 0) + 1;
    await this.lookAgain({ round: this.round.split('/')[2] ?? '', joints: ready.joints, result: ready.result }, watch);
  }

  /** Opens the browser again and holds what stands there against what was shown. */
  private async lookAgain(act: Act, watch: Watch): Promise<void> {
    await this.device.open();
    const now = await this.steady(() => left(this.device.hand, this.device.server.address, this.round));
    const kept = this.account.settle(act, watch.wasSaved, this.unseen - now);
    this.unseen = now;
    if (watch.wasSaved) this.taps.after++;
    else this.taps.between++;
    if (kept && !watch.wasSaved) this.taps.keptUnseen++;
    if (!this.device.serves) this.taps.serverDown++;
    await this.device.goto(this.round);
  }

  /** Does what saves nothing; once more in a browser opened anew when the page's process died meanwhile. */
  private async steady<T>(act: () => Promise<T>): Promise<T> {
    try {
      return await act();
    } catch (thrown) {
      if (!(thrown instanceof Crashed)) throw thrown;
      this.taps.crashes++;
      await this.device.killed(this.device.browser.aim());
      await this.device.open();
      await this.device.goto(this.round);
      return act();
    }
  }

  private async untilSaved(watch: Watch): Promise<void> {
    const began = performance.now();
    await watch.saved();
    this.waits.push(performance.now() - began);
  }

  /** A moment that lies, as likely as not, before "saved". */
  private moment(): Promise<void> {
    const most = median(this.waits) * 1.2;
    const ms = this.chance() * most;
    return ms < 1 ? Promise.resolve() : new Promise((resolve) => setTimeout(resolve, ms));
  }

  private readonly make = {
    /** Nothing seen at a whole group. A group whose clock runs already goes on. */
    group: async (): Promise<Ready> => {
      const { hand, browser } = this.device;
      await group(hand);
      if (!(await browser.run(() => document.querySelector('.watch') !== null))) await hand.press(/wetted: start$/);
      await hand.see('Tap what bubbles.');
      return { press: /^(All \d+: nothing seen|Nothing seen)$/, joints: (await group(hand)).map(({ id }) => id), result: 'none' };
    },
    /** One joint by itself, from its sheet. */
    partly: async (): Promise<Ready> => {
      const [joint] = await group(this.device.hand);
      await this.device.hand.press(`More for ${joint.name}`);
      return { press: 'Nothing seen, not all around', joints: [joint.id], result: 'partly' };
    },
    /** A leak, counted and sized; what a kill left of its draft is counted anew. */
    leak: async (): Promise<Ready> => {
      const { hand } = this.device;
      const [joint] = await group(hand);
      await openLeak(hand, joint);
      await hand.see(/Ten bubbles|Count again|Stop at the tenth/);
      if (await hand.sees('Stop at the tenth')) await hand.press('Stop at the tenth');
      await hand.see(/Ten bubbles|Count again/);
      if (await hand.sees('Count again')) await hand.press('Count again');
      await count(hand, bubbling);
      return { press: 'Save the leak', joints: [joint.id], result: 'leaks' };
    },
  };
}

/** The middle of them; 10 when there are none yet. */
function median(all: readonly number[]): number {
  return [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)] ?? 10;
}
