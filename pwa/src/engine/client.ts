/** What screens use of the engine: one typed door. They never compute and never fetch. */
import { effect, signal } from '@preact/signals';
import { askServer, isDesk, stream } from '../link/desk';
import { clear, clearing, halfCleared, wanted } from './clearing';
import { Drafts } from './drafts';
import { drawn } from './drawn';
import { asFault } from './fault';
import { removePool } from './files';
import { Host } from './host';
import { lastHome } from './last';
import { uuidv7 } from './mint';
import { type Draft, type Message, type Report, stuck, type Written } from './protocol';
import { Tabs } from './tabs';
import { gather, type Progress, type Unsent } from './unsent';
import type { Home, Questions } from './types';
import { keepApp } from './update';

export { clearing, wanted } from './clearing';
export { drawn } from './drawn';
export { yielding } from './finger';
export { Fault } from './fault';
export type { Draft, Hello, Reach, Storage, Written } from './protocol';
export { takeUpdate, update } from './update';
export { type Asked, useAsk } from './useAsk';

/** How this phone stands. `secure` is false where no phone works offline, for want of a trusted https. */
export interface Status extends Report {
  secure: boolean;
  needsSetup: boolean;
  version: string;
  installation: string;
  /** Whether the browser promised not to clear what is kept; null where it does not say. */
  promised: boolean | null;
  /** How often the engine was started anew since the app was opened. */
  restarts: number;
}

/** The revision that this app was built from. */
export const appVersion = APP_VERSION;

const mostTaking = 8_000; // ms from the press until the other tab is said to be silent: its 3 s and a slow start
const patience = 1500; // ms that a desk waits for its own writes to reach the server before it asks

let promised: boolean | null = null;

/** How this phone stands: storage, reach, what is unsent. */
export const status = signal<Status>(stood(stuck('starting'), 0));

/** Moves whenever answers may have changed. */
export const changed = signal(0);

const host = new Host(makeWorker, {
  report: (report) => {
    const held = holds();
    const now = stood(report, host.restarts);
    if (report.storage === 'elsewhere' && tabs.taking) now.problem = 'silent';
    if (JSON.stringify(now) !== JSON.stringify(status.value)) status.value = now;
    if (!held && holds()) opened();
  },
  changed: () => void changed.value++,
});

const tabs = new Tabs(new BroadcastChannel('jointwalk'), {
  holds,
  letGo: () => {
    drafts.flush(); // before the worker is asked to close, so it still keeps them
    void host.letGo();
  },
  leave: () => host.leave(),
});

const drafts = new Drafts((key, value) => host.ask('keep', { key, value }));

/** The files of this phone were opened in this tab. */
function opened(): void {
  tabs.opened();
  if (halfCleared()) void forgetAll().then(() => clearing.value && location.assign('/'));
}

/** Whether the files of this phone are open in this tab. */
function holds(): boolean {
  return status.value.storage === 'kept' || status.value.storage === 'full';
}

function stood(report: Report, restarts: number): Status {
  const { hello, me } = report;
  return {
    ...report,
    secure: globalThis.isSecureContext && 'serviceWorker' in navigator,
    needsSetup: hello?.needsSetup ?? false,
    version: hello?.version ?? '',
    installation: hello?.installation ?? me?.installation ?? '',
    promised,
    restarts,
  };
}

function makeWorker(hear: (message: Message) => void, died: (why: string) => void) {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module', name: 'engine' });
  worker.onmessage = ({ data }: MessageEvent<Message>) => hear(data);
  worker.onerror = (event) => died(event.message || 'the worker did not start');
  return { post: (request: unknown) => worker.postMessage(request), end: () => worker.terminate() };
}

/** The list of fixtures as this device last told it, until the engine answers; null where there is none. */
export const last = signal<Home | null>(null);

const soon = 1000; // ms that the engine waits at most for the last list to be on the screen

