/**
 * The way between this phone and the server, a pipe in the worker: what to carry and what an answer
 * means is the engine's business; here is only the network, and when.
 */
import type { Carried, Door } from '../engine/door';
import type { Hello } from '../engine/protocol';
import { send } from './http';
import { packed, unpacks } from './pack';
import type { Hello as Greeting } from './types';

const clockHeader = 'X-Jointwalk-Clock';
const patience = 60_000; // ms until a try counts as unanswered: a batch or a piece of a picture from the edge of the network

/** Until a phone that belongs to nobody looks again for somebody, ms. */
const soon = 30_000;

/** What the link tells whenever something of it moved. */
export interface News {
  hello: Hello | null;
  /** Whether the server answers a phone that belongs to nobody yet; null once it belongs to somebody. */
  stranger: 'reached' | 'offline' | null;
  /** Something new was folded: screens ask again. */
  changed: boolean;
}

/** What the link needs of the world. */
export interface World {
  door: Pick<Door, 'begin' | 'stop' | 'next' | 'took' | 'wait' | 'standing'>;
  tell(news: News): void;
  /** Runs later, once; the last call wins. */
  later(ms: number, run: () => void): void;
}

export class Link {
  private hello: Hello | null = null;
  private stranger: News['stranger'] = null;
  private running: Promise<void> | null = null;
  /** What is being carried. */
  private carrying = new AbortController();
  /** The server said that it takes packed bodies. */
  private packs = false;

  constructor(private readonly world: World) {}

  /** Goes through everything once, after a stop only where a person asked; calls during a turn make one more turn. Never rejects. */
  sync(asked = false): Promise<void> {
    return this.turn(true, asked);
  }

  /** Ends the turn where it is; what is saved is sent still. Resolves once it is over. Never rejects. */
  async stop(): Promise<void> {
    this.world.door.stop(); // first: what is aborted is then no answer that anybody waits for
    this.carrying.abort();
    await this.running;
    this.tell(false);
  }

  /** Sends what waits, no more: after each save. Never rejects. */
  send(): Promise<void> {
    return this.turn(false);
  }

  /** After setup, pairing or leaving: a whole turn that begins now. Never rejects. */
  async anew(): Promise<void> {
    await this.running;
    await this.sync(true);
  }

  private turn(whole: boolean, asked = false): Promise<void> {
    this.world.door.begin(whole, asked);
    this.running ??= this.carry().finally(() => {
      this.running = null;
    });
    return this.running;
  }

  private async carry(): Promise<void> {
    const { door } = this.world;
    try {
      const answered = door.standing().me || (await this.welcome()) ? await this.exchange() : true;
      if (answered && (!this.hello || door.standing().signedOut)) await this.greet();
    } finally {
      this.world.later(door.wait() || soon, () => void this.sync());
      this.tell(false);
    }
  }

  /** Carries what there is to carry; gives whether the last of it was answered by anybody. */
  private async exchange(): Promise<boolean> {
    const { door } = this.world;
    this.stranger = null;
    let answered = true;
    for (let request = door.next(); request; request = door.next()) {
      const { status, body } = await this.carried(request);
      const { changed } = door.took(status, body);
      this.tell(changed);
      answered = status > 0;
    }
    return answered;
  }

  /** Whether the server knows a phone that does not know itself who it belongs to. */
  private async welcome(): Promise<boolean> {
    const hello = await this.greet();
    this.stranger = hello ? 'reached' : 'offline';
    return !!hello?.me;
  }

  /** Asks what this server is; null when nobody of ours answered: what was known stays. */
  private async greet(): Promise<Greeting | null> {
    try {
      const told = (await (await send('/api/hello')).json()) as Greeting;
      const { version, installation, needsSetup, secure, trust } = told;
      if (!installation) return null;
      this.hello = { version, installation, needsSetup, secure, trust };
      return told;
    } catch {
      return null;
    }
  }

  /** Carries one request; status 0 when nobody answered. */
  private async carried({ method, path, type, clock, body }: Carried): Promise<{ status: number; body: Uint8Array }> {
    const headers: Record<string, string> = { 'X-Jointwalk': '1' };
    if (type) headers['Content-Type'] = type;
    if (clock) headers[clockHeader] = clock;
    const less = this.packs ? await packed(body, type) : null;
    if (less) headers['Content-Encoding'] = 'gzip';
    const carrying = (this.carrying = new AbortController());
    const late = setTimeout(() => carrying.abort(), patience);
    try {
      const answer = await fetch(path, {
        method,
        headers,
        body: type ? ((less ?? body) as Uint8Array<ArrayBuffer>) : null,
        credentials: 'same-origin',
        cache: 'no-store',
        signal: carrying.signal,
      });
      this.packs = unpacks(answer) || (this.packs && answer.status !== 415);
      return { status: answer.status, body: new Uint8Array(await answer.arrayBuffer()) };
    } catch {
      return { status: 0, body: new Uint8Array() };
    } finally {
      clearTimeout(late);
    }
  }

  private tell(changed: boolean): void {
    this.world.tell({ hello: this.hello, stranger: this.stranger, changed });
  }
}
