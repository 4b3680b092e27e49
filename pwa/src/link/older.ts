/** The rounds of a fixture that a phone does not hold: asked for by a person, not part of an exchange. */
import { Fault } from '../engine/fault';
import type { Progress } from '../engine/unsent';
import { send } from './http';

const slow = 600_000; // ms: years of rounds from the edge of the network; a person stops it before
const newline = 10;

/** What the server knows of a fixture, for the engine to keep, told by events. Faults as send's. */
export async function olderOf(fixture: string, { told, stop }: Progress): Promise<string> {
  const answer = await send(`/api/older?fixture=${encodeURIComponent(fixture)}`, { patience: slow, stop });
  const words = new TextDecoder();
  let text = '';
  let lines = 0;
  try {
    for await (const part of partsOf(answer)) {
      text += words.decode(part, { stream: true });
      for (const byte of part) if (byte === newline) lines++;
      told(Math.floor(lines / 2)); // a line of its receipt follows that of an event
    }
  } catch {
    throw new Fault(stop.aborted ? 'stopped' : 'offline');
  }
  return text + words.decode();
}

async function* partsOf(answer: Response): AsyncGenerator<Uint8Array> {
  const reader = answer.body?.getReader();
  for (let got = await reader?.read(); got && !got.done; got = await reader?.read()) yield got.value;
}
