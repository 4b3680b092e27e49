/**
 * The way between this phone and the server: who am I, push, pull, pictures,
 * one turn after the other, in the worker. What a turn means is the engine's
 * business; here is only when, and the network.
 */
import type { Door } from '../engine/door';
import { asFault, Fault } from '../engine/fault';
import type { Hello, Reach } from '../engine/protocol';
import { send } from './http';
import { putPicture } from './pictures';
import type { Hello as Greeting } from './types';

const clockHeader = 'X-Jointwalk-Clock';

/** What the link tells whenever something of it moved. */
export interface News {
  reach: Reach;
  signedOut: boolean;
  hello: Hello | null;
  problem: string | undefined;
  /** Something new was folded: screens ask again. */
  changed: boolean;
  /** A whole turn went through: all sent, all fetched. */
  through?: boolean;
}

/** What the link needs of the world. */
export interface World {
  door: Pick<Door, 'push' | 'pushed' | 'pulls' | 'pulled' | 'failed' | 'me' | 'unsentPictures' | 'sentPicture' | 'picture'>;
  tell(news: News): void;
  random(): number;
  /** Runs later, once; the last call wins. */
  later(ms: number, run: () => void): void;
}

/** A turn goes through everything, or only sends what was just saved. */
type Turn = 'all' | 'push';

/** Between turns when all is well, ms. */
const idle = 60_000;

/** Slices of one site before another turn is given to what waits. */
const mostSlices = 200;

export class Link {
  private reach: Reach = 'unknown';
  private signedOut = false;
  private hello: Hello | null = null;
  private turn: Promise<void> | null = null;
  private again: Turn | null = null;
  private met = false; // this server has told who we are

  constructor(private readonly world: World) {}

  /** Goes through everything once; calls during a turn make one more turn. Never rejects. */
  sync(): Promise<void> {
    return this.take('all');
  }

  /** Sends what waits, no more: after each save. Never rejects. */
  send(): Promise<void> {
    return this.take('push');
  }

  /** After setup, pairing or leaving: a whole turn that begins now. Never rejects. */
  async anew(): Promise<void> {
    await this.turn;
    await this.sync();
  }

  private take(kind: Turn): Promise<void> {
    if (this.turn) {
      this.again = this.again === 'all' ? 'all' : kind;
      return this.turn;
    }
    this.turn = this.turns(kind).finally(() => {
      this.turn = null;
    });
    return this.turn;
  }

  private async turns(first: Turn): Promise<void> {
    let kind: Turn | null = first;
    while (kind) {
      this.again = null;
      const fault = await this.once(kind);
      this.world.later(fault ? this.world.door.failed(this.world.random()) : idle, () => void this.sync());
      if (fault) return;
      kind = this.again;
    }
  }

  /** One turn; the fault that ended it early, or null. */
  private async once(kind: Turn): Promise<Fault | null> {
    try {
      if (kind === 'all' || !this.met) await this.introduce();
      if (this.signedOut) return null;
      await this.push();
      if (kind === 'all') {
        await this.pull();
        await this.pictures();
      }
      this.tell({ through: kind === 'all' });
      return null;
    } catch (thrown) {
      return this.failed(asFault(thrown));
    }
  }

  private failed(fault: Fault): Fault | null {
    this.met = false;
    if (fault.code === 'offline') this.reach = 'offline';
    if (fault.status === 401) this.signedOut = true;
    this.tell({ problem: fault.code === 'offline' || fault.status === 401 ? undefined : fault.code });
    return fault.status === 401 ? null : fault;
  }

  private tell(more: Partial<Pick<News, 'problem' | 'changed' | 'through'>>): void {
    const { reach, signedOut, hello } = this;
    this.world.tell({ reach, signedOut, hello, problem: more.problem, changed: more.changed ?? false, through: more.through ?? false });
  }

  /** Asks who answers, and who we are to them. */
  private async introduce(): Promise<void> {
    const hello = await greeting(await send('/api/hello'));
    const back = this.reach !== 'reached';
    this.reach = 'reached';
    const { version, installation, needsSetup, secure, trust } = hello;
    this.hello = { version, installation, needsSetup, secure, trust };
    this.signedOut = hello.me === null;
    if (hello.me) this.world.door.me(hello.me);
    this.met = true;
    this.tell({ changed: back });
  }

  private async push(): Promise<void> {
    for (;;) {
      const batch = this.world.door.push();
      if (batch.body === '') return;
      const answer = await send('/api/push', {
        method: 'POST',
        headers: { 'Content-Type': 'application/x-ndjson', [clockHeader]: batch.clock },
        body: batch.body,
      });
      this.world.door.pushed(await answer.text());
      this.tell({});
    }
  }

  private async pull(): Promise<void> {
    for (const { site, cursor } of this.world.door.pulls().pulls) {
      await this.pullSite(site, cursor);
    }
  }

  private async pullSite(site: string, from: string): Promise<void> {
    let cursor = from;
    for (let n = 0; n < mostSlices; n++) {
      const answer = await send(`/api/pull?site=${encodeURIComponent(site)}&cursor=${encodeURIComponent(cursor)}`);
      const slice = this.world.door.pulled(site, await answer.text());
      if (slice.added > 0) this.tell({ changed: true });
      if (!slice.more) return;
      cursor = this.world.door.pulls().pulls.find((pull) => pull.site === site)?.cursor ?? '';
    }
    this.again = 'all';
  }

  /** Pictures one by one. One that the server refuses holds back no other. */
  private async pictures(): Promise<void> {
    let refused: Fault | undefined;
    for (const { hash } of this.world.door.unsentPictures().pictures) {
      const bytes = this.world.door.picture(hash);
      if (!bytes) continue;
      try {
        await putPicture(hash, bytes);
        this.world.door.sentPicture(hash);
        this.tell({});
      } catch (thrown) {
        refused = refusal(asFault(thrown));
      }
    }
    if (refused) throw refused;
  }
}

/** What our own endpoint says. Anything else that answers, such as a portal's page, is not the server. */
async function greeting(answer: Response): Promise<Greeting> {
  const told: unknown = await answer.json().catch(() => null);
  if (typeof told === 'object' && told !== null && 'installation' in told) return told as Greeting;
  throw new Fault('offline');
}

/** A fault of this one request alone; one of the way or of the session is thrown. */
function refusal(fault: Fault): Fault {
  if (fault.status !== undefined && fault.status >= 400 && fault.status < 500 && fault.status !== 401) return fault;
  throw fault;
}
