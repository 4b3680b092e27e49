/**
 * The page's side of the worker: sends requests, matches answers, and starts
 * the worker anew when it died or no longer answers. What was under way is
 * asked again: questions may be, and a write carries the ids of its events, so
 * that the engine keeps it once.
 */
import { Fault } from './fault';
import type { Message, Report, Request, Requests } from './protocol';

/** A worker as the host needs it. */
export interface Wire {
  post(request: Request): void;
  end(): void;
}

export interface Hearing {
  report(report: Report): void;
  changed(): void;
}

const silence = 15_000; // ms without a word while something is asked: the worker is dead
const look = 5_000; // ms between looks
const mostDeaths = 6; // within the time below: then it is broken and stays so
const deathTime = 60_000; // ms
const mostTries = 2; // deaths that one request may be the cause of before it is refused

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

  constructor(
    private readonly make: (hear: (message: Message) => void, died: (why: string) => void) => Wire,
    private readonly hearing: Hearing,
    private readonly now: () => number = () => Date.now(),
  ) {}

  /** Starts the worker and the watch over it. */
  begin(): void {
    this.launch();
    setInterval(() => this.watch(), look);
  }

  /** Asks the worker. Rejects with the engine's Fault. */
  ask<N extends keyof Requests>(name: N, args: Requests[N]['args']): Promise<Requests[N]['answer']> {
    return new Promise((done, failed) => {
      const request = { id: this.next++, name, args } as Request;
      this.waiting.set(request.id, { request, deaths: 0, done: done as (answer: unknown) => void, failed });
      if (this.waiting.size === 1) this.heard = this.now();
      this.wire?.post(request);
    });
  }

  /** Whether the worker owes an answer to a write. */
  writing(): boolean {
    return [...this.waiting.values()].some(({ request }) => request.name === 'write');
  }

  /** Starts the worker anew: another tab may have given the files back. */
  again(): void {
    this.wire?.end();
    this.launch();
  }

  private launch(): void {
    this.heard = this.now();
    const turn = ++this.turn;
    const current = () => turn === this.turn;
    const died = (why: string) => current() && this.restart(why);
    this.wire = this.make((message) => current() && this.hear(message, died), died);
    for (const { request } of this.waiting.values()) this.wire.post(request);
  }

  /** A dead worker keeps its file handles until it is terminated: so that comes first. */
  private restart(why: string): void {
    this.turn++;
    this.wire?.end();
    this.wire = undefined;
    const now = this.now();
    this.deaths = [...this.deaths.filter((then) => now - then < deathTime), now];
    if (this.deaths.length >= mostDeaths) return this.giveUp(why);
    this.blame(why);
    this.launch();
  }

  /** The oldest request is what the worker was at; one that kills it twice is not asked a third time. */
  private blame(why: string): void {
    for (const [id, waiting] of this.waiting) {
      if (waiting.request.name === 'sync' || waiting.request.name === 'meAgain') continue;
      if (++waiting.deaths >= mostTries) {
        this.waiting.delete(id);
        waiting.failed(new Fault('engine-broken', why));
      }
      return;
    }
  }

  private giveUp(why: string): void {
    for (const { failed } of this.waiting.values()) failed(new Fault('engine-broken', why));
    this.waiting.clear();
    this.hearing.report(broken(why));
  }

  private hear(message: Message, died: (why: string) => void): void {
    this.heard = this.now();
    if ('dead' in message) return died(message.dead);
    if ('moved' in message) return this.again();
    if ('report' in message) return this.hearing.report(message.report);
    if ('changed' in message) return this.hearing.changed();
    const waiting = this.waiting.get(message.id);
    if (!waiting) return;
    this.waiting.delete(message.id);
    if ('fault' in message) waiting.failed(new Fault(message.fault.code, message.fault.field));
    else waiting.done(message.answer);
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

function broken(why: string): Report {
  return {
    storage: 'broken',
    problem: why,
    reach: 'unknown',
    signedOut: false,
    hello: null,
    me: null,
    unsent: 0,
    unsentPictures: 0,
    asides: 0,
    damage: 0,
    lost: 0,
  };
}
