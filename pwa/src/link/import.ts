/** A phone's file of unsent records on its way to the server. */
import { Fault } from '../engine/fault';
import { send } from './http';

/** What the server did with a file. */
export interface Imported {
  applied: number;
  duplicate: number;
  aside: number;
  pictures: number;
}

const slow = 600_000; // ms: pictures of a week

/** Hands a file in, until it is stopped. Faults as send's; what was taken before one is in, and is not doubled by another try. */
export async function importFile(file: Blob, stop?: AbortSignal): Promise<Imported> {
  const answer = await send('/api/import', {
    method: 'POST',
    headers: { 'Content-Type': 'application/x-ndjson' },
    body: file,
    patience: slow,
    ...(stop && { stop }),
  });
  try {
    return (await answer.json()) as Imported;
  } catch {
    throw new Fault(stop?.aborted ? 'stopped' : 'offline');
  }
}
