/**
 * Everything that was not sent, in one file: NDJSON of a first line that says
 * what it is, the lines of the events as they were hashed, and a line a picture.
 * It is made without a network; a server takes it in, once however often.
 */
import { Fault } from './fault';
import type { Lines } from './protocol';

/** Where the file's content comes from. */
export interface Source {
  lines(after: number): Promise<Lines>;
  pictures(): Promise<{ hash: string }[]>;
  picture(hash: string): Promise<Uint8Array | null>;
}

/** The file, and how much is in it. */
export interface Unsent {
  file: File;
  events: number;
  pictures: number;
}

/** How a file is being written: how much is in it so far, and whether to go on. */
export interface Progress {
  told(n: number): void;
  stop: AbortSignal;
}

const stretch = 3 * 8192; // bytes: whole groups of base64, few enough for one call

/** Gathers the file; `day` goes into its name. Rejects with the engine's Fault, and with 'stopped' when it was. */
export async function gather(source: Source, day: string, progress?: Progress): Promise<Unsent> {
  const parts = [`${JSON.stringify({ jointwalk: 'unsent', v: 1 })}\n`];
  const step = () => {
    if (progress?.stop.aborted) throw new Fault('stopped');
    progress?.told(parts.length - 1);
  };
  const events = await addEvents(source, parts, step);
  const pictures = await addPictures(source, parts, step);
  const file = new File(parts, `jointwalk-unsent-${day}.ndjson`, { type: 'application/x-ndjson' });
  return { file, events, pictures };
}

async function addEvents(source: Source, parts: string[], step: () => void): Promise<number> {
  let count = 0;
  for (let after = 0, more = true; more; ) {
    const got = await source.lines(after);
    const lines = got.lines.split('\n').filter((line) => line !== '');
    parts.push(...lines.map((line) => `${line}\n`));
    count += lines.length;
    after = got.next;
    more = got.more;
    step();
  }
  return count;
}

async function addPictures(source: Source, parts: string[], step: () => void): Promise<number> {
  let count = 0;
  for (const { hash } of await source.pictures()) {
    const bytes = await source.picture(hash);
    if (bytes === null) continue;
    parts.push(`${JSON.stringify({ picture: hash, size: bytes.length, data: base64(bytes) })}\n`);
    count++;
    step();
  }
  return count;
}

/** Bytes as base64, with the padding of RFC 4648. */
export function base64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += stretch) {
    text += btoa(String.fromCharCode(...bytes.subarray(at, at + stretch)));
  }
  return text;
}
