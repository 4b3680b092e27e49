/** What page and worker say to each other. Everything crosses as plain data. */
import type { Hello as Greeting } from '../link/types';
import type { Bodies, Calls, Draft as AnyDraft, Me, Questions, Standing, Written as Place } from './types';

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

/** What the worker knows of itself and of the server. Its `problem` says also why storage is 'full' or 'broken'. */
export interface Report extends Omit<Standing, 'me' | 'reach'> {
  storage: Storage;
  reach: Reach;
  hello: Hello | null;
  me: Me | null;
}

/** A part of the lines not sent yet; `more` says that there are some behind it. */
export type Lines = Calls['exported'];

/** What the page asks; each name with arguments and answer. */
export interface Requests {
  ask: { args: { question: keyof Questions; args: unknown }; answer: unknown };
  /** A calculation by name, with its arguments in SI. */
  calc: { args: Calls['calculate']; answer: unknown };
  write: { args: { drafts: Draft[]; ids: string[]; zone: string }; answer: Written[] };
  keep: { args: { key: string; value: unknown }; answer: null };
  draft: { args: { key: string }; answer: unknown };
  drop: { args: { key: string }; answer: null };
  /** Lets another of those who share this device hold it. */
  hold: { args: { person: string }; answer: null };
  keepPicture: { args: { bytes: ArrayBuffer }; answer: { hash: string; bytes: number } };
  picture: { args: { hash: string }; answer: Uint8Array | null };
  /** Lines of events not sent yet, behind an earlier answer's `next`; 0 begins. */
  export: { args: { after: number }; answer: Lines };
  /** The pictures not sent yet. */
  waiting: { args: null; answer: { hash: string; bytes: number }[] };
  /** Keeps what the server gave of a fixture's older rounds. */
  older: { args: { site: string; text: string }; answer: null };
  /** A whole turn of sending and fetching; one that a person asked for goes on after a stop. */
  sync: { args: { asked: boolean }; answer: null };
  /** Ends the turn under way, and pauses. */
  stop: { args: null; answer: null };
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

/** From worker to page: that its script runs, an answer, a fault, or news. */
export type Message =
  | { up: true }
  | { id: number; answer: unknown }
  | { id: number; fault: { code: string; field?: string | undefined; request?: string | undefined } }
  | { report: Report }
  | { changed: true }
  | { dead: string };

/** What is known while the files are not open, and why. */
export function stuck(storage: Storage, problem?: string): Report {
  return {
    storage,
    ...(problem && { problem }),
    reach: 'unknown',
    signedOut: false,
    revoked: false,
    hello: null,
    me: null,
    unsent: 0,
    oldest: '',
    unsentPictures: 0,
    oldestPicture: '',
    asides: 0,
    damage: 0,
    lost: 0,
    log: '',
    tooOld: '',
    server: '',
    clockOffsetMs: null,
    lostLog: null,
  };
}
