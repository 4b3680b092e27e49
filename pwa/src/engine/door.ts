/** The worker's side of the door: loads the engine and speaks JSON with it. */
import './built/wasm_exec.js';
import wasm from './built/engine.wasm?url';
import { Fault } from './fault';
import type { Slot } from './files';
import type { Lines } from './protocol';
import type { Calls, Me, Standing } from './types';

/** The calls of pwa/core/engine/door.go that the worker makes, with arguments and answers. */
export interface Door {
  ask(question: string, args: unknown): unknown;
  write(args: { drafts: unknown[]; ids: string[]; zone: string }): Calls['kept'];
  keep(note: Calls['note']): void;
  draft(key: string): unknown;
  drop(key: string): void;
  standing(): Standing;
  /** Whether the files still hold what they should; a fault where they do not. */
  check(): void;
  push(): Calls['push'];
  pushed(text: string): Calls['sent'];
  pulls(): Calls['pulls'];
  pulled(site: string, text: string): Calls['pulled'];
  failed(jitter: number): number;
  me(me: Me | null): Standing;
  unsentPictures(): Calls['waiting'];
  export(after: number): Lines;
  sentPicture(hash: string): void;
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
  read(native().open(slots));
  return {
    ask: (question, args) => call('ask', { question, args }),
    write: (args) => call('write', args) as Calls['kept'],
    keep: (note) => void call('keep', note),
    draft: (key) => (call('draft', { key }) as Calls['note']).value,
    drop: (key) => void call('drop', { key }),
    standing: () => call('standing', {}) as Standing,
    check: () => void call('check', {}),
    push: () => call('push', {}) as Calls['push'],
    pushed: (text) => call('pushed', { text }) as Calls['sent'],
    pulls: () => call('pulls', {}) as Calls['pulls'],
    pulled: (site, text) => call('pulled', { site, text }) as Calls['pulled'],
    failed: (jitter) => (call('failed', { jitter }) as Calls['wait']).ms,
    me: (me) => call('me', { me }) as Standing,
    export: (after) => call('export', { after }) as Lines,
    unsentPictures: () => call('unsent', {}) as Calls['waiting'],
    sentPicture: (hash) => void call('sent', { hash, bytes: 0 }),
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
