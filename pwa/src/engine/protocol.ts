/** What page and worker say to each other. Everything crosses as plain data. */
import type { Hello as Greeting } from '../link/types';
import type { Bodies, Draft as AnyDraft, Me, Questions, Standing, Written as Place } from './types';

/** An event that a screen wants kept, its body typed by its kind. */
export type Draft = {
  [K in keyof Bodies]: Omit<AnyDraft, 'kind' | 'body'> & { kind: K; body: Bodies[K] };
}[keyof Bodies];

/**
 * Where a draft was kept. `kept` is false only on a phone that keeps nothing
 * while the server has not answered yet.
 */
export type Written = Place & { kept: boolean };

export type Storage = 'starting' | 'kept' | 'memory' | 'full' | 'elsewhere' | 'broken';
export type Reach = 'unknown' | 'reached' | 'offline';

/** What the server said of itself last; null before it ever answered. */
export type Hello = Pick<Greeting, 'version' | 'installation' | 'needsSetup' | 'secure' | 'trust'>;

/** What an engine tells of itself besides, once it knows it. */
export interface Ahead {
  /** The time of the oldest event not sent yet, by this device's clock; "" when all is sent. */
  oldest: string;
  /** The same of pictures. */
  oldestPicture: string;
  /** This device's clock minus the server's, ms; null before a first answer. */
  clockOffsetMs: number | null;
  /** The log that this device writes now. */
  log: string;
  /** The server's version. */
  server: string;
  /** Which side is too old for the other; "" when none is. */
  tooOld: '' | 'app' | 'server';
  /** Whether this device was shut out. */
  revoked: boolean;
  /** A log of this device that ended unsent: the server holds it up to `upto`, the device once told of `told`. */
  lostLog: { log: string; told: number; upto: number } | null;
}

/** What the worker knows of itself and of the server. */
export interface Report extends Omit<Standing, 'me'>, Partial<Ahead> {
  storage: Storage;
  reach: Reach;
  signedOut: boolean;
  hello: Hello | null;
  me: Me | null;
  /** When all was last sent and fetched, by this device's clock; none since the app was opened. */
  synced?: string;
  /** Why storage is 'full' or 'broken', or why sending fails though reached. */
  problem?: string | undefined;
}

/** A part of the lines not sent yet; `more` says that there are some behind it. */
export interface Lines {
  lines: string;
  next: number;
  more: boolean;
}

/** What the page asks; each name with arguments and answer. */
export interface Requests {
  ask: { args: { question: keyof Questions; args: unknown }; answer: unknown };
  write: { args: { drafts: Draft[]; ids: string[]; zone: string }; answer: Written[] };
  keep: { args: { key: string; value: unknown }; answer: null };
  draft: { args: { key: string }; answer: unknown };
  drop: { args: { key: string }; answer: null };
  keepPicture: { args: { bytes: ArrayBuffer }; answer: { hash: string; bytes: number } };
  picture: { args: { hash: string }; answer: Uint8Array | null };
  /** Lines of events not sent yet, behind an earlier answer's `next`; 0 begins. */
  export: { args: { after: number }; answer: Lines };
  /** The pictures not sent yet. */
  waiting: { args: null; answer: { hash: string; bytes: number }[] };
  sync: { args: null; answer: null };
  meAgain: { args: null; answer: null };
  /** Answered once the files are open. */
  here: { args: null; answer: null };
  /** Whether the files still answer. */
  check: { args: null; answer: null };
  /** Closes the files: another tab wants them. Nothing is answered after it. */
  close: { args: null; answer: null };
  ping: { args: null; answer: null };
}

/** From page to worker. */
export type Request = { [N in keyof Requests]: { id: number; name: N; args: Requests[N]['args'] } }[keyof Requests];

/** From worker to page: an answer, a fault, or news. */
export type Message =
  | { id: number; answer: unknown }
  | { id: number; fault: { code: string; field?: string | undefined } }
  | { report: Report }
  | { changed: true }
  | { dead: string };

/** What is known while the files are not open, and why. */
export function stuck(storage: Storage, problem?: string): Report {
  return {
    storage,
    problem,
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