/** Shows the last list where the list is asked for, before the engine takes all that the processor gives. */
async function showLast(): Promise<void> {
  if (location.pathname !== '/') return;
  const late = new Promise<void>((go) => setTimeout(go, soon));
  const shown = lastHome(() => navigator.storage.getDirectory()).then((home) => {
    last.value = home;
    return home === null ? undefined : drawn();
  });
  await Promise.race([shown, late]);
}

/** Starts the engine and what triggers sending. Once, by main. */
export function begin(): void {
  void showLast().then(() => {
    host.begin();
    keepApp({ writing, drafting, holds, heldElsewhere: () => tabs.heard() });
    void askPromise();
  });
  tabs.ask();
  addEventListener('pagehide', () => drafts.flush());
  addEventListener('beforeunload', (event) => {
    const { storage, unsent, unsentPictures } = status.value;
    if (storage === 'memory' && unsent + unsentPictures > 0) event.preventDefault(); // it would be gone with the page
  });
  addEventListener('pageshow', ({ persisted }) => persisted && back());
  addEventListener('online', () => void syncNow());
  const follow = stream(listening, () => {
    changed.value++;
    void syncNow();
  });
  document.addEventListener('visibilitychange', () => {
    follow();
    seen();
  });
  effect(() => {
    void status.value;
    follow();
  });
}

/** Whether to hear from the server: only in view, as a browser lends few connections to all tabs together. */
function listening(): boolean {
  return document.visibilityState === 'visible' && status.value.reach === 'reached' && !status.value.signedOut;
}

/** The page came into view or went out of it. */
function seen(): void {
  if (document.visibilityState === 'hidden') drafts.flush();
  else back();
}

/** In view again: whoever held the files may have gone, and ours may have died while the phone slept. */
function back(): void {
  if (status.value.storage === 'elsewhere') {
    host.open();
    tabs.ask();
    return;
  }
  if (holds()) void host.check();
  void syncNow();
}

/** Takes the files over from the tab that holds them; resolves once they are open here or were not to be had. */
export async function takeHere(): Promise<void> {
  tabs.take();
  host.open();
  const opened = host.ask('here', null).catch(() => undefined);
  await Promise.race([opened, new Promise((go) => setTimeout(go, mostTaking))]);
  if (status.value.storage === 'elsewhere') host.leave(); // even the way to the files may hang with the other tab
}

/** Asks the browser to promise not to clear what is kept here. At each start: it may grant later what it refused. */
export async function askPromise(): Promise<void> {
  const storage = navigator.storage as StorageManager | undefined;
  promised = (await storage?.persist?.()) ?? null;
  status.value = { ...status.value, promised };
}

/**
 * Asks a question: on a phone the engine, at a desk the server while it
 * answers. Rejects with a Fault.
 */
export async function ask<Q extends keyof Questions>(
  question: Q,
  args: Questions[Q]['ask'],
): Promise<Questions[Q]['answer']> {
  if (await serverKnows()) {
    try {
      return (await askServer(question, args)) as Questions[Q]['answer'];
    } catch (thrown) {
      const fault = asFault(thrown);
      if (fault.code !== 'offline' && fault.status !== 401) throw fault;
    }
  }
  const answer = (await host.ask('ask', { question, args })) as Questions[Q]['answer'];
  if (question === 'home') last.value = null; // it has told it itself now
  return answer;
}

/** Whether to ask the server: at a desk, reached, and with nothing here that it has not got. */
async function serverKnows(): Promise<boolean> {
  const here = () => status.value.reach === 'reached' && !status.value.signedOut;
  if (!isDesk() || !here()) return false;
  if (status.value.unsent > 0) {
    await Promise.race([syncNow(), new Promise((go) => setTimeout(go, patience))]);
  }
  return here() && status.value.unsent === 0;
}

/**
 * Keeps events, all or none. When it resolves they are saved: flushed and
 * checked. Rejects with a Fault; then nothing was kept.
 */
export function write(what: Draft[]): Promise<Written[]> {
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC';
  return host.ask('write', { drafts: what, ids: what.map(() => uuidv7()), zone });
}

/** Whether something is still on its way into the files; what waits of drafts is handed over at once. */
function writing(): boolean {
  drafts.flush();
  return host.writing();
}

