/**
 * The engine's worker: opens the files, loads the engine, answers the page and
 * runs the link; or, where another tab holds the files, asks that tab.
 */
import { Link } from '../link/link';
import { load } from './door';
import { asFault, Fault } from './fault';
import { memoryPool, openPool, type Slot } from './files';
import { Guest, Holder, holderThere } from './neighbours';
import type { Message, Report, Request, Storage } from './protocol';
import { Service } from './service';

/** Who answers requests. */
interface Answering {
  take(request: Request, reply: (message: Message) => void): void;
}

const owed = 10_000; // ms that another tab may owe an answer before we say so
const lock = 'jointwalk-engine';

const channel = new BroadcastChannel('jointwalk');
let holder: Holder | undefined;

const ready = start();
ready.catch(() => undefined);

/** To our page, and to other tabs where we hold the files. */
function say(message: Message): void {
  postMessage(message);
  holder?.news(message);
}

async function start(): Promise<Answering> {
  try {
    const pool = openPool(() => navigator.storage.getDirectory());
    const found = await Promise.race([pool, guest()]);
    if (!(found instanceof Guest)) return await serving(found);
    pool.then(giveBack, () => undefined);
    return asking(found);
  } catch (thrown) {
    const fault = asFault(thrown);
    say({ report: stuck(fault.code === 'elsewhere' ? 'elsewhere' : 'broken', fault.code) });
    throw fault;
  }
}

/** Here are the files: the engine runs here, for all tabs. */
async function serving(slots: Slot[] | null): Promise<Answering> {
  const open = await load((why) => postMessage({ dead: why }));
  const service = new Service(open(slots ?? memoryPool()), slots ? 'kept' : 'memory', say, later);
  if (slots) {
    holder = new Holder(channel, (request, reply) => service.take(request, reply));
    void navigator.locks.request(lock, () => new Promise(() => undefined));
  }
  service.begin(new Link(service.world()));
  return service;
}

/** Files that came too late: another tab has them already, or will. */
function giveBack(slots: Slot[] | null): void {
  for (const { handle } of slots ?? []) handle?.close();
}

async function guest(): Promise<Guest> {
  await holderThere(channel);
  return new Guest(channel, crypto.randomUUID(), (message) => postMessage(message));
}

/** Another tab has the files: it is asked, until it goes. */
function asking(other: Guest): Answering {
  void navigator.locks.request(lock, () => postMessage({ moved: true }));
  setInterval(() => {
    if (other.silence() > owed) postMessage({ report: stuck('elsewhere', 'elsewhere') });
  }, owed);
  return { take: (request) => other.ask(request) };
}

let timer: ReturnType<typeof setTimeout> | undefined;

function later(ms: number, run: () => void): void {
  clearTimeout(timer);
  timer = setTimeout(run, ms);
}

function stuck(storage: Storage, problem: string): Report {
  const nothing = { unsent: 0, unsentPictures: 0, asides: 0, damage: 0, lost: 0, me: null };
  return { ...nothing, storage, problem, reach: 'unknown', signedOut: false, hello: null };
}

onmessage = async ({ data }: MessageEvent<Request>) => {
  const reply = (message: Message) => postMessage(message);
  if (data.name === 'ping') return reply({ id: data.id, answer: null });
  try {
    (await ready).take(data, reply);
  } catch (thrown) {
    const { code, field } = asFault(thrown);
    reply({ id: data.id, fault: { code, field } });
  }
};

addEventListener('unhandledrejection', (event) => {
  if (event.reason instanceof Fault) event.preventDefault();
});
