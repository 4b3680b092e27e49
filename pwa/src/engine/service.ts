/** What the worker that holds the files does with requests: through the door, and on to the link. */
import type { Link, News, World } from '../link/link';
import type { Door } from './door';
import { asFault, Fault } from './fault';
import type { Message, Reach, Report, Request, Requests, Storage } from './protocol';
import type { Home, Standing } from './types';

const drawn = 100; // ms that the screen has to say that it was saved, before others ask again
const saidLate = 10_000; // ms that a write waits for the server where nothing is kept here

type Answers = { [N in keyof Requests]: (args: Requests[N]['args']) => unknown };

/** What of a report does not come from the engine. */
type Own = Pick<Report, 'storage' | 'hello'> & Pick<News, 'stranger'>;

export class Service {
  private own: Own;
  private link: Link | undefined;
  private closed = false;
  private whose = '';
  private told = ''; // the last report

  constructor(
    private readonly door: Door,
    storage: Storage,
    private readonly say: (message: Message) => void,
    private readonly later: World['later'],
    private readonly close: () => void = () => undefined,
    private readonly keepHome: (home: Home | null) => void = () => undefined,
  ) {
    this.own = { storage, hello: null, stranger: null };
  }

  /** What the link needs of the worker. */
  world(): World {
    const { door, later } = this;
    return { door, later, tell: (news) => this.hear(news) };
  }

  begin(link: Link): void {
    this.link = link;
    this.tell({});
    void link.sync();
  }

  /** Answers a request. Never throws: a fault is an answer. */
  async take(request: Request, reply: (message: Message) => void): Promise<void> {
    const { id, name, args } = request;
    try {
      if (this.closed) throw new Fault('elsewhere');
      const answer = this.answers[name] as (args: unknown) => unknown;
      reply({ id, answer: (await answer(args)) ?? null });
    } catch (thrown) {
      const { code, field, request } = asFault(thrown);
      reply({ id, fault: { code, field, request } });
    }
  }

  private readonly answers: Answers = {
    ask: ({ question, args }) => this.ask(question, args),
    calc: (args) => this.door.calc(args),
    write: (args) => this.write(args),
    keep: (note) => this.door.keep(note),
    draft: ({ key }) => this.door.draft(key),
    drop: ({ key }) => this.door.drop(key),
    hold: ({ person }) => this.hold(person),
    keepPicture: ({ bytes }) => this.keepPicture(bytes),
    picture: ({ hash }) => this.door.picture(hash),
    export: ({ after }) => this.door.export(after),
    waiting: () => this.door.unsentPictures().pictures,
    older: (args) => this.older(args),
    sync: ({ asked }) => this.link?.sync(asked),
    stop: () => this.link?.stop(),
    meAgain: () => this.link?.anew(),
    here: () => null,
    check: () => this.check(),
    close: () => {
      this.closed = true;
      this.close();
    },
    ping: () => null,
  };

  private ask(question: Requests['ask']['args']['question'], args: unknown): unknown {
    const answer = this.door.ask(question, args);
    if (question === 'home') this.keepHome(answer as Home);
    return answer;
  }

  private older({ site, text }: Requests['older']['args']): void {
    const { changed } = this.door.older(site, text);
    if (changed) this.say({ changed: true });
  }

  /** Faults where the files no longer answer as they should. */
  private check(): void {
    if (this.own.storage !== 'memory') this.door.check();
  }

  private tell(more: Partial<Own>): void {
    const { storage, hello, stranger } = { ...this.own, ...more };
    this.own = { storage, hello, stranger };
    const standing = this.door.standing();
    const report = reported(standing, this.own);
    const text = JSON.stringify(report);
    if (text !== this.told) this.say({ report });
    this.told = text;
    this.met(standing.me);
  }

  /** Whose this device is: with another person, or other sites, the list that is kept is not theirs to see. */
  private met(me: Standing['me']): void {
    const whose = me ? [me.person.id, ...me.sites.map(({ id }) => id)].join() : '';
    if (this.whose !== '' && whose !== this.whose) this.keepHome(null);
    this.whose = whose;
  }

  /** What the link tells. */
  private hear({ changed, ...news }: News): void {
    this.tell(news);
    if (changed) this.say({ changed: true });
  }

  /** Keeps drafts: when this returns after a flush they are saved. Who waits for that hears it first, then what follows from it. */
  private async write(args: Requests['write']['args']): Promise<Requests['write']['answer']> {
    const written = this.guarded(() => this.door.write(args).written);
    const sent = new Promise<void>((done) => setTimeout(() => done(this.wrote()), drawn));
    const kept = this.own.storage !== 'memory' || (await this.soon(sent));
    return written.map((place) => ({ ...place, kept }));
  }

  private async wrote(): Promise<void> {
    if (this.closed) return; // the files are another tab's now: it sends
    this.say({ changed: true });
    await this.link?.send();
  }

  private hold(person: string): void {
    this.guarded(() => this.door.hold(person));
    this.say({ changed: true });
  }

  private keepPicture(bytes: ArrayBuffer): Requests['keepPicture']['answer'] {
    const note = this.guarded(() => this.door.keepPicture(new Uint8Array(bytes)));
    void this.link?.sync();
    return note;
  }

  /** Runs what writes to the files, and says when they are full, or no longer are. */
  private guarded<T>(write: () => T): T {
    try {
      const result = write();
      this.tell(this.own.storage === 'full' ? { storage: 'kept' } : {});
      return result;
    } catch (thrown) {
      if (asFault(thrown).code === 'storage-full') this.tell({ storage: 'full' });
      throw thrown;
    }
  }

  /** Whether the server has everything before the time is up. */
  private async soon(sent: Promise<void>): Promise<boolean> {
    await Promise.race([sent, new Promise((go) => setTimeout(go, saidLate))]);
    return this.door.standing().unsent === 0;
  }
}

/** A problem of the storage outweighs one of the way. A phone that belongs to nobody is signed out. */
function reported(standing: Standing, { storage, hello, stranger }: Own): Report {
  const report: Report = { ...standing, reach: standing.reach as Reach, storage, hello };
  if (storage === 'full') report.problem = 'storage-full';
  return stranger ? { ...report, reach: stranger, signedOut: stranger === 'reached' } : report;
}
