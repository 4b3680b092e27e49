/** The engine's worker: opens the files, loads the engine, answers the page, runs the link. */
import { Link, type News } from '../link/link';
import { type Door, load } from './door';
import { asFault, Fault } from './fault';
import { memoryPool, openPool } from './files';
import type { Message, Report, Request, Requests, Storage } from './protocol';

const saidLate = 10_000; // ms that a write waits for the server where nothing is kept here

const nothing = { unsent: 0, unsentPictures: 0, asides: 0, damage: 0, lost: 0, me: null };
let report: Report = { ...nothing, storage: 'starting', reach: 'unknown', signedOut: false, hello: null };
let timer: ReturnType<typeof setTimeout> | undefined;

const ready = start();
ready.catch(() => undefined);

function say(message: Message): void {
  postMessage(message);
}

function tell(more: Partial<Report>): void {
  report = { ...report, ...more };
  say({ report });
}

async function start(): Promise<{ door: Door; link: Link }> {
  try {
    const [slots, open] = await Promise.all([
      openPool(() => navigator.storage.getDirectory()),
      load((why) => say({ dead: why })),
    ]);
    const door = open(slots ?? memoryPool());
    tell({ ...door.standing(), storage: slots ? 'kept' : 'memory' });
    say({ changed: true });
    const link = new Link({ door, tell: (news) => hear(door, news), random: Math.random, later });
    void link.sync();
    return { door, link };
  } catch (thrown) {
    const fault = asFault(thrown);
    const storage: Storage = fault.code === 'elsewhere' ? 'elsewhere' : 'broken';
    tell({ storage, problem: fault.code });
    throw fault;
  }
}

function later(ms: number, run: () => void): void {
  clearTimeout(timer);
  timer = setTimeout(run, ms);
}

/** What the link tells. A problem of the storage outweighs one of the way. */
function hear(door: Door, { changed, problem, ...news }: News): void {
  const told = report.storage === 'full' ? report.problem : problem;
  tell({ ...news, ...door.standing(), problem: told });
  if (changed) say({ changed: true });
}

type Answers = { [N in keyof Requests]: (args: Requests[N]['args'], door: Door, link: Link) => unknown };

const answers: Answers = {
  ask: ({ question, args }, door) => door.ask(question, args),
  write,
  keep: ({ key, value }, door) => door.keep({ key, value }),
  draft: ({ key }, door) => door.draft(key),
  drop: ({ key }, door) => door.drop(key),
  keepPicture: ({ bytes }, door) => {
    const note = door.keepPicture(new Uint8Array(bytes));
    tell(door.standing());
    return note;
  },
  picture: ({ hash }, door) => door.picture(hash),
  sync: (_, __, link) => link.sync(),
  meAgain: (_, __, link) => link.sync().then(() => link.sync()),
  ping: () => null,
};

/** Keeps drafts: when this returns after a flush they are saved. */
async function write(args: Requests['write']['args'], door: Door, link: Link): Promise<unknown> {
  try {
    const { written } = door.write(args);
    tell({ ...door.standing(), ...(report.storage === 'full' ? { storage: 'kept', problem: undefined } : {}) });
    say({ changed: true });
    const sent = link.sync();
    const kept = report.storage !== 'memory' || (await soon(sent, door));
    return written.map((place) => ({ ...place, kept }));
  } catch (thrown) {
    if (asFault(thrown).code === 'storage-full') tell({ storage: 'full', problem: 'storage-full' });
    throw thrown;
  }
}

/** Whether the server has everything before the time is up. */
async function soon(sent: Promise<void>, door: Door): Promise<boolean> {
  await Promise.race([sent, new Promise((go) => setTimeout(go, saidLate))]);
  return door.standing().unsent === 0;
}

onmessage = async ({ data }: MessageEvent<Request>) => {
  const { id, name, args } = data;
  try {
    if (name === 'ping') return say({ id, answer: null });
    const { door, link } = await ready;
    const answer = answers[name] as (args: unknown, door: Door, link: Link) => unknown;
    say({ id, answer: (await answer(args, door, link)) ?? null });
  } catch (thrown) {
    const { code, field } = asFault(thrown);
    say({ id, fault: { code, field } });
  }
};

addEventListener('unhandledrejection', (event) => {
  if (event.reason instanceof Fault) event.preventDefault();
});
