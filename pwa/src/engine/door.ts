/** The worker's side of the door: loads the engine and speaks JSON with it. */
import './built/wasm_exec.js';
import wasm from './built/engine.wasm?url';
import { Fault } from './fault';
import type { Slot } from './files';
import type { Calls, Standing } from './types';

/** A request on its way to the server; no type means no body. */
export interface Carried {
  method: string;
  path: string;
  type: string;
  clock: string;
  body: Uint8Array;
}

/** The calls of pwa/core/engine/door.go that the worker makes, with arguments and answers. */
export interface Door {
  ask(question: string, args: unknown): unknown;
  /** A calculation of the table in calc/call; faults are told with the field. */
  calc(args: Calls['calculate']): unknown;
  write(args: { drafts: unknown[]; ids: string[]; zone: string }): Calls['kept'];
  keep(note: Calls['note']): void;
  draft(key: string): unknown;
  drop(key: string): void;
  /** Lets another of those who share this device hold it. */
  hold(person: string): void;
  standing(): Standing;
  /** Begins a turn; `resume` goes on after a stop. */
  begin(whole: boolean, resume?: boolean): void;
  /** Ends the turn under way: nothing more is fetched, and no picture sent, until one resumes. */
  stop(): void;
  /** What to carry to the server; null when the turn is over. */
  next(): Carried | null;
  took(status: number, body: Uint8Array): Calls['taken'];
  /** ms until the next turn should begin by itself. */
  wait(): number;
  /** Whether the files still answer; rejects with a Fault. */
  check(): void;
  /** A part of the lines not sent yet. */
  export(after: number): Calls['exported'];
  /** Keeps what the server gave of a fixture's older rounds. */
  older(site: string, text: string): Calls['taken'];
  unsentPictures(): Calls['waiting'];
  keepPicture(bytes: Uint8Array): Calls['pictureNote'];
  picture(hash: string): Uint8Array | null;
}

/** Loads the engine. `died` is called when it stops, by a panic or otherwise. */
export async function load(died: (why: string) => void): Promise<(slots: Slot[]) => Door> {
  const go = new Go();
  go.exit = (code) => died(`exit ${code}`);
  const { instance } = await instantiate(go.importObject);
  go.run(instance).then(
    () => died('ended'),
    (thrown) => died(String(thrown)),
  );
  return opened;
}

async function instantiate(imports: WebAssembly.Imports): Promise<WebAssembly.WebAssemblyInstantiatedSource> {
  const answer = await fetch(wasm);
  if (!answer.ok) throw new Fault('no-engine', String(answer.status));
  return WebAssembly.instantiate(await answer.arrayBuffer(), imports);
}

function native(): NonNullable<typeof jointwalk> {
  if (!globalThis.jointwalk) throw new Fault('no-engine');
  return globalThis.jointwalk;
}

function opened(slots: Slot[]): Door {
  read(native().open(slots, APP_VERSION));
  return {
    ask: (question, args) => call('ask', { question, args }),
    calc: (args) => call('calc', args),
    write: (args) => call('write', args) as Calls['kept'],
    keep: (note) => void call('keep', note),
    draft: (key) => (call('draft', { key }) as Calls['note']).value,
    drop: (key) => void call('drop', { key }),
    hold: (person) => void call('hold', { person }),
    standing: () => call('standing', {}) as Standing,
    begin: (whole, resume = false) => void call('begin', { whole, resume }),
    stop: () => void call('stop', {}),
    next: () => native().next(),
    took: (status, body) => read(native().took(status, body)) as Calls['taken'],
    wait: () => (call('wait', {}) as Calls['wait']).ms,
    check: () => void call('check', {}),
    export: (after) => call('export', { after }) as Calls['exported'],
    older: (site, text) => call('older', { site, text }) as Calls['taken'],
    unsentPictures: () => call('unsent', {}) as Calls['waiting'],
    keepPicture: (bytes) => read(native().keepPicture(bytes)) as Calls['pictureNote'],
    picture: (hash) => native().picture(hash),
  };
}

function call(name: string, args: unknown): unknown {
  return read(native().call(name, JSON.stringify(args)));
}

/** The answer in a reply of the engine. */
export function read(reply: string): unknown {
  const told = JSON.parse(reply) as { ok?: unknown; fault?: { code: string; field?: string } };
  if (told.fault) throw new Fault(told.fault.code, told.fault.field);
  return told.ok;
}
