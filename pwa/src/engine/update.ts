/** The app kept for offline, and a newer one that waits until the person wants it. */
import { signal } from '@preact/signals';

/** Whether a newer version waits. */
export const update = signal(false);

const poll = 50; // ms between looks whether something is still being written
const after = 10_000; // ms that a tab without the records waits at most for the one with them to open them again first

/** What loading anew depends on. */
export interface Work {
  /** Whether something is being written. */
  writing(): boolean;
  /** Whether something half entered stands open on a screen. */
  drafting(): boolean;
  /** Whether this tab has the records. */
  holds(): boolean;
  /** Resolves once another tab says that it has them. */
  heldElsewhere(): Promise<void>;
}

let registered: ServiceWorkerRegistration | undefined;
let work: Work | undefined;

/**
 * Registers the service worker. One
 * worker serves all tabs: when a newer one takes over, in whichever tab that was
 * asked for, each tab loads anew, as its own parts are no longer kept.
 */
export function keepApp(here: Work): void {
  const workers = navigator.serviceWorker as ServiceWorkerContainer | undefined;
  if (!workers) return;
  work = here;
  workers.addEventListener('controllerchange', () => void anew());
  workers.register('/sw.js').then(watch, () => undefined); // why it was refused is told by Connection
}

function watch(registration: ServiceWorkerRegistration): void {
  registered = registration;
  const look = () => {
    update.value = registration.waiting !== null && registration.active !== null;
  };
  registration.addEventListener('updatefound', () => registration.installing?.addEventListener('statechange', look));
  look();
}

/** Takes the newer version, once nothing is being written; every tab loads anew. Never while something half entered stands open. */
export async function takeUpdate(): Promise<void> {
  if (work?.drafting()) return;
  await written();
  const waiting = registered?.waiting;
  if (!waiting) return location.reload(); // another tab took it meanwhile
  waiting.addEventListener('statechange', () => void (waiting.state === 'activated' && anew()));
  waiting.postMessage({ type: 'SKIP_WAITING' });
}

async function anew(): Promise<void> {
  if (!work?.holds()) await Promise.race([work?.heldElsewhere(), pause(after)]);
  while (work?.drafting()) await pause(poll); // another tab asked for it: this one loads anew once its screen was left
  await written();
  location.reload();
}

async function written(): Promise<void> {
  while (work?.writing()) await pause(poll);
}

function pause(ms: number): Promise<void> {
  return new Promise((go) => setTimeout(go, ms));
}