/** Whether something half entered stands open on a screen: then no newer version is taken. */
export function drafting(): boolean {
  return drafts.open.value.size > 0;
}

/** A screen shows a draft that somebody began, or went. */
export function draftShown(key: string, shown: boolean): void {
  if (shown) drafts.begun(key);
  else drafts.left(key);
}

/** Remembers a screen's state under a key; on the phone within half a second. */
export function keepDraft(key: string, value: unknown): void {
  drafts.keep(key, value);
}

/** What was remembered under a key. */
export async function draftOf<T>(key: string): Promise<T | undefined> {
  const waiting = drafts.waiting(key);
  const kept = waiting ?? (await host.ask('draft', { key }));
  return (kept ?? undefined) as T | undefined;
}

/** Forgets what was remembered under a key. */
export async function dropDraft(key: string): Promise<void> {
  drafts.forget(key);
  await host.ask('drop', { key });
}

/**
 * Takes all that was kept off this device, so that who finds it finds nobody's records. Only once everything is sent, and
 * before the app begins anew.
 */
export async function forgetAll(): Promise<void> {
  const { storage, unsent, unsentPictures } = status.value;
  if (storage !== 'kept' || unsent + unsentPictures > 0) return wanted();
  await clear(async () => {
    await host.letGo();
    await removePool(await navigator.storage.getDirectory());
  });
}

/** Keeps something for the device, whoever of those who share it holds it. Resolves once it is kept; rejects with a Fault. */
export async function keepForDevice(key: string, value: unknown): Promise<void> {
  await host.ask('keep', { key: `device:${key}`, value });
}

/** What was kept so. */
export async function ofDevice<T>(key: string): Promise<T | undefined> {
  return ((await host.ask('draft', { key: `device:${key}` })) ?? undefined) as T | undefined;
}

/** From now on somebody else who shares this device holds it: what is recorded is theirs. Rejects with a Fault. */
export async function hold(person: string): Promise<void> {
  drafts.flush(); // they belong to who held it
  await host.ask('hold', { person });
}

/** Keeps a picture's bytes, already re-encoded, until the server has them. */
export function keepPicture(bytes: ArrayBuffer): Promise<{ hash: string; bytes: number }> {
  return host.ask('keepPicture', { bytes });
}

/** The bytes of a picture that is still on this phone, null when it is not. */
export function pictureOf(hash: string): Promise<Uint8Array | null> {
  return host.ask('picture', { hash });
}

/** Everything unsent in one file, made without a network. Rejects with a Fault. */
export function unsentFile(progress: Progress): Promise<Unsent> {
  const source = {
    lines: (after: number) => host.ask('export', { after }),
    pictures: () => host.ask('waiting', null),
    picture: pictureOf,
  };
  return gather(source, new Date().toISOString().slice(0, 10), progress);
}

/** Keeps what the server gave of a fixture's older rounds, all or none. Rejects with a Fault. */
export async function keepOlder(site: string, text: string): Promise<void> {
  await host.ask('older', { site, text });
}

/** Tries to send and fetch now, after a stop only where a person asked; resolves when that try is over. */
export async function syncNow(asked = false): Promise<void> {
  await host.ask('sync', { asked }).catch(() => undefined);
}

/** Stops fetching and sending pictures until a person asks for it or the app starts anew. Nothing is lost: it goes on where it was. */
export async function stopSync(): Promise<void> {
  await host.ask('stop', null).catch(() => undefined);
}

/** After setup, pairing or leaving: asks the server anew who we are. */
export async function meAgain(): Promise<void> {
  await host.ask('meAgain', null);
}

/** How a screen names anything thrown: its code and, where the server said no, the number under which its log has it. */
export function named(thrown: unknown): string {
  const { code, request } = asFault(thrown);
  return request === undefined ? code : `${code} #${request}`;
}

/** The code of anything thrown; what has none is the engine's own. */
export function codeOf(thrown: unknown): string {
  return asFault(thrown).code;
}
