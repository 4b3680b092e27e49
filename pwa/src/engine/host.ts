/**
 * The page's side of the worker: sends requests, matches answers, and starts
 * the worker anew when it died, no longer answers or lost its files. What was
 * under way is asked again: questions may be, and a write carries the ids of its
 * events, so that the engine keeps it once.
 */
import { asFault, Fault } from './fault';
import { type Message, type Report, type Request, type Requests, stuck } from './protocol';

/** A worker as the host needs it. */
export interface Wire {
  post(request: Request): void;
  end(): void;
}

export interface Hearing {
  report(report: Report): void;
  changed(): void;
}

const firstWord = 3_000; // ms until a worker that never said a word is started anew, twice as long each time
const silence = 15_000; // ms without a word while something is asked: the worker is dead
const look = 5_000; // ms between looks
const mostDeaths = 6; // within the time below: then it is broken and stays so
const deathTime = 60_000; // ms
const checkTime = 2_000; // ms that a look at the files may take
const handTime = 2_000; // ms that closing the files may take
const mostTries = 2; // deaths that one request may be the cause of before it is refused

/** What no death is put down to: they wait for the network, or look whether all is well. */
const blameless = new Set<keyof Requests>(['sync', 'stop', 'meAgain', 'check', 'close']);

/** What would be lost with the page if it were not answered. */
const keeping = new Set<keyof Requests>(['write', 'keepPicture', 'keep', 'drop']);

interface Waiting {
  request: Request;
  deaths: number;
  done(answer: unknown): void;
  failed(fault: Fault): void;
}

export class Host {
  private wire: Wire | undefined;
  private waiting = new Map<number, Waiting>();
  private next = 1;
  private heard = 0;
  private deaths: number[] = [];
  private turn = 0; // worker by worker: what an old one still says is not heard
  private heardTurn = 0; // the last that reported
  private patience = firstWord; // ms
  private mute: ReturnType<typeof setTimeout> | undefined; // until the worker's first word
  private away = false; // another tab has the files
  /** How often the worker was started anew since the app was opened. */
  restarts = 0;

  constructor(
    private readonly make: (hear: (message: Message) => void, died: (why: string) => void) => Wire,
    private readonly hearing: Hearing,
    private readonly now: () => number = () => Date.now(),
  ) {}

  /** Starts the worker, unless another tab has the files, and the watch over it. */
  begin(): void {
    if (!this.away) this.launch();
    setInterval(() => this.watch(), look);
  }

  /** Asks the worker. Rejects with the engine's Fault. */
  ask<N extends keyof Requests>(name: N, args: Requests[N]['args']): Promise<Requests[N]['answer']> {
    if (this.away) return Promise.reject(new Fault('elsewhere'));
    return new Promise((done, failed) => {
      const request = { id: this.next++, name, args } as Request;
      this.waiting.set(request.id, { request, deaths: 0, done: done as (answer: unknown) => void, failed });
      if (this.waiting.size === 1) this.heard = this.now();
      this.wire?.post(request);
    });
  }

  /** Whether the worker owes an answer to something that is to be kept: an event, a picture, a draft. */
  writing(): boolean {
    return [...this.waiting.values()].some(({ request }) => keeping.has(request.name));
  }

  /** Starts the worker anew, to open the files. */
  open(): void {
    this.away = false;
    this.stop();
    this.launch();
  }

  /** Ends the worker: another tab has the files. What is asked is refused. */
  leave(): void {
    if (this.away) return;
    this.away = true;
    this.stop();
    this.refuse(new Fault('elsewhere'));
    this.hearing.report(stuck('elsewhere', 'elsewhere'));
  }

  /** Lets the worker finish what it writes and close its files, then leaves. */
  async letGo(): Promise<void> {
    await within(handTime, this.ask('close', null)).catch(() => undefined);
    this.leave();
  }

  /**
   * Whether the files still answer, asked at each return to view: a phone may
   * have taken the handles, or the worker, while nobody looked.
   */
  async check(): Promise<void> {
    if (!this.wire) return;
    this.heard = this.now(); // the silence of a sleeping phone is nobody's fault
    const { turn } = this;
    try {
      await within(checkTime, this.ask('check', null));
    } catch (thrown) {
      if (turn === this.turn) this.restart(asFault(thrown).code);
    }
  }

  private launch(): void {
    this.heard = this.now();
    const turn = ++this.turn;
    const current = () => turn === this.turn;
    const died = (why: string) => current() && this.restart(why);
    this.mute = setTimeout(() => this.again(), this.patience);
    this.wire = this.make((message) => current() && this.hear(message, died), died);
    for (const { request } of this.waiting.values()) this.wire.post(request);
  }

  private stop(): void {
    this.turn++;
    clearTimeout(this.mute);
    this.wire?.end();
    this.wire = undefined;
  }

  /** The worker never came up: a browser can lose its script on the way when the process that fetches it dies. */
  private again(): void {
    this.stop();
    this.restarts++;
    this.patience *= 2;
    this.launch();
  }

  /** A dead worker keeps its file handles until it is terminated: so that comes first. */
  private restart(why: string): void {
    this.stop();
    this.restarts++;
    const now = this.now();
    this.deaths = [...this.deaths.filter((then) => now - then < deathTime), now];
    if (this.deaths.length >= mostDeaths) return this.giveUp(why);
    this.blame(why);
    this.launch();
  }

  /** The oldest request is what the worker was at; one that kills it twice is not asked a third time. */
  private blame(why: string): void {
    for (const [id, waiting] of this.waiting) {
      if (blameless.has(waiting.request.name)) continue;
      if (++waiting.deaths >= mostTries) {
        this.waiting.delete(id);
        waiting.failed(new Fault('engine-broken', why));
      }
      return;
    }
  }

  private giveUp(why: string): void {
    this.refuse(new Fault('engine-broken', why));
    this.hearing.report(stuck('broken', why));
  }

  private refuse(fault: Fault): void {
    for (const { failed } of this.waiting.values()) failed(fault);
    this.waiting.clear();
  }

  private hear(message: Message, died: (why: string) => void): void {
    this.heard = this.now();
    this.patience = firstWord;
    clearTimeout(this.mute);
    if ('up' in message) return;
    if ('dead' in message) return died(message.dead);
    if ('report' in message) return this.told(message.report);
    if ('changed' in message) return this.hearing.changed();
    const waiting = this.waiting.get(message.id);
    if (!waiting) return;
    this.waiting.delete(message.id);
    if ('fault' in message) waiting.failed(new Fault(message.fault.code, message.fault.field, undefined, message.fault.request));
    else waiting.done(message.answer);
  }

  private told(report: Report): void {
    if (report.storage === 'elsewhere') return this.leave();
    this.hearing.report(report);
    if (this.turn === this.heardTurn) return;
    if (this.heardTurn > 0) this.hearing.changed(); // another worker: it may know other answers
    this.heardTurn = this.turn;
  }

  /** With something asked and nothing heard: ping, then call it dead. */
  private watch(): void {
    if (!this.wire || !this.overdue(look)) return;
    if (this.overdue(silence)) return this.restart('silent');
    this.wire.post({ id: 0, name: 'ping', args: null });
  }

  private overdue(ms: number): boolean {
    return this.waiting.size > 0 && this.now() - this.heard > ms;
  }
}

/** What a promise gives, or a fault when it takes too long. */
function within<T>(ms: number, asked: Promise<T>): Promise<T> {
  return new Promise((done, failed) => {
    const timer = setTimeout(() => failed(new Fault('silent')), ms);
    asked.then(done, failed).finally(() => clearTimeout(timer));
  });
}
