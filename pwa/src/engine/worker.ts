/**
 * The engine's worker: opens the files, loads the engine, answers the page and
 * runs the link. Where another tab holds the files it says so and is ended.
 */
import { Link } from '../link/link';
import { type Door, load } from './door';
import { asFault, Fault } from './fault';
import { memoryPool, openPool, type Slot } from './files';
import { LastHome } from './last';
import { type Message, type Request, stuck } from './protocol';
import { Service } from './service';

postMessage({ up: true } satisfies Message);
const ready = start();
ready.catch(() => undefined);

function say(message: Message): void {
  postMessage(message);
}

function root(): Promise<FileSystemDirectoryHandle> {
  return navigator.storage.getDirectory();
}

async function start(): Promise<Service> {
  const engine = load((why) => say({ dead: why })); // while the files are opened
  engine.catch(() => undefined);
  try {
    return serving(await openPool(root), await engine);
  } catch (thrown) {
    const fault = asFault(thrown);
    say({ report: stuck(fault.code === 'elsewhere' ? 'elsewhere' : 'broken', fault.code) });
    throw fault;
  }
}

/** Here are the files, or none can be had. */
function serving(slots: Slot[] | null, open: (slots: Slot[]) => Door): Service {
  const close = () => slots?.forEach(({ handle }) => handle?.close());
  const last = new LastHome(root);
  const service = new Service(open(slots ?? memoryPool()), slots ? 'kept' : 'memory', say, later, close, (home) => void last.keep(home));
  service.begin(new Link(service.world()));
  return service;
}

let timer: ReturnType<typeof setTimeout> | undefined;

function later(ms: number, run: () => void): void {
  clearTimeout(timer);
  timer = setTimeout(run, ms);
}

onmessage = async ({ data }: MessageEvent<Request>) => {
  if (data.name === 'ping') return say({ id: data.id, answer: null });
  try {
    await (await ready).take(data, say);
  } catch (thrown) {
    const { code, field, request } = asFault(thrown);
    say({ id: data.id, fault: { code, field, request } });
  }
};

addEventListener('unhandledrejection', (event) => {
  if (event.reason instanceof Fault) event.preventDefault();
});
